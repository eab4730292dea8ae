"""Which numbers does an attempt hold, and how far may each of them be off?

A step with one number has it in its judgement, as it was kept. Where the judgement kept only the number that decided
(marks, sweeps, tables, lamps), the others are read from what was typed or tapped, with the accuracy kept beside it.
Nothing here judges.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from passcheck.job import answers
from passcheck.job.entry import EntryFault, readings
from passcheck.job.instruments import accuracy_in
from passcheck.job.judging import lamp_limits
from passcheck.job.judging_taps import beyond_delays, seconds
from passcheck.job.state import Attempt, Job
from passcheck.judge.accuracy import Accuracy, largest_error
from passcheck.judge.derived import Source
from passcheck.judge.limits import Limits
from passcheck.judge.linearity import scale_reading_u
from passcheck.judge.quantity import Quantity, QuantityError, parse_quantity
from passcheck.judge.robust import winsorised_scale
from passcheck.judge.sweep_judged import TAP_NOISE_S
from passcheck.judge.sweep_taps import sweep_by_taps
from passcheck.judge.tapped_words import margin
from passcheck.sequence import model
from passcheck.sequence.model import Step

SAME_U = 1e-4  # a kept uncertainty has six digits: what differs by less is no scatter


@dataclass(frozen=True, slots=True)
class HeldNumber:
    """One number in the base unit, with what may be wrong with it.

    Attributes:
        name: which of several it is, such as a mark or a row; "" where a step has only one.
        value: of a mark it is how far the pointer stood from where it should.
        digit: the weight of the last digit that was read; 0 where nothing was read digit by digit.
        source: the same value with its errors apart: share of the reading, the rest, scatter.
        meter: instrument and accuracy, where its gain error stands in the value as it is; else None.
    """

    name: str
    value: Decimal
    unit: str
    digit: Decimal
    source: Source
    low: Decimal | None
    high: Decimal | None
    meter: tuple[str, str] | None = None

    @property
    def u(self) -> float:
        """The standard uncertainty."""
        return math.hypot(self.source.u_a, self.source.u_b)

    def shares_range_with(self, other: "HeldNumber") -> bool:
        """Were both read by one instrument on one range, so far as the weight of the last digit tells it?"""
        return self.meter is not None and (self.meter, self.digit) == (other.meter, other.digit)


def held_numbers(job: Job, step: Step, attempt: Attempt) -> tuple[HeldNumber, ...]:
    """The attempt's numbers in the author's order; none where nothing was measured, or an old answer fits no more.

    Every name is there once: of rows that are named alike the second one is called `1 V (2)`.
    """
    try:
        found = tuple(_numbers(job, step, attempt))
    except (EntryFault, QuantityError):  # a newer revision asks for something else at this step
        return ()
    names = [one.name for one in found]
    times = [names[:place].count(name) + 1 for place, name in enumerate(names)]
    return tuple(one if n == 1 else replace(one, name=f"{one.name} ({n})") for one, n in zip(found, times, strict=True))


def _numbers(job: Job, step: Step, attempt: Attempt) -> Iterator[HeldNumber]:
    match step, attempt.answer:
        case model.MarksStep(), answers.MarksAnswer() as answer:
            yield from _marks(step, answer)
        case model.SweepStep(), answers.SweepAnswer(up, down):
            yield from _typed(job, attempt, (("up", up, step.up), ("down", down, step.down)))
        case model.SweepStep(), answers.TapRowsAnswer(rows):
            yield from _sweeps(step, rows)
        case model.TableStep(), answers.TableAnswer(outputs):
            named = ((row.put, text, row.limits) for row, text in zip(step.rows, outputs, strict=False))
            yield from _typed(job, attempt, named)
        case model.LampsStep(), answers.ListAnswer(times=times):
            names = [""] if step.check == "rate" else [n for n, it in _lamp_times(step) if it is not None]
            yield from _typed(job, attempt, zip(names, times, lamp_limits(step), strict=False))
        case model.PressesStep(limits=limits), answers.PressesAnswer(slowest=slowest) if limits and slowest:
            yield from _judged(job, step, attempt) or _typed(job, attempt, (("", slowest, limits),))
        case model.GradeStep(limits=limits), answers.GradeAnswer("B" | "C", recovery) if limits and recovery:
            yield from _judged(job, step, attempt) or _typed(job, attempt, (("", recovery, limits),))
        case _:
            yield from _judged(job, step, attempt)


def _lamp_times(step: model.LampsStep) -> tuple[tuple[str, Limits | None], ...]:
    return (("to light", step.on_within), ("to go out", step.off_after))


def _judged(job: Job, step: Step, attempt: Attempt) -> tuple[HeldNumber, ...]:
    """The number of the judgement; things that were counted have none that could be uncertain."""
    judged = attempt.judgement
    if judged.value is None or judged.u is None or not judged.unit:
        return ()
    value, u = Decimal(judged.value), float(judged.u)
    low, high = (None if end is None else Decimal(end) for end in (judged.low, judged.high))
    digit = _digit(attempt, judged.unit)
    accuracy = _accuracy(job, attempt)
    if accuracy is None or not digit or _worked_out(step):
        return (HeldNumber("", value, judged.unit, digit, _tapped(job, attempt, float(value), u), low, high),)
    source = _apart(value, u, accuracy, digit, len(_given(attempt)))
    return (HeldNumber("", value, judged.unit, digit, source, low, high, _meter(attempt)),)


def _apart(value: Decimal, u: float, accuracy: Accuracy, digit: Decimal, count: int) -> Source:
    """Take a kept uncertainty apart: what the instrument's accuracy explains, the rest is scatter."""
    error = largest_error(accuracy, value, digit)
    gain, u_b = _gain(accuracy, value), error / math.sqrt(3)
    if u > u_b * (1 + SAME_U):
        # Earlier readings may have entered too; with one degree of freedom the scatter is never called too small.
        return Source(float(value), gain, error - gain, math.sqrt(u * u - u_b * u_b), max(1, count - 1))
    kept = u / u_b if u_b else 1.0
    return Source(float(value), gain * kept, (error - gain) * kept)


