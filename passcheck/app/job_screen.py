"""What do all screens of a job share: the unit in hand, one way to act, one place where refusals are shown?"""

from collections.abc import Callable
from typing import Generic, TypeVar

from textual.app import ComposeResult
from textual.timer import Timer
from textual.widgets import Footer

from passcheck.app.desk_screen import DeskScreen
from passcheck.app.laid_over import LaidOver
from passcheck.app.plain import tell
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.job_head import JobHead
from passcheck.app.widgets.too_small import TooSmall
from passcheck.bench.bench import Bench, Done
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.commands import Command, Refusal

T = TypeVar("T")
HEAD_REFRESH_S = 20.0  # a told "on" fades with time, so the head is drawn again without a key


class _Acts(DeskScreen[T], Generic[T]):
    """Acting on the unit in hand."""

    bench: Bench
    refusal: Refusal | None = None

    @property
    def person(self) -> str:
        """Who is at the bench: the `by` of every command."""
        return self.desk.person

    async def act(self, command: Command) -> Done | None:
        """Carry a command out: the job after it, or None when it was refused or not kept, which is then shown here.

        `self.refusal` is the refusal, if that is what came back.
        """
        answer = await self.ask(command)
        if isinstance(answer, Refusal):
            self.show_refusal(answer)
            return None
        return answer

    async def ask(self, command: Command) -> Done | Refusal | None:
        """Like `act`, but a refusal is handed back and not shown; None when the bench failed, which is shown."""
        self.refusal = None
        try:
            answer = await self.bench.do(command)
        except (BenchFailed, FileFault) as fault:
            self._show_failure(str(fault))
            return None
        if isinstance(answer, Refusal):
            self.refusal = answer
            return answer
        for line in self.query(AnswerLine):
            line.clear_answer()
        self.desk.keep_tag(self.bench)
        self.refresh_job()
        self.coach_anew()
        return answer

    def show_refusal(self, refusal: Refusal) -> None:
        """Say why not, and what lifts it, in the one place for it."""
        for line in self.query(AnswerLine):
            line.refuse(refusal)
            return
        tell(self.app, f"Refused. {refusal.sentence} {refusal.lift}", "warning")

    def person_changed(self) -> None:
        """Draw with the other name."""
        self.refresh_job()

    def refresh_job(self) -> None:
        """Draw the job again; called after every command that was carried out, and when the screen comes back."""

    def _show_failure(self, sentence: str) -> None:
        for line in self.query(AnswerLine):
            line.fail(sentence)
            return
        tell(self.app, sentence, "error")


class JobScreen(_Acts[None]):
    """A whole screen of one job: head with the power line, the sheet, answers, keys. Subclasses fill `sheet`."""

    def __init__(self, bench: Bench) -> None:
        """Take the unit in hand."""
        super().__init__()
        self.bench = bench
        self._ticks: tuple[Timer, ...] = ()
        self._still = False  # nothing is called by time now

    def compose(self) -> ComposeResult:
        """Head, sheet, answers and keys."""
        yield TooSmall()
        yield JobHead()
        yield from self.sheet()
        yield AnswerLine()
        yield Footer(show_command_palette=False)

    def sheet(self) -> ComposeResult:
        """What lies on this screen."""
        yield from ()

    def on_mount(self) -> None:
        """Keep the head true as time passes."""
        self.every(HEAD_REFRESH_S, self.refresh_head)

    def every(self, seconds: float, call: Callable[[], None]) -> None:
        """Call again and again, but not while taps are taken."""
        self._ticks = (*self._ticks, self.set_interval(seconds, call, pause=self._still))

    def hold_timers(self) -> None:
        """Nothing is called by time until `on_screen_resume`."""
        self._still = True
        for timer in self._ticks:
            timer.pause()

    def on_screen_suspend(self) -> None:
        """Another screen lies over this one; one that takes taps wants no other work done."""
        if isinstance(self.app.screen, DeskScreen) and self.app.screen.takes_taps:
            self.hold_timers()

    def on_screen_resume(self) -> None:
        """This is the unit in hand from now; what other screens did to it is shown."""
        if not self.takes_taps:
            self._still = False
            for timer in self._ticks:
                timer.resume()
        if self.bench.job.ended is None or self.desk.bench is None or self.desk.bench.job.ended is not None:
            self.desk.bench = self.bench  # a unit that has left is only looked at: make safe is for the one still here
        self.refresh_job()

    def refresh_head(self) -> None:
        """Draw job, person and power again."""
        for head in self.query(JobHead):
            head.tell_of(self.bench.job, self.bench.moment(), self.person)

    def refresh_job(self) -> None:
        """Draw the head again; subclasses draw their sheet and call this."""
        self.refresh_head()


class JobModal(LaidOver[T], _Acts[T], Generic[T]):
    """A sheet laid over a screen of the job; subclasses compose it, with an `AnswerLine` in it, and dismiss a value."""

    def __init__(self, bench: Bench) -> None:
        """Take the unit in hand."""
        super().__init__()
        self.bench = bench
