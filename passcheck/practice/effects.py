"""Which effects of what is broken show at this step, in this try?"""

import re
from collections.abc import Mapping
from collections.abc import Sequence as Many
from dataclasses import dataclass
from random import Random

from passcheck.practice.fault import Effect, Fault, What
from passcheck.sequence import model
from passcheck.sequence.model import Step

DESIGNATOR = re.compile(r"\b[A-Z]+\d+\b")
NODE_UNITS = {"reads": "V", "source": "V", "ripple": "Vpp"}
"""What an effect on a node can be seen in; on a step's id it means whatever that step reads."""
KINDS: Mapping[What, frozenset[str]] = {
    **dict.fromkeys(("reads", "source", "ripple"), frozenset({"reading"})),
    **dict.fromkeys(("draws", "limit light"), frozenset({"power-up"})),
    **dict.fromkeys(("lags", "flickers", "dark", "blinks at"), frozenset({"lamps"})),
    **dict.fromkeys(("delays", "bounces", "dead spots"), frozenset({"response", "presses"})),
    **dict.fromkeys(("slow", "stalls"), frozenset({"sweep"})),
    "offset": frozenset({"marks"}),
    **dict.fromkeys(("stuck", "missing", "mute"), frozenset({"codes"})),
    "counts": frozenset({"count"}),
    **dict.fromkeys(("falls to", "recovers in"), frozenset({"grade"})),
    "looks": frozenset({"look", "lamps"}),
    "gives": frozenset({"table"}),
    "holds charge": frozenset(),
}
"""The kinds of step that each effect can be seen at; charge that stays is seen when the unit is made safe."""


@dataclass(frozen=True, slots=True)
class Around:
    """The circumstances of a try.

    Attributes:
        powered_min: minutes at power without a break.
        off_s: seconds since the last supply was switched off; a day where none was ever on or all was discharged.
        under: conditions that the unit is put to, in the words of its sequence.
        supply: the one that is on or was on last; "" where that isn't known, which stands for the highest of them.
    """

    powered_min: float = 0.0
    off_s: float = 86_400.0
    under: frozenset[str] = frozenset()
    supply: str = ""


@dataclass(frozen=True, slots=True)
class Showing:
    """The effects that show at one step in one try, the latest fault's last."""

    all: tuple[Effect, ...]

    def of(self, *what: What) -> tuple[Effect, ...]:
        """Those of these kinds."""
        return tuple(one for one in self.all if one.what in what)

    def size(self, what: What, own: float, nth: int | None = None) -> float:
        """What stands in place of the unit's own value, for the nth of several where one is named."""
        sizes = [one.size for one in self.of(what) if one.nth in (None, nth)]
        return sizes[-1] if sizes else own

    def sum(self, what: What, nth: int | None = None) -> float:
        """All sizes of a kind together."""
        return sum(one.size for one in self.of(what) if one.nth in (None, nth))

    def seen(self, what: What) -> str:
        """The words of the last one of a kind, or ""."""
        return next((one.seen for one in reversed(self.of(what))), "")


def showing(live: Many[Fault], step: Step, around: Around, draw: Random) -> Showing:
    """Find what shows; an intermittent fault is drawn once for the whole try, so that all of it shows or none."""
    found: list[Effect] = []
    for fault in live:
        chance = draw.random()
        here = (effect for effect in fault.effects if concerns(effect, step))
        found += [one for one in here if _met(one, around) and chance < one.when.share]
    return Showing(tuple(found))


def concerns(effect: Effect, step: Step) -> bool:
    """Could this effect ever be seen at this step?"""
    if step.kind not in KINDS[effect.what]:
        return False
    if effect.on == step.id:
        return True
    match step:
        case model.ReadingStep(at=at, limits=limits):
            unit = NODE_UNITS.get(effect.what)
            powered = step.power != model.NO_SUPPLY
            return effect.on == at and powered and limits is not None and limits.unit == unit
        case model.LampsStep():
            return any(effect.on == lamp.ref for lamp in step.lamps)
        case model.ResponseStep():
            return effect.on == step.press or effect.on in DESIGNATOR.findall(step.press)
        case model.PressesStep():
            return effect.on in step.press
        case model.SweepStep() | model.MarksStep():
            return effect.on == step.gauge
        case model.CodesStep():
            provoked = [one.code for one in step.provoke]
            named = {"missing": step.expected, "mute": provoked}
            return effect.what == "stuck" or effect.on in named[effect.what]
        case _:
            return False


def _met(effect: Effect, around: Around) -> bool:
    when = effect.when
    return around.powered_min >= when.warm_min and (not when.under or when.under in around.under)
