"""Was the hazard read, and does the bench stand as the sequence asks?

Hazard, harm, what to do, when to stop: always in this order, one message at a time, the worst first. WARNING and DANGER
ask for a fact that the bench's own display shows; no key alone answers them. A wrong fact is refused, and what would
have been right is not said.
"""

from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Words, joined
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.big_word import BigWord
from passcheck.app.widgets.typed import Slot
from passcheck.bench.bench import Bench
from passcheck.job import cautions
from passcheck.job.cautions import Asked
from passcheck.job.commands import Acknowledge
from passcheck.job.fixed_words import LICENSED

DWELL_S: Final = 2.0
"""Time to read before anything can be answered; a hand that is faster has not read (see the habituation studies)."""


class CautionScreen(JobModal[bool]):
    """The hazard messages in `names` that this person still has to answer; dismisses True once none is left."""

    CSS_PATH = "caution.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("u", "understood", "Understood", show=False, id="caution.understood", tooltip="Answers a CAUTION."),
        Binding(
            "pagedown",
            "read(1)",
            "Read on",
            show=False,
            priority=True,
            id="caution.down",
            tooltip="Reads on where the message is longer than the window.",
        ),
        Binding(
            "pageup",
            "read(-1)",
            "Read back",
            show=False,
            priority=True,
            id="caution.up",
            tooltip="Reads back.",
        ),
        Binding("escape", "leave", "Back", id="caution.leave", tooltip="Goes back; the caution stays unanswered."),
    ]

    def __init__(self, bench: Bench, names: tuple[str, ...], dwell_s: float = DWELL_S) -> None:
        """Args:
        bench: the unit in hand.
        names: which of the sequence's hazard messages.
        dwell_s: seconds before an answer is taken.
        """
        super().__init__(bench)
        self._names = names
        self._dwell_s = dwell_s
        self._open = False
        self._dwelt = False  # the time to read is over

    def compose(self) -> ComposeResult:
        """Signal word, the four lines, the place for the fact."""
        with Vertical(id="notice", classes="slip"):
            yield BigWord(id="signal")
            with VerticalScroll(id="message", can_focus=False):
                yield Words(id="hazard")
                yield Words(id="harm")
                yield Words(id="avoid")
                yield Words(id="stop")
                yield Words(id="person")
            yield Words(id="ask")
            yield Slot(id="fact", select_on_focus=False, max_length=64)
            yield AnswerLine()

    def on_mount(self) -> None:
        """The worst comes first."""
        self._show_next()

    def refresh_job(self) -> None:
        """An answer was kept, or the screen came back: show what is still open."""
        if self.is_mounted:
            self._show_next()

    def on_screen_resume(self) -> None:
        """Make safe may have been called meanwhile."""
        self.refresh_job()

    @property
    def asked(self) -> tuple[Asked, ...]:
        """What this person still has to answer, the worst first."""
        return cautions.asked(self.bench.job, self._names, self.person, self.bench.moment())

    def _show_next(self) -> None:
        if not self.asked:
            self.dismiss(True)
            return
        one = self.asked[0]
        caution = one.caution
        self.query_one("#notice").set_classes(f"slip -{caution.signal.lower()}")
        self.query_one("#signal", BigWord).word = caution.signal
        for name, label, text in (
            ("hazard", "", caution.hazard),
            ("harm", "", caution.harm),
            ("avoid", "DO  ", " ".join(caution.avoid)),
            ("stop", "STOP IF  ", caution.stop_if),
        ):
            self.query_one(f"#{name}", Words).say(joined((label, "bold"), text))
        person = self.query_one("#person", Words)
        person.display = caution.signal == "DANGER"
        person.say(self._who() if caution.signal == "DANGER" else "")
        self._wait()

    def _who(self) -> str:
        name = self.desk.name_of(self.person)
        return f"{name} ({self.person}) answers this. If that is not you, go back and press F9.\n{LICENSED}"

    def _wait(self) -> None:
        """Nothing is taken while the message is read."""
        self._open = self._dwelt = False
        self.query_one("#message", VerticalScroll).scroll_home(animate=False)
        slot = self.query_one("#fact", Slot)
        slot.value = ""
        slot.disabled = True
        slot.display = self.asked[0].confirm is not None
        self.query_one("#ask", Words).say("WAIT: read this first.")
        if self._dwell_s > 0:
            self.set_timer(self._dwell_s, self._take_answers)
        else:
            self.call_after_refresh(self._take_answers)

    def action_read(self, by: int) -> None:
        """On or back in a message that is longer than the window; answers are taken once its end was seen."""
        message = self.query_one("#message", VerticalScroll)
        message.scroll_relative(y=by * max(1, message.size.height - 1), animate=False)
        if self._dwelt and not self._open:
            self.call_after_refresh(self._take_answers)

    def on_resize(self) -> None:
        """What was wholly seen may be cut off now."""
        if self._open:
            self.call_after_refresh(self._take_answers)

    def _unread(self) -> bool:
        message = self.query_one("#message", VerticalScroll)
        return message.scroll_offset.y < message.max_scroll_y

    def _take_answers(self) -> None:
        if not self.asked:
            return
        self._dwelt = True
        self._open = not self._unread()
        if not self._open:
            self.query_one("#ask", Words).say("MORE BELOW: Page Down reads on.")
            return
        confirm = self.asked[0].confirm
        ask = self.query_one("#ask", Words)
        if confirm is None:
            ask.say("Press U when you have understood it and the bench is as it says.")
            return
        ask.say(f"{confirm.ask}: type what it shows, all its digits, then Enter.")
        slot = self.query_one("#fact", Slot)
        slot.disabled = False
        slot.focus()

    async def on_input_submitted(self, event: Slot.Submitted) -> None:
        """A fact was typed."""
        event.stop()
        if self._open and event.value.strip() and self.asked:
            await self._answer(event.value.strip())

    async def action_understood(self) -> None:
        """The deliberate key; it answers a CAUTION that asks for no fact, and nothing else."""
        if self._open and self.asked and self.asked[0].confirm is None:
            await self._answer(None)

    async def _answer(self, fact: str | None) -> None:
        if await self.act(Acknowledge(self.person, self.asked[0].name, fact)) is None and self.asked:
            self._wait()

    def action_leave(self) -> None:
        """Back without an answer."""
        self.dismiss(False)
