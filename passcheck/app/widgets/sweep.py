"""How long did the pointer take up and down, and did it hesitate?"""

from passcheck.app.widgets.fields import Ask, of_limits, words
from passcheck.app.widgets.fields_entry import FieldsEntry
from passcheck.job.answers import SweepAnswer
from passcheck.sequence.model import SweepStep


class SweepEntry(FieldsEntry):
    """Two times from an instrument, and where it hesitated."""

    def __init__(self, step: SweepStep) -> None:
        """Args: step: the gauge and its arc."""
        asks = (
            of_limits("Time up", step.up, over_range=False),
            of_limits("Time down", step.down, over_range=False),
            Ask("Hesitated where, or none", words),
        )
        super().__init__(asks, _made, f"{step.gauge}: the whole arc, timed by camera frames or scope.")


def _made(texts: tuple[str, ...]) -> SweepAnswer:
    return SweepAnswer(texts[0], texts[1], None if texts[2].strip().lower() in ("none", "no") else texts[2])
