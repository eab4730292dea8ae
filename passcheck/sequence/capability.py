"""How well can the least instrument that a step asks for decide the step's limits?"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from passcheck.judge.accuracy import COVERAGE, Accuracy, capability, standard_uncertainty
from passcheck.judge.limits import Limits
from passcheck.sequence.finding import Loc
from passcheck.sequence.model import PowerUpStep, ReadingStep, Sequence, Step, TableStep


@dataclass(frozen=True, slots=True)
class Capability:
    """One pair of limits beside its instrument: `error` is the expanded one (95 %), in `unit`, at the middle or end.

    `ratio` says how many times as wide as the error the limits are; None for a one-sided limit, which has no width.
    """

    step: str
    limits: str
    instrument: str
    accuracy: str
    error: float
    unit: str
    digit: Decimal
    ratio: float | None


def capabilities(sequence: Sequence) -> tuple[Capability, ...]:
    """Every pair of limits that an instrument's reading is compared with, once a step, in the order of the steps."""
    return tuple(dict.fromkeys(_of(sequence)))


def _of(sequence: Sequence) -> Iterator[Capability]:
    for step in sequence.steps:
        need = sequence.instruments.get(step.instrument or "")
        if need is None or step.instrument is None:
            continue
        for _, limits in measured_limits(step):
            yield _beside(step, limits, step.instrument, need.accuracy)


def _beside(step: Step, limits: Limits, role: str, accuracy: Accuracy) -> Capability:
    digit = shown_digit(limits)
    ends = [end.value for end in (limits.low, limits.high) if end is not None]
    error = COVERAGE * standard_uncertainty(accuracy, sum(ends, Decimal(0)) / len(ends), digit)
    ratio = capability(limits, accuracy, digit)
    return Capability(step.id, limits.text, role, accuracy.text, error, limits.unit, digit, ratio)


def measured_limits(step: Step) -> Iterator[tuple[Loc, Limits]]:
    """The limits of a step that an instrument's reading is compared with, each with its place in the step."""
    match step:
        case PowerUpStep():
            if step.limits.unit == "A":  # another unit is a finding of its own
                yield ("limits",), step.limits
        case ReadingStep(limits=Limits() as limits, derive=None):
            yield ("limits",), limits
        case TableStep():
            yield from ((("rows", place, "limits"), row.limits) for place, row in enumerate(step.rows))
        case _:
            return


def shown_digit(limits: Limits) -> Decimal:
    """The last digit that an instrument would show near these limits, in the base unit.

    As finely as the limits are written, and at least a thousandth of the decade they lie in: a display of four digits.
    """
    ends = [end for end in (limits.low, limits.high) if end is not None]
    largest = max(abs(end.value) for end in ends)
    display = Decimal(1).scaleb(largest.adjusted() - 3) if largest else ends[0].digit
    return min(display, *(end.digit for end in ends))
