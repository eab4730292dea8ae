"""What does the instrument show: one value or several, with the leads shorted first or swapped where the step asks?"""

from passcheck.app.widgets.fields import Ask, NotUnderstood, Understood, of_limits, reading_in, written_unit
from passcheck.app.widgets.fields_entry import FieldsEntry
from passcheck.job.answers import ReadingAnswer
from passcheck.sequence.model import Component, ReadingStep


class ReadingEntry(FieldsEntry):
    """Entries for the shorted leads (where asked), each reading, and for a part in circuit the leads swapped."""

    def __init__(self, step: ReadingStep) -> None:
        """Args: step: what is read."""
        super().__init__(reading_asks(step), lambda texts: reading_answer(step, texts), _lead(step))


def reading_asks(step: ReadingStep) -> tuple[Ask, ...]:
    """The values of one answer, in the order in which they are given."""
    leads = (of_limits("Leads shorted", step.leads),) if step.leads is not None else ()
    swapped = (_of_part("Leads swapped", step.component),) if step.component is not None else ()
    return (*leads, *_readings(step), *swapped)


def reading_answer(step: ReadingStep, texts: tuple[str, ...]) -> ReadingAnswer:
    """The answer that the texts of `reading_asks` make."""
    if step.derive is not None:
        return ReadingAnswer(())
    left = list(texts)
    leads = left.pop(0) if step.leads is not None else None
    reverse = left.pop() if step.component is not None else None
    return ReadingAnswer(tuple(left), reverse=reverse, leads=leads)


def _readings(step: ReadingStep) -> list[Ask]:
    if step.component is not None:
        return [_of_part("Reading", step.component)]
    limits = step.limits
    if step.derive is not None:
        return [Ask("Enter works it out", _never_typed, empty="")]
    if limits is None:
        return []
    if step.readings == 1:
        return [of_limits("Reading", limits)]
    return [of_limits(f"Reading {number} of {step.readings}", limits) for number in range(1, step.readings + 1)]


def _never_typed(text: str) -> Understood:
    raise NotUnderstood(f"'{text[:20]}': this value is worked out from two readings, never typed; empty it, then Enter")


def _of_part(label: str, part: Component) -> Ask:
    unit = written_unit(part.nominal.text) or part.nominal.unit
    return Ask(label, reading_in(unit, part.nominal.unit), unit)


def _lead(step: ReadingStep) -> str:
    if step.derive is not None:
        return f"Worked out from {' and '.join(step.derive.of)} ({step.derive.form})"
    if step.node is None:
        return ""
    return f"{step.node.polarity}; read after {step.node.settle.text}"
