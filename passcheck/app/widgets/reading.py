"""What does the instrument show: one value or several, with the leads shorted first or swapped where the step asks?"""

from passcheck.app.widgets.fields import Ask, NotUnderstood, Understood, of_limits, reading_in, written_unit
from passcheck.app.widgets.fields_entry import FieldsEntry
from passcheck.job.answers import ReadingAnswer
from passcheck.sequence.model import Component, ReadingStep


class ReadingEntry(FieldsEntry):
    """Entries for the shorted leads (where asked), each reading, and for a part in circuit the leads swapped."""

    def __init__(self, step: ReadingStep) -> None:
        """Args: step: what is read."""
        self._leads = step.leads is not None
        self._swapped = step.component is not None
        self._derived = step.derive is not None
        asks = [of_limits("Leads shorted", step.leads)] if step.leads is not None else []
        asks += _readings(step)
        if step.component is not None:
            asks.append(_of_part("Leads swapped", step.component))
        super().__init__(tuple(asks), self._made, _lead(step))

    def _made(self, texts: tuple[str, ...]) -> ReadingAnswer:
        if self._derived:
            return ReadingAnswer(())
        left = list(texts)
        leads = left.pop(0) if self._leads else None
        reverse = left.pop() if self._swapped else None
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
