"""What was changed for a test and has to be put back before the unit leaves?"""

from typing import ClassVar

from textual.app import ComposeResult

from passcheck.app.plain import Lines, Words, line
from passcheck.app.screens.slip import Slip
from passcheck.job.commands import Command, Refusal, UndoChange


class PutBackSlip(Slip):
    """The list of what is fitted or set; one is chosen and said to be put back."""

    TITLE_WORDS: ClassVar[str] = "PUT BACK"
    KEEP: ClassVar[str] = "It is put back"

    def fields(self) -> ComposeResult:
        """The list, and how."""
        fitted = self.bench.job.fitted
        if not fitted:
            yield Words("Nothing is on the list: nothing was changed for a test.")
        yield Lines(*(line(one.words) for one in fitted), id="fitted")
        yield from self.row("How", "how", hint="switch SW9 back to 'run', looked at it")

    def command(self) -> Command | Refusal:
        """The chosen one was put back."""
        at = self.query_one("#fitted", Lines).highlighted
        if at is None:
            return Refusal("entry", "Nothing is chosen.", "Choose what was put back.")
        return UndoChange(self.person, self.bench.job.fitted[at].change, self.typed("how"))
