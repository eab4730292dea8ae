"""Which of a unit's jobs is meant?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from passcheck.app.laid_over import LaidOver
from passcheck.app.plain import Lines, Words, joined, line
from passcheck.job.shelf_row import ShelfRow


class ChooseJob(LaidOver[str | None]):
    """The unit has been here: its jobs, the latest first, or a new one. Dismisses a job number, `NEW`, or None."""

    NEW = "new job"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="choose.leave", tooltip="Back to the shelf; nothing is opened.")
    ]

    def __init__(self, serial: str, rows: tuple[ShelfRow, ...]) -> None:
        """Take the unit's jobs."""
        super().__init__()
        self._serial = serial
        self._rows = rows

    def compose(self) -> ComposeResult:
        """One line a job."""
        with Vertical(classes="slip"):
            yield Words(f"UNIT {self._serial} HAS BEEN HERE", classes="slip-title")
            yield Lines(*map(_line, self._rows), line("Take it in as a new job", self.NEW))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A job was chosen."""
        self.dismiss(event.option_id)

    def action_leave(self) -> None:
        """None was chosen."""
        self.dismiss(None)


def _line(row: ShelfRow) -> Option:
    how = row.ended or f"waits for: {row.waits_for}"
    return line(joined((row.job, "bold"), f"  {row.opened_at[:10]}  {how}  “{row.complaint[:60]}”"), row.job)
