"""What does a watcher have to know before the first event: the plain facts of a sequence, and what a broken rule is?

Worked out here from the file's own members and not by the core, so that the two can disagree.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from passcheck.sequence.model import Sequence, SoakStep, Step

QUARTER_HOUR_MS = 15 * 60 * 1000


class BrokenRule(AssertionError):
    """A rule of the bench was broken; the text says which and by what."""


def rule(kept: bool, broken: str) -> None:
    """Demand it.

    Raises:
        BrokenRule: it isn't so.
    """
    if not kept:
        raise BrokenRule(broken)


@dataclass(frozen=True)
class When:
    """When an event was recorded: the clock that can't be set back, the boot it counts from, and the wall's time."""

    clock_ms: int
    boot: str
    utc: datetime


def long_away(last: When, now: When) -> bool:
    """True where nobody can be taken to have stayed at the bench between the two."""
    return last.boot != now.boot or now.clock_ms - last.clock_ms >= QUARTER_HOUR_MS


@dataclass(frozen=True)
class SoakFacts:
    """What a sequence asks of a soak, times in seconds; `sign` is True where something has to show continuity."""

    hours_s: float
    every_s: float
    off_s: float
    cycles: int
    check: frozenset[str]
    continuous: bool
    sign: bool
    may_be_left: bool
    after_opening: bool


@dataclass(frozen=True)
class StepFacts:
    """What the rules need to know of one step; `soak` is None where it is none."""

    supply: str | None
    needs: tuple[str, ...]
    cautions: frozenset[str]
    touches: bool
    role: str | None
    soak: SoakFacts | None
    spoiled_by: frozenset[str]  # blocks on which a rework makes its results worthless
    after_opening: bool  # asked for again after the case was opened


@dataclass(frozen=True)
class Facts:
    """What the rules need to know of a sequence."""

    steps: Mapping[str, StepFacts]
    supplies: tuple[str, ...]
    danger: frozenset[str]
    points: Mapping[str, tuple[float, float]]  # place: volts below which it is discharged, seconds to wait
    little_energy: bool
    symptoms: Mapping[str, tuple[str, ...]]  # the steps that show each


def facts_of(sequence: Sequence) -> Facts:
    """The plain facts of a sequence."""
    volts = [supply.range.high.value for supply in sequence.supplies.values() if supply.range.high]
    joules = sum(
        float(place.capacitance.value) * float(place.voltage.value if place.voltage else max(volts)) ** 2 / 2
        for place in sequence.stored_energy
    )
    extra_low = all(supply.supply_class == "extra-low" for supply in sequence.supplies.values())
    spoiling = _spoiling(sequence)
    return Facts(
        steps={step.id: _step_facts(sequence, step, spoiling) for step in sequence.steps},
        supplies=tuple(sequence.supplies),
        danger=frozenset(name for name, caution in sequence.cautions.items() if caution.signal == "DANGER"),
        points={
            place.at: (float(place.discharged_below.value), float(place.wait.value)) for place in sequence.stored_energy
        },
        little_energy=extra_low and joules < 0.25,
        symptoms={name: tuple(symptom.steps) for name, symptom in sequence.symptoms.items()},
    )


def _spoiling(sequence: Sequence) -> Mapping[str, frozenset[str]]:
    """For each block itself and everything that feeds it, over however many blocks between."""
    feeds = {name: set(block.feeds) for name, block in sequence.blocks.items()}
    for _ in feeds:
        for fed_by in feeds.values():
            fed_by |= {far for near in tuple(fed_by) for far in feeds.get(near, set())}
    return {name: frozenset({name} | {up for up, fed in feeds.items() if name in fed}) for name in feeds}


def _step_facts(sequence: Sequence, step: Step, spoiling: Mapping[str, frozenset[str]]) -> StepFacts:
    supply = None if step.power == "none" else step.power
    proved = set(spoiling) if "all" in step.proves else set(step.proves)
    named = {*step.cautions, *(sequence.supplies[supply].cautions if supply else ())}
    soak = _soak_facts(sequence, step) if isinstance(step, SoakStep) else None
    round_of_soaks = {name for one in sequence.steps if isinstance(one, SoakStep) for name in one.check}
    short_round = set(sequence.short_round) or round_of_soaks
    return StepFacts(
        supply=supply,
        needs=tuple(step.needs),
        cautions=frozenset(name for name in named if sequence.cautions[name].signal != "NOTICE"),
        touches=step.touches,
        role=step.role,
        soak=soak,
        spoiled_by=frozenset(up for block in proved for up in spoiling.get(block, frozenset())),
        after_opening=soak.after_opening if soak is not None else step.role == "final" or step.id in short_round,
    )


def _soak_facts(sequence: Sequence, step: SoakStep) -> SoakFacts:
    live = sequence.supplies[step.power].supply_class == "hazardous-live"
    return SoakFacts(
        hours_s=float(step.hours.value),
        every_s=float(step.every.value),
        off_s=60.0 if step.off is None else float(step.off.value),
        cycles=step.cycles,
        check=frozenset(step.check),
        continuous=step.continuous,
        sign=step.continuity is not None,
        may_be_left=step.unattended and (step.enclosed or not live),
        after_opening=step.again_after_opening,
    )