def _tapped(job: Job, attempt: Attempt, value: float, u: float) -> Source:
    """A number of taps, or one worked out: nothing in its error is known to be shared with another."""
    block = next((one for one in job.references if one.number == attempt.reference), None)
    if block is not None:
        return Source(value, 0.0, 0.0, u, max(1, winsorised_scale(beyond_delays(block.facts.trials))[1]))
    match attempt.answer:
        case answers.TapRowsAnswer(rows):
            taps = max((len(row.taps) for row in rows if not row.void), default=0)
            return Source(value, 0.0, 0.0, u, max(1, taps - 4))  # two lead in, two more are spent on the line
        case _:
            return Source(value, 0.0, u * math.sqrt(3))


def _typed(job: Job, attempt: Attempt, named: Iterable[tuple[str, str, Limits]]) -> Iterator[HeldNumber]:
    """Numbers that stand in the answer alone, with the error of the instrument that was in use."""
    accuracy = _accuracy(job, attempt)
    for name, text, limits in named:
        shown = readings((text,), limits.unit)[0]
        if accuracy is None or not isinstance(shown, Quantity):
            continue
        gain = _gain(accuracy, shown.value)
        source = Source(float(shown.value), gain, largest_error(accuracy, shown.value, shown.digit) - gain)
        yield HeldNumber(name, shown.value, shown.unit, shown.digit, source, *_ends(limits), _meter(attempt))


def _marks(step: model.MarksStep, answer: answers.MarksAnswer) -> Iterator[HeldNumber]:
    """How far the pointer stood off at each mark, as an eye reads it."""
    unit, tolerance = step.tolerance.unit, step.tolerance.value
    u = scale_reading_u(float(step.readability.value))
    for way, row in (("rising", answer.up), ("falling", answer.down)):
        for mark, text in zip(step.marks, row, strict=False):
            read = parse_quantity(text, unit)
            off = read.value - mark.value.value
            name = f"{mark.mark} {way}" if answer.down else mark.mark
            yield HeldNumber(
                name, off, unit, read.digit, Source(float(off), 0.0, u * math.sqrt(3)), -tolerance, tolerance
            )


def _sweeps(step: model.SweepStep, rows: tuple[answers.TapRow, ...]) -> Iterator[HeldNumber]:
    """Of each way the sweep that comes nearest its limits, as in the judgement; none that missed a mark."""
    for way, limits in (("up", step.up), ("down", step.down)):
        taken = [[seconds(tap) for tap in row.taps] for row in rows if row.way == way and not row.void]
        found = [sweep_by_taps(taps, TAP_NOISE_S) for taps in taken if len(taps) >= step.marks]
        if found:
            worst = min(found, key=lambda each: margin(each.total_s, limits))
            source = Source(worst.total_s, 0.0, worst.u_total_s * math.sqrt(3))
            yield HeldNumber(way, Decimal(repr(worst.total_s)), "s", Decimal(0), source, *_ends(limits))


def _gain(accuracy: Accuracy, value: Decimal) -> float:
    return abs(float(value)) * float(accuracy.percent) / 100


def _ends(limits: Limits) -> tuple[Decimal | None, Decimal | None]:
    low, high = limits.low, limits.high
    return None if low is None else low.value, None if high is None else high.value


def _given(attempt: Attempt) -> tuple[str, ...]:
    match attempt.answer:
        case answers.ReadingAnswer(given):
            return given
        case answers.PowerUpAnswer(current=text) | answers.PressesAnswer(slowest=str(text)):
            return (text,)
        case answers.GradeAnswer(recovery=str(text)):
            return (text,)
        case _:
            return ()


def _digit(attempt: Attempt, unit: str) -> Decimal:
    shown = readings(_given(attempt), unit) if _given(attempt) else ()
    return max((one.digit for one in shown if isinstance(one, Quantity)), default=Decimal(0))


def _worked_out(step: Step) -> bool:
    """Is the value more than what a meter showed? Then its gain error doesn't stand in it as it is."""
    return isinstance(step, model.ReadingStep) and step.component is not None and step.component.parallel is not None


def _meter(attempt: Attempt) -> tuple[str, str] | None:
    used = attempt.instrument
    return None if used is None else (used.instrument, used.accuracy)


def _accuracy(job: Job, attempt: Attempt) -> Accuracy | None:
    """The instrument's accuracy at the ambient temperature of its run; None where none was in use."""
    run = next((run for run in job.runs if run.number == attempt.run), None)
    return None if attempt.instrument is None or run is None else accuracy_in(run, attempt.instrument)
