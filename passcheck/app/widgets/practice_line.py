"""What tells a newcomer at every screen that the unit is simulated, what to do next, and what a display shows?"""

from typing import Any

from textual.content import Content
from textual.screen import ModalScreen

from passcheck.app.desk import Desk
from passcheck.app.desk_screen import DeskScreen
from passcheck.app.plain import Words, joined
from passcheck.app.practice_desk import PracticeDesk
from passcheck.app.practice_figure import figure_words
from passcheck.app.practice_where import job_of, where_is
from passcheck.practice.coach import advice

LOOK_AGAIN_S = 1.0
"""A charge decays and a meter goes on while the newcomer reads."""
SAID_S = 4.0
"""How long a thing that was done stays said."""
NO_COACH = "This unit doesn't exist. Ctrl+L: what to do next."


class PracticeLine(Words):
    """The word PRACTICE, then advice; below it a display's figure where one is asked for."""

    DEFAULT_CSS = """
    PracticeLine { height: auto; max-height: 3; padding: 0 1; background: $secondary; color: $background; }
    PracticeLine.-docked { dock: bottom; min-height: 2; }
    """

    said: Content | None = None
    """What stands there."""

    def on_mount(self) -> None:
        """Say it anew whenever the cursor moves, and now and then; but draw nothing by itself where taps are taken."""
        screen = self.screen
        self.set_class(isinstance(screen, ModalScreen), "-docked")  # a slip lies in the middle, without keys below it
        self.paint()
        if isinstance(screen, DeskScreen) and not screen.takes_taps:
            self.watch(screen, "focused", self.paint_soon, init=False)
            self.set_interval(LOOK_AGAIN_S, self._look_again)

    def _look_again(self) -> None:
        if self.screen.is_current:
            self.paint()

    def paint_soon(self) -> None:
        """Say what is true once all that goes with it is drawn; where taps are taken no work is done."""
        if isinstance(self.screen, DeskScreen) and not self.screen.takes_taps:
            self.call_after_refresh(self.paint)

    def paint(self) -> None:
        """Say what is true now."""
        if not self.is_attached:  # a sheet that is left says nothing more
            return
        screen = self.screen
        if isinstance(screen, DeskScreen) and screen.desk.practice is not None:
            words = words_at(screen, screen.desk.practice)
            if words != self.said:
                self.said = words
                self.say(words)


def words_at(screen: DeskScreen[Any], practice: PracticeDesk) -> Content:
    """The line's words at a screen."""
    job = job_of(screen)
    ended = job is not None and job.ended is not None
    said = NO_COACH
    if practice.coach or ended:
        said = advice(job, screen.desk.shop.clock(), where_is(screen, practice.bench)) or NO_COACH
    figure = figure_words(screen, practice.bench)
    first = joined(("PRACTICE", "bold reverse"), f"  {practice.said or said}")
    return Content.assemble(first, "\n", joined((figure, "bold"))) if figure else first


def say(desk: Desk, words: str) -> None:
    """Let the line say what was done, for a while."""
    if desk.practice is None:
        return
    desk.practice.said = words
    _paint_top(desk)
    if words:
        desk.set_timer(SAID_S, lambda: _forget(desk, words))


def _forget(desk: Desk, words: str) -> None:
    if desk.practice is not None and desk.practice.said == words:
        desk.practice.said = ""
        _paint_top(desk)


def _paint_top(desk: Desk) -> None:
    """The screen on top is the one that is read; others say it anew when they come back."""
    screen = desk.screen if desk.screen_stack else None  # a timer may fire while the program ends
    if isinstance(screen, DeskScreen) and not screen.takes_taps:
        for line in screen.query(PracticeLine):
            line.paint()
