"""Which faults can a board's practice units have?

One YAML file a board, in `units/`, read like a sequence file: plain data with a place for every entry, so that a slip
of whoever wrote it is shown where it stands. An effect is written as the thing it shows at and one word for what it
does there:

    - {on: a08, ripple: 142 mVpp}
    - {on: fuel (M1), offset: -9 %, nth: 3, warm: 20 min, share: 0.6}
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, get_args

from passcheck.errors import FileFault
from passcheck.judge.quantity import Quantity, QuantityError, parse_quantity
from passcheck.practice.effects import concerns
from passcheck.practice.fault import Effect, Fault, What, When
from passcheck.practice.room_for import codes_of, counted_at, unit_at
from passcheck.practice.shows import GRADES, LIMIT_LIGHTS
from passcheck.sequence.finding import Loc
from passcheck.sequence.model import Sequence
from passcheck.sequence.nodes import FAST_LOADER, Nodes, Refused, decode, read_nodes

WHATS: tuple[What, ...] = get_args(What)
PLAIN: frozenset[What] = frozenset({"flickers", "dark", "stuck", "missing", "mute"})
"""Effects that have no size: they are written with `true`."""
WORDS: frozenset[What] = frozenset({"limit light", "falls to", "looks"})
"""Effects whose size is what is seen."""
CHOICES: dict[What, tuple[str, ...]] = {"limit light": LIMIT_LIGHTS, "falls to": GRADES}
ENTRIES = frozenset({"says", "block", "parts", "complaint", "symptoms", "shows"})
BESIDE = frozenset({"on", "nth", "warm", "under", "share", *WHATS})


@dataclass(frozen=True, slots=True)
class FaultList:
    """A board's faults, and the steps of its practice sheets; no steps of `short` stand for the whole sheet.

    `first` is what somebody walks who never practised before; without it that is `short` too.
    """

    board: str
    first: tuple[str, ...]
    short: tuple[str, ...]
    faults: tuple[Fault, ...]


def read_fault_list(text: str, name: str, sequence: Sequence, *, partly: bool = False) -> FaultList:
    """Read a board's list beside its sequence.

    Args:
        text: the list.
        name: of its file, for what is said of a slip.
        sequence: the board's.
        partly: the sequence has steps left out, so it is no slip where something leads to none of them; every fault
            stays in its place, whether or not it can be seen.

    Raises:
        FileFault: something in it can't be read, or leads nowhere in the sequence; the first slip is named.
    """
    try:
        nodes = read_nodes(decode(text), FAST_LOADER)
    except Refused as refused:
        line, column = refused.place
        raise FileFault(f"{name}:{line}:{column}: {refused.why}") from None
    return _Reader(nodes, name, sequence, partly=partly).whole()


class _Reader:
    def __init__(self, nodes: Nodes, name: str, sequence: Sequence, *, partly: bool) -> None:
        self._nodes, self._name, self._sequence, self._partly = nodes, name, sequence, partly

    def whole(self) -> FaultList:
        """The list, or the first slip."""
        for loc, (line, column), before in self._nodes.twice:
            raise FileFault(
                f"{self._name}:{line}:{column}: '{loc[-1]}' is given again, first in line {before}; "
                "give it another name"
            )
        data = self._mapping(self._nodes.data, ())
        self._only(data, frozenset({"unit", "first", "short", "faults"}), ())
        board, wanted = str(data.get("unit", "")), self._sequence.sequence
        if board != wanted:
            raise self._slip(
                ("unit",), f"the sequence is {wanted} and this list is for '{board}'; write unit: {wanted}"
            )
        steps = [step.id for step in self._sequence.steps]
        first = self._known(data, "first", (), "step", steps, may_lack=self._partly)
        short = self._known(data, "short", (), "step", steps, may_lack=self._partly)
        faults = self._mapping(data.get("faults"), ("faults",))
        return FaultList(board, first, short, tuple(self._fault(one, ("faults", one)) for one in faults))

    def _fault(self, name: str, loc: Loc) -> Fault:
        data = self._mapping(self._at(loc), loc)
        self._only(data, ENTRIES, loc)
        block, blocks = str(data.get("block", "")), self._sequence.blocks
        if block not in blocks:
            raise self._slip((*loc, "block"), f"the sequence has no block '{block}'; write one of {', '.join(blocks)}")
        parts = self._known(data, "parts", loc, f"part of {block}", blocks[block].parts)
        symptoms = self._known(data, "symptoms", loc, "symptom", self._sequence.symptoms, may_lack=self._partly)
        shown = data.get("shows")
        if not isinstance(shown, list) or not shown:
            raise self._slip((*loc, "shows"), "write under 'shows' at least one thing that a bench can see of it")
        effects = tuple(self._effect((*loc, "shows", nth)) for nth in range(len(shown)))
        says = str(data.get("says", ""))
        if not says:
            raise self._slip((*loc, "says"), "write under 'says' what broke")
        return Fault(name, says, block, parts, effects, str(data.get("complaint", "")), symptoms)

    def _effect(self, loc: Loc) -> Effect:
        data = self._mapping(self._at(loc), loc)
        self._only(data, BESIDE, loc)
        named = [what for what in WHATS if what in data]
        if len(named) != 1:
            raise self._slip(loc, f"say with one word what shows there: {', '.join(WHATS)}")
        what = named[0]
        here = (*loc, what)
        size = None if what in PLAIN | WORDS else self._quantity(data[what], here, None)
        seen = str(data[what]) if what in WORDS else ""
        if what in PLAIN and data[what] is not True:
            raise self._slip(here, f"'{what}' has no size; write {what}: true")
        if what in CHOICES and seen not in CHOICES[what]:
            raise self._slip(here, f"'{seen}' can't be; write one of {', '.join(CHOICES[what])}")
        on = str(data.get("on", ""))
        effect = Effect(on, what, float(size.value) if size else 0.0, data.get("nth"), seen, self._when(data, loc))
        self._leads_somewhere(effect, size, loc)
        return effect

    def _when(self, data: dict[str, Any], loc: Loc) -> When:
        warm = self._quantity(data["warm"], (*loc, "warm"), "s").value / 60 if "warm" in data else 0
        share = self._quantity(data["share"], (*loc, "share"), "").value if "share" in data else 1
        if not 0 < share <= 1:
            raise self._slip((*loc, "share"), f"{share} is no share of tries; write 0.7 for seven in ten")
        under = str(data.get("under", ""))
        known = dict.fromkeys(it for symptom in self._sequence.symptoms.values() for it in symptom.conditions)
        if under and under not in known and not self._partly:
            why = f"no symptom of the sequence names the condition '{under}'; write one of: {'; '.join(known)}"
            raise self._slip((*loc, "under"), why)
        return When(float(warm), under, float(share))

    def _leads_somewhere(self, effect: Effect, size: Quantity | None, loc: Loc) -> None:
        """Something in the sequence must be able to show it, as many of it as are counted, in that unit."""
        steps = [step for step in self._sequence.steps if concerns(effect, step)]
        places = [place.at for place in self._sequence.stored_energy]
        stored = effect.what == "holds charge" and effect.on in places
        is_code = effect.what not in ("stuck", "missing", "mute") or effect.on in codes_of(self._sequence)
        if not (stored or steps) or not is_code:
            if self._partly:
                return
            raise self._slip(
                (*loc, "on"),
                f"nothing in the sequence shows '{effect.what}' at '{effect.on}'; write the id of a step, a node, lamp,"
                " button, gauge or code as the sequence has it",
            )
        most = max((counted_at(step, effect.what) for step in steps), default=0)
        if effect.nth is not None and (not isinstance(effect.nth, int) or not 1 <= effect.nth <= most):
            why = f"count from 1 to {most}" if most else "nothing is counted there; leave nth out"
            raise self._slip((*loc, "nth"), why)
        units = {unit_at(step, effect.what) for step in steps} or {""}
        if size is not None and size.unit not in units:
            wanted = " or ".join(sorted(unit or "a bare number" for unit in units))
            raise self._slip((*loc, effect.what), f"'{size.text}' is not what shows there; write it in {wanted}")

    def _quantity(self, written: Any, loc: Loc, unit: str | None) -> Quantity:
        try:
            return parse_quantity(str(written), unit)
        except QuantityError as fault:
            raise self._slip(loc, str(fault)) from None

    def _known(
        self, data: dict[str, Any], name: str, loc: Loc, what: str, known: Iterable[str], *, may_lack: bool = False
    ) -> tuple[str, ...]:
        """A list of names, each of which the sequence has; one that it may lack is left out."""
        listed, known = data.get(name, []), tuple(known)
        if not isinstance(listed, list):
            raise self._slip((*loc, name), "write a list: [one, two]")
        for nth, one in enumerate(listed):
            if str(one) not in known and not may_lack:
                raise self._slip((*loc, name, nth), f"there is no {what} '{one}'; the sequence has {', '.join(known)}")
        return tuple(str(one) for one in listed if str(one) in known)

    def _mapping(self, data: Any, loc: Loc) -> dict[str, Any]:
        if not isinstance(data, dict):
            raise self._slip(loc, "entries such as 'block: PWR' are wanted here")
        return data

    def _only(self, data: dict[str, Any], known: frozenset[str], loc: Loc) -> None:
        for name in data:
            if name not in known:
                line, column = self._nodes.place((*loc, name), of_key=True)
                why = f"'{name}' is no entry here; write one of {', '.join(sorted(known))}"
                raise FileFault(f"{self._name}:{line}:{column}: {why}")

    def _at(self, loc: Loc) -> Any:
        here = self._nodes.data
        for part in loc:
            here = here[part]
        return here

    def _slip(self, loc: Loc, why: str) -> FileFault:
        line, column = self._nodes.place(loc)
        return FileFault(f"{self._name}:{line}:{column}: {why}")
