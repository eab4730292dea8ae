"""How long after the press did the unit answer, as an instrument gave it?"""

from passcheck.app.widgets.fields import of_limits
from passcheck.app.widgets.fields_entry import FieldsEntry
from passcheck.job.answers import ReadingAnswer
from passcheck.sequence.model import ResponseStep


class ResponseEntry(FieldsEntry):
    """One time, from scope, camera frames or contact input."""

    def __init__(self, step: ResponseStep) -> None:
        """Args: step: what is pressed and watched."""
        super().__init__(
            (of_limits("Time by instrument", step.limits),),
            ReadingAnswer,
            f"Press {step.press}; watch: {step.watch}. Give the time that scope, camera or contact input shows.",
        )
