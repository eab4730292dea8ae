"""Which two readings of this run does a worked-out value stand on?

They are never typed: the latest attempts that stand at the two named steps, each with the instrument it was read with.
"""

from collections.abc import Callable
from decimal import Decimal

from passcheck.job.answers import ReadingAnswer
from passcheck.job.entry import EntryFault, readings
from passcheck.job.events import InstrumentInUse
from passcheck.job.standing import on_unit_in_hand
from passcheck.job.state import Attempt, Job, Run
from passcheck.judge.accuracy import Accuracy
from passcheck.judge.derived_reading import Operand, read_operand, worked_out_operand
from passcheck.judge.quantity import Quantity
from passcheck.sequence.model import Derive

Operands = tuple[Operand, Operand]


def attempts_behind(job: Job, run: Run, derive: Derive) -> tuple[Attempt, Attempt]:
    """Return the latest standing attempt of either step in this run.

    Raises:
        EntryFault: one of them was not read in this run, or showed no value.
    """
    first, second = derive.of
    return _latest(job, run, first), _latest(job, run, second)


def operands_of(both: tuple[Attempt, Attempt], accuracy_of: Callable[[InstrumentInUse], Accuracy]) -> Operands:
    """Return the values of two attempts with what their instruments may be off.

    Raises:
        EntryFault: one of them is over range.
    """
    first, second = both
    return _operand(first, accuracy_of), _operand(second, accuracy_of)


def _latest(job: Job, run: Run, step_id: str) -> Attempt:
    step = job.sequence.step(step_id)
    made = [attempt for attempt in on_unit_in_hand(job, step) if attempt.run == run.number]
    if not made:
        raise EntryFault(f"{step.title} was not read in this run: read it first, this value is worked out from it")
    if made[-1].judgement.value is None:
        raise EntryFault(f"{step.title} showed no value in this run: read it again, this value is worked out from it")
    return made[-1]


def _operand(attempt: Attempt, accuracy_of: Callable[[InstrumentInUse], Accuracy]) -> Operand:
    judged, used = attempt.judgement, attempt.instrument
    if used is None or not isinstance(attempt.answer, ReadingAnswer):
        return worked_out_operand(Decimal(judged.value or 0), judged.unit, float(judged.u or 0))
    values = readings(attempt.answer.readings, judged.unit)
    numbers = [value for value in values if isinstance(value, Quantity)]
    if len(numbers) < len(values):
        raise EntryFault(f"{values[0].text} is over range, so nothing can be worked out from it")
    return read_operand(numbers, accuracy_of(used), used.instrument)
