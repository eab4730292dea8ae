"""What does every screen on the desk have: a sheet, one place for answers, its keys?"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Generic, TypeVar

from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Footer, Input

from passcheck.app.desk import Desk, desk_of
from passcheck.app.widgets.answer_line import AnswerLine, Undone
from passcheck.app.widgets.too_small import TooSmall

if TYPE_CHECKING:  # a start pays for no command; there is no cycle
    from passcheck.job.commands import Refusal

T = TypeVar("T")


class DeskScreen(Screen[T], Generic[T]):
    """A screen on the desk; subclasses fill `sheet`."""

    takes_taps: ClassVar[bool] = False
    """Is the tap key for this screen? From any other it is kept, unless text is typed there."""

    def compose(self) -> ComposeResult:
        """The sheet, the place for answers, and the keys."""
        yield TooSmall()
        yield from self.sheet()
        yield AnswerLine()
        yield Footer(show_command_palette=False)

    def on_mount(self) -> None:
        """In practice every screen says so, in a line above its keys."""
        if self.desk.practice is not None:
            from passcheck.app.widgets.practice_line import PracticeLine  # nobody at work waits for it

            if not self.query(PracticeLine):
                footer = self.query(Footer)
                self.mount(PracticeLine(), before=footer.first() if footer else None)

    def on_screen_suspend(self) -> None:
        """A sheet that is laid over this screen tells what to do; two lines that differ would mislead."""
        for line in self.query("PracticeLine"):
            line.visible = False

    def on_screen_resume(self) -> None:
        """What is to be done next is said here again."""
        for line in self.query("PracticeLine"):
            line.visible = True
        self.coach_anew()

    def coach_anew(self) -> None:
        """In practice: say what is to be done next, once what was just done is drawn."""
        if self.desk.practice is not None:
            from passcheck.app.widgets.practice_line import PracticeLine  # nobody at work waits for it

            for line in self.query(PracticeLine):
                line.paint_soon()

    def sheet(self) -> ComposeResult:
        """What lies on this screen."""
        yield from ()

    @property
    def desk(self) -> Desk:
        """The application, with shop and person."""
        return desk_of(self)

    def unfinished(self) -> str:
        """What was begun here and would be lost, in words, or ""."""
        return unfinished_entries(self)

    def take_scan(self, code: str) -> bool:
        """A scanned code that no entry took; True when this screen had a use for it."""
        del code
        return False

    def person_changed(self) -> None:
        """Somebody else is at the bench."""

    def refused(self, refusal: Refusal) -> None:
        """Show a refusal in its one place."""
        self.query_one(AnswerLine).refuse(refusal)

    def reader_lost(self) -> None:
        """Keys are stamped less exactly from now."""

    def failed(self, fault: Exception) -> None:
        """Show that the bench could not keep what was entered."""
        self.query_one(AnswerLine).fail(str(fault))

    def could_not(self, undone: Undone, fault: Exception) -> None:
        """Show that the bench could not do something that keeps nothing."""
        self.query_one(AnswerLine).could_not(undone, str(fault))


def unfinished_entries(screen: Screen[T]) -> str:
    """In words, whether something was typed that isn't kept yet; entries of class `-idle` don't count."""
    from textual.widgets import TextArea  # big, and the first screen has none

    typed = any(entry.value.strip() for entry in screen.query(Input) if not entry.has_class("-idle"))
    written = any(area.text.strip() for area in screen.query(TextArea) if not area.has_class("-idle"))
    return "an entry is not finished" if typed or written else ""
