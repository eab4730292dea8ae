"""What does somebody who reads and counts write down of what the unit does?

Eyes and instruments only; what is tapped is the hand's business. The answer is exact but for the instrument's error and
the scale's readability: slips are made when it is entered, not here.
"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from itertools import pairwise
from random import Random

from passcheck.job.answers import (
    Answer,
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
from passcheck.judge.accuracy import Accuracy
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import show
from passcheck.practice import shows
from passcheck.practice.healthy import reading_limits
from passcheck.practice.meter import Meters, digit_for, display
from passcheck.practice.shows import Shows
from passcheck.sequence import model
from passcheck.sequence.model import Step

LEADS_SHARE = 0.4  # of what shorted leads may read
PARALLAX = 0.6  # of the readability; the rest is another error at each mark
STALL_SEEN_S = 0.3
"""A stop that an eye on a moving pointer doesn't miss; an assumption, shorter ones are for taps or a camera to find."""


@dataclass(frozen=True, slots=True)
class WithMeter:
    """The instrument in hand at a step, by its name at the bench, and where its flicker comes from."""

    meters: Meters
    name: str
    accuracy: Accuracy
    draw: Random

    def of(self, value: float, limits: Limits) -> str:
        """What it shows of a true value, written down."""
        digit = digit_for(limits, value)
        return display(self.meters.shown(self.name, self.accuracy, value, digit, self.draw), limits.unit, digit)


def written_down(step: Step, seen: Shows, meter: WithMeter | None, draw: Random) -> Answer:  # noqa: PLR0912 - one row a kind
    """The answer of a careful technician.

    Args:
        step: the step tried.
        seen: what the unit does there.
        meter: the instrument in hand; None where the step measures nothing.
        draw: for what an eye is off by at a scale.
    """
    match step, seen:
        case model.ReadingStep(), shows.Reads(values):
            return _reading(step, values, meter)
        case model.TableStep(), shows.Reads(values):
            rows = zip(step.rows, values, strict=True)
            return TableAnswer(tuple(_shown(meter, value, row.limits) for row, value in rows))
        case model.PowerUpStep(), shows.Draws(amps, light):
            return PowerUpAnswer(_shown(meter, amps, step.limits), light)
        case model.ResponseStep(), shows.Responds(delays_s):
            first_s = delays_s[0] if delays_s[0] is not None else _given_up_s(step.limits)
            return ReadingAnswer((_shown(meter, first_s, step.limits),))
        case model.PressesStep(), shows.Responds():
            return _presses(step, seen, meter)
        case model.LampsStep(), shows.Lights():
            true = (seen.rate_hz,) if step.check == "rate" else _lamp_times(step, seen)
            times = zip(lamp_limits(step), true, strict=True)
            return ListAnswer(seen.amiss, tuple(_shown(meter, value, limits) for limits, value in times))
        case model.SweepStep(), shows.Sweeps(up_s, down_s, stall):
            longest_s = max(_segments(up_s)) - min(_segments(up_s))
            up, down = _shown(meter, up_s[-1], step.up), _shown(meter, down_s[-1], step.down)
            return SweepAnswer(up, down, stall if stall and longest_s >= STALL_SEEN_S else None)
        case model.MarksStep(), shows.Stands(up, down):
            aside = draw.uniform(-PARALLAX, PARALLAX)  # where the head is stays the same for the whole scale
            return MarksAnswer(_pointer(step, up, aside, draw), _pointer(step, down, aside, draw))
        case model.CodesStep(), shows.Codes(present, provoked, after):
            return CodesAnswer(present, provoked, after)
        case model.GradeStep(), shows.Falls(grade, recovery_s):
            recovery = None if step.limits is None else _shown(meter, recovery_s, step.limits)
            return GradeAnswer(grade, recovery)
        case model.LookStep(), shows.Looks(amiss):
            return ListAnswer(amiss)
        case model.CountStep(), shows.Counts(count):
            return CountAnswer(max(0, count))
        case _:
            raise ValueError(f"a {step.kind} step shows no {type(seen).__name__}")


def _reading(step: model.ReadingStep, values: tuple[float, ...], meter: WithMeter | None) -> Answer:
    limits = reading_limits(step)
    if step.derive is not None or limits is None:
        return ReadingAnswer(())
    readings = tuple(_shown(meter, value, limits) for value in values)
    leads = None
    if step.leads is not None and step.leads.high is not None:
        leads = _shown(meter, float(step.leads.high.value) * LEADS_SHARE, step.leads)
    reverse = _shown(meter, values[0], limits) if step.component is not None else None
    return ReadingAnswer(readings, reverse=reverse, leads=leads)


def _presses(step: model.PressesStep, seen: shows.Responds, meter: WithMeter | None) -> Answer:
    wanted = step.times * len(step.press)
    made = seen.delays_s[:wanted]
    counted = sum(each is not None for each in made) + seen.twice
    slowest = max((each for each in made if each is not None), default=0.0)
    return PressesAnswer(counted, None if step.limits is None else _shown(meter, slowest, step.limits))


def _lamp_times(step: model.LampsStep, seen: shows.Lights) -> tuple[float, ...]:
    asked = ((step.on_within, seen.on_s), (step.off_after, seen.out_s))
    return tuple(value for limits, value in asked if limits is not None)


def _pointer(step: model.MarksStep, at: tuple[float, ...], aside: float, draw: Random) -> tuple[str, ...]:
    """Each position as an eye reads it, off by no more than the readability that the author gives."""
    fine, unit = step.readability.value, step.tolerance.unit
    off = (aside + draw.uniform(PARALLAX - 1, 1 - PARALLAX) for _ in at)
    return tuple(show(_read_to(each, share, fine), unit, _digit(fine)) for each, share in zip(at, off, strict=True))


def _read_to(true: float, share: float, fine: Decimal) -> Decimal:
    """A position that is off by a share of the readability, in whole last digits: rounding never takes it further."""
    digit, exact = _digit(fine), Decimal(repr(true))
    lowest, highest = ((exact + end * fine) / digit for end in (-1, 1))
    nearest = ((exact + Decimal(repr(share)) * fine) / digit).to_integral_value()
    inside = min(max(nearest, lowest.to_integral_value(ROUND_CEILING)), highest.to_integral_value(ROUND_FLOOR))
    return inside * digit


def _digit(fine: Decimal) -> Decimal:
    """The weight of the last digit that a step of this size needs."""
    exponent = fine.normalize().as_tuple().exponent
    return Decimal(1).scaleb(exponent if isinstance(exponent, int) else 0)


def _given_up_s(limits: Limits) -> float:
    """How long somebody waits for an answer that doesn't come."""
    return float(limits.high.value) * 10 if limits.high is not None else 1e3


def _segments(times_s: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(later - earlier for earlier, later in pairwise(times_s))


def _shown(meter: WithMeter | None, value: float, limits: Limits) -> str:
    if meter is None:
        raise ValueError("a quantity was to be read and no instrument is in hand")
    return meter.of(value, limits)
