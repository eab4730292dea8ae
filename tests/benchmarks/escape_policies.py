"""What would the same units have left the bench under simpler ways of working?

Three of them, each with the same unit, the same instruments and hands, the same chance to pick the right block, and no
burn-in: a reading counts as it is shown (simple acceptance); a time counts as it was tapped, too (a stopwatch); and
after a rework only what failed is tried again (retest only the failed steps).
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from random import Random  # noqa: TID251 - a simulation draws from a seed

from passcheck.job.answers import (
    CodesAnswer,
    CountAnswer,
    GradeAnswer,
    ListAnswer,
    MarksAnswer,
    PowerUpAnswer,
    PressesAnswer,
    ReadingAnswer,
    SweepAnswer,
    TableAnswer,
)
from passcheck.job.judging import lamp_limits
from passcheck.judge.hand_timed import PERSON_S
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import QuantityError, parse_quantity
from passcheck.practice import shows
from passcheck.practice.effects import Around
from passcheck.practice.eyes import WithMeter, written_down
from passcheck.practice.healthy import reading_limits
from passcheck.practice.person import Person
from passcheck.practice.shows import GRADES, Shows
from passcheck.practice.truth import departing
from passcheck.practice.unit import SimulatedUnit
from passcheck.sequence import model
from passcheck.sequence.model import ALL_BLOCKS, Step

MOST_REWORKS = 4
TRIALS = 3  # a stopwatch is pressed so often, and the mean counts


@dataclass(frozen=True, slots=True)
class Policy:
    """A way of working.

    Attributes:
        name: as the tables call it.
        stopwatch: a tapped time counts as it was tapped, without what a hand takes.
        only_failed: after a rework only the steps that failed are tried again.
    """

    name: str
    stopwatch: bool = False
    only_failed: bool = False


POLICIES = (
    Policy("simple acceptance"),
    Policy("and a raw stopwatch", stopwatch=True),
    Policy("and only failed steps again", only_failed=True),
)


@dataclass(frozen=True, slots=True)
class Hands:
    """Who works, with which meters, and how surely the right block is found."""

    person: Person
    meter_for: Callable[[Step], WithMeter | None]
    finds_it: float
    draw: Random


def released_by(policy: Policy, unit: SimulatedUnit, hands: Hands) -> tuple[str, ...] | None:
    """The steps at which the released unit departs, or None where it was given back."""
    every = [step for step in unit.sequence.steps if step.kind != "soak" and step.variant is None]
    reworks: list[frozenset[str]] = []
    failing = _walk(policy, unit, every, reworks, hands)
    while failing:
        if len(reworks) >= MOST_REWORKS:
            return None
        reworks.append(frozenset({_block(unit, failing, reworks, hands)}))
        failing = _walk(policy, unit, failing if policy.only_failed else every, reworks, hands)
    return departing(unit, reworks)


def _block(unit: SimulatedUnit, failing: list[Step], reworks: list[frozenset[str]], hands: Hands) -> str:
    broken = [fault.block for fault in unit.live(reworks)]
    proved = [name for step in failing for name in step.proves if name != ALL_BLOCKS] or list(unit.sequence.blocks)
    right = [name for name in proved if name in broken]
    return hands.draw.choice(right if right and hands.draw.random() < hands.finds_it else proved)


def _walk(
    policy: Policy, unit: SimulatedUnit, steps: Iterable[Step], reworks: list[frozenset[str]], hands: Hands
) -> list[Step]:
    powered_min, supply = 0.0, model.NO_SUPPLY
    failing = []
    for step in steps:
        powered_min = powered_min if step.power == supply else 0.0  # another supply means that the first was off
        supply = step.power
        if supply != model.NO_SUPPLY:
            powered_min += float(step.minutes)
        seen = unit.shows(step, Around(powered_min), reworks, hands.draw)
        if seen is not None and not _passes(policy, step, seen, hands):
            failing.append(step)
    return failing


def _passes(policy: Policy, step: Step, seen: Shows, hands: Hands) -> bool:
    if isinstance(step, model.ResponseStep) and isinstance(seen, shows.Responds) and step.method != "instrument":
        return _timed(policy, step, seen, hands)
    return _inside(step, seen, hands)


def _timed(policy: Policy, step: model.ResponseStep, seen: shows.Responds, hands: Hands) -> bool:
    tapped = []
    for delay_s in seen.delays_s[:TRIALS]:
        if delay_s is None:
            return False
        person = hands.person
        tapped.append(delay_s + person.reaction_s(hands.draw, delay_s) - person.beside_press_s(hands.draw))
    mean_s = sum(tapped) / len(tapped) - (0.0 if policy.stopwatch else float(PERSON_S))
    return _holds(step.limits, f"{mean_s:.3f} s")


def _inside(step: Step, seen: Shows, hands: Hands) -> bool:  # noqa: PLR0912 - one row a shape
    if isinstance(step, model.ReadingStep) and step.derive is not None:
        return True
    answer = written_down(step, seen, hands.meter_for(step), hands.draw)
    match step, answer:
        case model.ReadingStep(), ReadingAnswer(readings):
            limits = reading_limits(step)
            return limits is None or all(_holds(limits, text) for text in readings)
        case model.ResponseStep(), ReadingAnswer(readings):
            return all(_holds(step.limits, text) for text in readings)
        case model.TableStep(), TableAnswer(outputs):
            return all(_holds(row.limits, text) for row, text in zip(step.rows, outputs, strict=True))
        case model.PowerUpStep(), PowerUpAnswer(current, light):
            return light != "on" and _holds(step.limits, current)
        case model.PressesStep(), PressesAnswer(counted, slowest):
            late = step.limits is not None and slowest is not None and not _holds(step.limits, slowest)
            return counted == step.times * len(step.press) and not late
        case model.LampsStep(), ListAnswer(departures, times):
            return not departures and all(
                _holds(limits, text) for limits, text in zip(lamp_limits(step), times, strict=True)
            )
        case model.LookStep(), ListAnswer(departures):
            return not departures
        case model.SweepStep(), SweepAnswer(up, down, hesitation):
            return hesitation is None and _holds(step.up, up) and _holds(step.down, down)
        case model.MarksStep(), MarksAnswer(up, down):
            unit, tolerance = step.tolerance.unit, step.tolerance.value
            wanted = [mark.value.value for mark in step.marks]
            pairs = [pair for way in (up, down) for pair in zip(way, wanted, strict=False)]
            return all(abs(parse_quantity(text, unit).value - at) <= tolerance for text, at in pairs)
        case model.CodesStep(), CodesAnswer(present, provoked, after):
            again = after is None or set(after) == set(step.expected)
            return set(present) == set(step.expected) and again and len(provoked) == len(step.provoke)
        case model.GradeStep(), GradeAnswer(grade, recovery):
            late = (
                grade != "A" and recovery is not None and step.limits is not None and not _holds(step.limits, recovery)
            )
            return GRADES.index(grade) <= GRADES.index(step.worst) and not late
        case model.CountStep(), CountAnswer(counted):
            return counted == step.wanted
        case _:
            raise ValueError(f"{step.kind}: {answer}")


def _holds(limits: Limits, text: str) -> bool:
    try:
        return limits.holds(parse_quantity(text, limits.unit).value)
    except QuantityError:
        return False
