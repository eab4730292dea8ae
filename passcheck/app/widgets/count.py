"""How many were there?"""

from passcheck.app.widgets.fields import Ask, number
from passcheck.app.widgets.fields_entry import FieldsEntry
from passcheck.job.answers import CountAnswer
from passcheck.sequence.model import CountStep


class CountEntry(FieldsEntry):
    """One whole number."""

    def __init__(self, step: CountStep) -> None:
        """Args: step: what is counted."""
        super().__init__((Ask(f"Number of {step.of}", number),), lambda texts: CountAnswer(int(texts[0])))
