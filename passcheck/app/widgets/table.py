"""Which output does each input give?"""

from passcheck.app.widgets.fields import of_limits
from passcheck.app.widgets.fields_entry import FieldsEntry
from passcheck.job.answers import TableAnswer
from passcheck.sequence.model import TableStep


class TableEntry(FieldsEntry):
    """A field a row, in the rows' order."""

    def __init__(self, step: TableStep) -> None:
        """Args: step: inputs and outputs."""
        super().__init__(tuple(of_limits(row.put, row.limits) for row in step.rows), TableAnswer)
