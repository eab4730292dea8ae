"""Who takes the job on, and what should they know?"""

from typing import ClassVar

from textual.app import ComposeResult

from passcheck.app.plain import Lines, Words, line
from passcheck.app.screens.slip import Slip
from passcheck.job.commands import Command, HandOver, Refusal


class HandOverSlip(Slip):
    """After a hand-over every caution is asked of the other person afresh."""

    TITLE_WORDS: ClassVar[str] = "HAND OVER"
    LEAD: ClassVar[str] = "Show the unit and its supply to the one who takes over. Every caution is asked afresh."
    KEEP: ClassVar[str] = "Hand over"

    def fields(self) -> ComposeResult:
        """Whom, and a word to them."""
        yield Words(f"The job is with {self.bench.job.holder}.")
        people = self.desk.settings().people
        self._ids = [key for key in people if key != self.bench.job.holder]
        yield Lines(*(line(f"{key}  {people[key].name}") for key in self._ids), id="to")
        yield from self.row("Word to them", "note", hint="where you stopped, what is fitted")

    def command(self) -> Command | Refusal:
        """The hand-over."""
        at = self.query_one("#to", Lines).highlighted
        if at is None:
            return Refusal("entry", "Nobody is chosen.", "Choose who takes over.")
        self._to = self._ids[at]
        return HandOver(self.person, self._to, self.typed("note"))

    def kept(self) -> None:
        """From here the other person is at the bench."""
        self.desk.person = self._to
        super().kept()
