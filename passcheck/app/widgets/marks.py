"""Where did the pointer stand at each mark, rising and falling?"""

from passcheck.app.widgets.fields import Ask, reading_in, written_unit
from passcheck.app.widgets.fields_entry import FieldsEntry
from passcheck.job.answers import MarksAnswer
from passcheck.sequence.model import MarksStep


class MarksEntry(FieldsEntry):
    """A field a mark and direction; the order is the order in which the marks are fed."""

    def __init__(self, step: MarksStep) -> None:
        """Args: step: the gauge and its marks."""
        self._count = len(step.marks)
        unit = written_unit(step.tolerance.text) or step.tolerance.unit
        read = reading_in(unit, step.tolerance.unit, over_range=False)
        rising = [Ask(f"{mark.feed} rising", read, unit) for mark in step.marks]
        # Coming back, the last mark that was fed is the first one met.
        falling = [Ask(f"{mark.feed} falling", read, unit) for mark in reversed(step.marks)] if step.both_ways else []
        super().__init__((*rising, *falling), self._made, f"{step.gauge}: where the pointer stands, in {unit}.")

    def _made(self, texts: tuple[str, ...]) -> MarksAnswer:
        return MarksAnswer(texts[: self._count], tuple(reversed(texts[self._count :])))
