"""Which faults can a board's practice units have?

One YAML file a board, in `units/`, read like a sequence file: plain data with a place for every entry, so that a slip
of whoever wrote it is shown where it stands. An effect is written as the thing it shows at and one word for what it
does there:

    - {on: a08, ripple: 142 mVpp}
    - {on: fuel (M1), offset: -9 %, nth: 3, warm: 20 min, share: 0.6}
"""

from dataclasses import dataclass
from typing import Any, get_args

from passcheck.errors import FileFault
from passcheck.judge.quantity import QuantityError, parse_quantity
from passcheck.practice.effects import concerns
from passcheck.practice.fault import Effect, Fault, What, When
from passcheck.sequence.finding import Loc
from passcheck.sequence.model import Sequence
from passcheck.sequence.nodes import FAST_LOADER, Nodes, Refused, decode, read_nodes

WHATS: tuple[What, ...] = get_args(What)
PLAIN: frozenset[What] = frozenset({"flickers", "dark", "stuck", "missing", "mute"})
"""Effects that have no size: they are written with `true`."""
WORDS: frozenset[What] = frozenset({"limit light", "falls to", "looks"})
"""Effects whose size is what is seen."""
ENTRIES = frozenset({"says", "block", "parts", "complaint", "symptoms", "shows"})
BESIDE = frozenset({"on", "nth", "warm", "under", "share", *WHATS})


@dataclass(frozen=True, slots=True)
class FaultList:
    """A board's faults, and the steps of its short practice sheet."""

    board: str
    short: tuple[str, ...]
    faults: tuple[Fault, ...]


def read_fault_list(text: str, name: str, sequence: Sequence) -> FaultList:
    """Read a board's list beside its sequence.

    Raises:
        FileFault: something in it can't be read, or leads nowhere in the sequence; the first slip is named.
    """
    try:
        nodes = read_nodes(decode(text), FAST_LOADER)
    except Refused as refused:
        line, column = refused.place
        raise FileFault(f"{name}:{line}:{column}: {refused.why}") from None
    return _Reader(nodes, name, sequence).whole()


class _Reader:
    def __init__(self, nodes: Nodes, name: str, sequence: Sequence) -> None:
        self._nodes, self._name, self._sequence = nodes, name, sequence
        self._steps = {step.id for step in sequence.steps}

    def whole(self) -> FaultList:
        """The list, or the first slip."""
        data = self._mapping(self._nodes.data, ())
        self._only(data, frozenset({"unit", "short", "faults"}), ())
        board = str(data.get("unit", ""))
        if board != self._sequence.sequence:
            raise self._slip(("unit",), f"this list is for '{board}' and the sequence is {self._sequence.sequence}")
        short = self._texts(data, "short", ())
        for nth, step in enumerate(short):
            if step not in self._steps:
                raise self._slip(("short", nth), f"the sequence has no step '{step}'")
        faults = self._mapping(data.get("faults"), ("faults",))
        return FaultList(board, short, tuple(self._fault(name, ("faults", name)) for name in faults))

    def _fault(self, name: str, loc: Loc) -> Fault:
        data = self._mapping(self._at(loc), loc)
        self._only(data, ENTRIES, loc)
        block = str(data.get("block", ""))
        if block not in self._sequence.blocks:
            raise self._slip((*loc, "block"), f"the sequence has no block '{block}'")
        parts = self._texts(data, "parts", loc)
        for nth, part in enumerate(parts):
            if part not in self._sequence.blocks[block].parts:
                raise self._slip((*loc, "parts", nth), f"{part} is no part of {block}")
        symptoms = self._texts(data, "symptoms", loc)
        for nth, symptom in enumerate(symptoms):
            if symptom not in self._sequence.symptoms:
                raise self._slip((*loc, "symptoms", nth), f"the sequence has no symptom '{symptom}'")
        shown = data.get("shows")
        if not isinstance(shown, list) or not shown:
            raise self._slip(loc, "write under 'shows' at least one thing that a bench can see of it")
        effects = tuple(self._effect((*loc, "shows", nth)) for nth in range(len(shown)))
        says = str(data.get("says", ""))
        if not says:
            raise self._slip(loc, "write under 'says' what broke")
        return Fault(name, says, block, parts, effects, str(data.get("complaint", "")), symptoms)

    def _effect(self, loc: Loc) -> Effect:
        data = self._mapping(self._at(loc), loc)
        self._only(data, BESIDE, loc)
        named = [what for what in WHATS if what in data]
        if len(named) != 1:
            raise self._slip(loc, f"say with one word what shows there: {', '.join(WHATS)}")
        what = named[0]
        when = When(
            self._size(data["warm"], (*loc, "warm"), "s") / 60 if "warm" in data else 0.0,
            str(data.get("under", "")),
            self._size(data["share"], (*loc, "share"), "") if "share" in data else 1.0,
        )
        nth = data.get("nth")
        if nth is not None and (not isinstance(nth, int) or nth < 1):
            raise self._slip((*loc, "nth"), "a line, row, mark or segment is counted from 1")
        here = (*loc, what)
        size = 0.0 if what in PLAIN | WORDS else self._size(data[what], here, None)
        seen = str(data[what]) if what in WORDS else ""
        effect = Effect(str(data.get("on", "")), what, size, nth, seen, when)
        self._leads_somewhere(effect, loc)
        return effect

    def _leads_somewhere(self, effect: Effect, loc: Loc) -> None:
        codes = effect.what in ("stuck", "missing", "mute")
        stored = effect.what == "holds charge" and any(effect.on == it.at for it in self._sequence.stored_energy)
        if not stored and (
            not any(concerns(effect, step) for step in self._sequence.steps) or (codes and not effect.on)
        ):
            raise self._slip((*loc, "on"), f"nothing in the sequence shows '{effect.what}' at '{effect.on}'")
        known = {words for symptom in self._sequence.symptoms.values() for words in symptom.conditions}
        if effect.when.under and effect.when.under not in known:
            raise self._slip((*loc, "under"), f"no symptom of the sequence names the condition '{effect.when.under}'")

    def _size(self, written: Any, loc: Loc, unit: str | None) -> float:
        try:
            return float(parse_quantity(str(written), unit).value)
        except QuantityError as fault:
            raise self._slip(loc, str(fault)) from None

    def _texts(self, data: dict[str, Any], name: str, loc: Loc) -> tuple[str, ...]:
        listed = data.get(name, [])
        if not isinstance(listed, list):
            raise self._slip((*loc, name), "write a list: [one, two]")
        return tuple(str(one) for one in listed)

    def _mapping(self, data: Any, loc: Loc) -> dict[str, Any]:
        if not isinstance(data, dict):
            raise self._slip(loc, "entries such as 'block: PWR' are wanted here")
        return data

    def _only(self, data: dict[str, Any], known: frozenset[str], loc: Loc) -> None:
        for name in data:
            if name not in known:
                raise self._slip((*loc, name), f"'{name}' is no entry here; write one of {', '.join(sorted(known))}")

    def _at(self, loc: Loc) -> Any:
        here = self._nodes.data
        for part in loc:
            here = here[part]
        return here

    def _slip(self, loc: Loc, why: str) -> FileFault:
        line, column = self._nodes.place(loc)
        return FileFault(f"{self._name}:{line}:{column}: {why}")
