"""Is the unit really as its sequence wants it?

Known to nobody at a bench: the comparison is of true values, without instruments, hands or uncertainty, and it shares
nothing with the judge, so that the two can be held against each other.
"""

from collections.abc import Collection
from random import Random
from statistics import fmean

from passcheck.judge.limits import Limits
from passcheck.practice import shows
from passcheck.practice.effects import Around
from passcheck.practice.healthy import reading_limits
from passcheck.practice.shows import GRADES, Shows
from passcheck.practice.unit import Reworks, SimulatedUnit
from passcheck.sequence import model
from passcheck.sequence.model import Sequence, Step

SLACK = 1e-9  # a value at its limit is inside, whatever the last bit of a double says
THROUGHOUT, NOT_ALONE = "A", "DE"  # the class that has nothing to recover from, and those that don't recover alone


class Plainly(Random):
    """Draws nothing: what can happen happens, and no value scatters."""

    def random(self) -> float:
        """Always the smallest number, so that every share is met."""
        return 0.0

    def gauss(self, mu: float = 0.0, sigma: float = 1.0) -> float:
        """The middle."""
        del sigma
        return mu


PLAINLY = Plainly()


def departing(unit: SimulatedUnit, reworks: Reworks = (), variants: Collection[str] = ()) -> tuple[str, ...]:
    """Ids of the steps at which this unit isn't as its sequence wants it, under the worst circumstances.

    Args:
        unit: the unit.
        reworks: what was worked on so far.
        variants: what is fitted to it; a step for another one isn't wanted of this unit.
    """
    around = worst(unit.sequence)
    found = []
    for step in unit.sequence.steps:
        seen = unit.shows(step, around, reworks, PLAINLY) if step.variant in (None, *variants) else None
        if seen is not None and departs(step, seen):
            found.append(step.id)
    return tuple(found)


def worst(sequence: Sequence) -> Around:
    """Warm as a soak makes it, under every condition that the sequence's symptoms name."""
    every = (words for symptom in sequence.symptoms.values() for words in symptom.conditions)
    return Around(powered_min=1e6, off_s=86_400.0, under=frozenset(every))


def departs(step: Step, seen: Shows) -> bool:  # noqa: PLR0912 - one row a shape
    """Does what the unit does lie outside what the step wants?"""
    match step, seen:
        case model.ReadingStep(), shows.Reads(values):
            limits = reading_limits(step)
            return limits is not None and any(not _holds(limits, value) for value in values)
        case model.TableStep(), shows.Reads(values):
            return any(not _holds(row.limits, value) for row, value in zip(step.rows, values, strict=True))
        case model.PowerUpStep(), shows.Draws(amps, light):
            return light == "on" or not _holds(step.limits, amps)
        case model.ResponseStep(), shows.Responds(delays_s):
            answered_s = [each for each in delays_s if each is not None]  # they scatter; their middle counts
            return len(answered_s) < len(delays_s) or not _holds(step.limits, fmean(answered_s))
        case model.PressesStep(), shows.Responds(delays_s, twice):
            late = step.limits is not None and any(
                each is not None and not _holds(step.limits, each) for each in delays_s
            )
            return late or twice > 0 or None in delays_s
        case model.LampsStep(), shows.Lights():
            asked = ((step.on_within, seen.on_s), (step.off_after, seen.out_s))
            times = asked if step.check != "rate" else ((step.limits, seen.rate_hz),)
            return bool(seen.amiss) or any(limits is not None and not _holds(limits, it) for limits, it in times)
        case model.SweepStep(), shows.Sweeps(up_s, down_s, stall):
            return bool(stall) or not (_holds(step.up, up_s[-1]) and _holds(step.down, down_s[-1]))
        case model.MarksStep(), shows.Stands(up, down):
            wanted = [float(mark.value.value) for mark in step.marks]
            off = [abs(at - want) for way in (up, down) if way for at, want in zip(way, wanted, strict=True)]
            return max(off) > float(step.tolerance.value) * (1 + SLACK)
        case model.CodesStep(), shows.Codes(present, provoked, after):
            as_wanted = set(present) == set(step.expected) and (after is None or set(after) == set(step.expected))
            return not as_wanted or {one.code for one in step.provoke} != set(provoked)
        case model.GradeStep(), shows.Falls(grade, recovery_s):
            away = step.limits is not None and grade in NOT_ALONE
            late = step.limits is not None and grade not in THROUGHOUT and not _holds(step.limits, recovery_s)
            return away or late or GRADES.index(grade) > GRADES.index(step.worst)
        case model.LookStep(), shows.Looks(amiss):
            return bool(amiss)
        case model.CountStep(), shows.Counts(count):
            return count != step.wanted
        case _:
            raise ValueError(f"a {step.kind} step shows no {type(seen).__name__}")


def _holds(limits: Limits, value: float) -> bool:
    low, high = limits.low, limits.high
    over = high is not None and value > float(high.value) + SLACK * abs(float(high.value))
    under = low is not None and value < float(low.value) - SLACK * abs(float(low.value))
    return not over and not under
