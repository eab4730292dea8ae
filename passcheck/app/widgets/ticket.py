"""What does the ticket of the step at hand say, and which entry or act does it offer?"""

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Button

from passcheck.app.bench_words import GRANTED, ahead_words, caution_line, place_words, step_note
from passcheck.app.plain import Words, button, joined
from passcheck.app.trying import Trying
from passcheck.app.widgets.big_word import BigWord
from passcheck.app.widgets.kinds import entry_for
from passcheck.app.widgets.step_entry import StepEntry
from passcheck.job.commands import Refusal
from passcheck.job.state import Job
from passcheck.job.step_limits import judged_by
from passcheck.job.steps import is_powered
from passcheck.sequence.model import Step


class Ticket(Vertical):
    """One step, large: what and where, the word for eyes on the probes, the entry or the act that comes before it."""

    def compose(self) -> ComposeResult:
        """From the top: place in the run, title with its word, work, the caution that stays in sight."""
        yield Words(id="place")
        with Horizontal(id="top"):
            with Vertical(id="what"):
                yield Words(id="title")
                yield Words(id="at")
            yield BigWord(id="state")
        with Horizontal(id="middle"):
            with VerticalScroll(id="work", can_focus=False):
                yield Words(id="do")
                yield Words(id="limits")
                yield Words(id="why-not")
                yield Vertical(id="entry")
                yield button("", id="lift")
            yield Words(id="ahead")
        yield Words(id="caution")

    @property
    def state(self) -> str:
        """READ, TYPE, WAIT, AGAIN, DONE or a verdict."""
        return self.query_one("#state", BigWord).word

    def say_state(self, word: str) -> None:
        """Show the word that is read from a metre away."""
        self.query_one("#state", BigWord).word = word

    @property
    def entry(self) -> StepEntry | None:
        """The entry that is open, if any."""
        return next(iter(self.query(StepEntry)), None)

    def half_typed(self) -> bool:
        """Is something typed that is not answered yet?"""
        return self.entry is not None and self.entry.has_text()

    def show_words(
        self, job: Job, step: Step, meter: str | None, chosen: str | None, *, tapped: bool, trying: Trying
    ) -> None:
        """Everything that the step and the run say, apart from whether it may be tried."""
        self._say("place", place_words(job, step))
        self._say("title", joined((step.title, "bold")))
        self._say("at", joined(step_note(job, step, trying, meter, tapped=tapped)))
        self._say("do", "\n".join(step.do))
        self._say("ahead", ahead_words(job, chosen))
        self._say("caution", joined(*caution_line(job, step)), hide=True)

    async def open_entry(self, step: Step, tapped: StepEntry | None = None) -> None:
        """The step may be tried: its entry takes the cursor, `tapped` where it is answered by taps."""
        await self._clear_way()
        if is_powered(step):
            self._say("do", "\n".join((*step.do, GRANTED)))
        entry = tapped or entry_for(step)
        await self.query_one("#entry", Vertical).mount(entry)
        self.say_state(("TAP" if tapped else "READ") if entry.answerable else "WAIT")
        entry.open()
        self.call_after_refresh(self.show_cursor)

    def on_resize(self) -> None:
        """A smaller window may have cut off where the answer goes."""
        self.call_after_refresh(self.show_cursor)

    def show_cursor(self) -> None:
        """Scroll to where the answer goes; words longer than the window's room stand above it."""
        focused = self.screen.focused
        if focused is not None and self.query_one("#work", VerticalScroll) in focused.ancestors:
            focused.scroll_visible(animate=False)

    async def refuse(self, refusal: Refusal, act: str) -> None:
        """The step may not be tried: why, and the act that lifts it, where one does."""
        await self._clear_way()
        self._say("why-not", joined(("NOT YET  ", "bold"), refusal.sentence, "  ", refusal.lift), hide=True)
        self.say_state("WAIT")
        self._offer(act)

    async def show_no_step(self, title: str, do: str, state: str, act: str) -> None:
        """No step lies on the bench: say what is, and offer the one act that goes on from here."""
        await self._clear_way()
        for name in ("place", "at", "ahead"):
            self._say(name, "")
        self._say("caution", "", hide=True)
        self._say("title", joined((title, "bold")))
        self._say("do", do)
        self.say_state(state)
        self._offer(act)

    def echo(self, refusal: Refusal) -> None:
        """An answer outside its limits is shown as it was understood, and asked for once more."""
        self._say("why-not", joined(("ONCE MORE  ", "bold"), refusal.sentence, "  ", refusal.lift), hide=True)
        self.say_state("AGAIN")

    def start_anew(self) -> None:
        """Empty the entry, and with it what was echoed."""
        self._say("why-not", "", hide=True)
        if self.entry is not None:
            self.entry.clear()
        self.say_state("READ")

    def turn_limits(self, step: Step) -> None:
        """Show the limits, or hide them again."""
        hidden = not str(self.query_one("#limits", Words).render())
        self._say("limits", judged_by(step) if hidden else "")

    async def _clear_way(self) -> None:
        await self.query_one("#entry", Vertical).remove_children()
        self._say("limits", "")
        self._say("why-not", "", hide=True)
        self._offer("")

    def _offer(self, label: str) -> None:
        lift = self.query_one("#lift", Button)
        lift.display = bool(label)
        if label:
            lift.label = joined(label)
            lift.focus()
            self.call_after_refresh(self.show_cursor)

    def _say(self, name: str, words: str | Content, *, hide: bool = False) -> None:
        """Fill one of the ticket's lines; with `hide` an empty one takes no room."""
        line = self.query_one(f"#{name}", Words)
        line.say(words)
        if hide:
            line.display = bool(str(words))
