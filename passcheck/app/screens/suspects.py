"""Which block is to be looked at, after what passed and failed, and which step would tell more?"""

import asyncio
from typing import ClassVar, Final

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Button

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Words, button, joined, plain
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.bench.past_repairs import PastRepairs
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.suspecting import Suspicion, suspicion

LEAD: Final = "A help and no verdict: it says where to look first. What you see and measure decides."
FIRST_SHOWN: Final = 600
OTHERS_SHOWN: Final = 240
"""Signs of a suspect's sentence; its weightiest steps come first, so what is cut off says least."""


class SuspectsSlip(JobModal[str]):
    """The suspects in order, each with its evidence, and all that the order assumes; dismisses a step to walk next."""

    AUTO_FOCUS = "#suspects-scroll"
    DEFAULT_CSS = """
    SuspectsSlip .hint { height: auto; }
    SuspectsSlip #next { height: auto; margin: 1 0; }
    SuspectsSlip #suspects-scroll { height: 1fr; background: $card-row; padding: 0 1; scrollbar-size-vertical: 1; }
    SuspectsSlip #suspects { height: auto; }
    SuspectsSlip .slip-foot { height: 1; margin-top: 1; }
    SuspectsSlip .slip-foot Button { width: auto; margin-right: 2; display: none; }
    SuspectsSlip.-next .slip-foot Button { display: block; }
    SuspectsSlip .slip-foot Words { width: 1fr; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "go", "To that step", id="suspects.go", tooltip="The step that tells most, on the bench."),
        Binding("escape", "leave", "Back", id="suspects.leave", tooltip="Back to where you were."),
    ]
    _next: str | None = None

    def compose(self) -> ComposeResult:
        """What to walk next on top, the ranking with what it assumes below."""
        with Vertical(classes="slip -tall"):
            yield Words("SUSPECTS", classes="slip-title")
            yield Words(LEAD, classes="hint")
            yield Words(id="next")
            with VerticalScroll(id="suspects-scroll"):
                yield Words("Weighing what passed and what failed ...", id="suspects")
            with Horizontal(classes="slip-foot"):
                yield button("To that step (Enter)", id="go")
                yield Words("Arrows read on, Esc leaves it.", classes="hint")
            yield AnswerLine()

    def on_mount(self) -> None:
        """Weigh, and read what earlier repairs say."""
        self._rank()

    @work(exclusive=True, group="suspects")
    async def _rank(self) -> None:
        """Off the loop, so that neither long sums nor many journals stop the keys; make safe above all."""
        job = self.bench.job
        found = await asyncio.to_thread(suspicion, job)
        if found.silence:
            self._put(found, "")
            return
        self._put(found, f"Earlier repairs of {job.sequence.sequence} are being read; they may change the order.")
        try:
            past = await asyncio.to_thread(self.desk.shop.past_repairs, job.sequence.sequence)
        except (FileFault, BenchFailed) as fault:
            self._put(found, f"Earlier repairs couldn't be read: {fault}")
            return
        self._put(await asyncio.to_thread(suspicion, job, past.confirmed), _unread(past))

    def _put(self, found: Suspicion, about_the_past: str) -> None:
        self._next = found.next_step
        self.set_class(self._next is not None, "-next")
        if found.silence:
            self.query_one("#suspects", Words).say(found.silence)
            return
        self.query_one("#next", Words).say(joined(("NEXT  ", "bold"), found.next_words))
        said = [*found.assumptions, *filter(None, (about_the_past,))]
        parts = [
            *(plain(one.sentence, limit=FIRST_SHOWN if one.place == 1 else OTHERS_SHOWN) for one in found.told),
            plain(""),
            plain("WHAT THIS ASSUMES", "bold"),
            *(joined("- ", sentence) for sentence in said),
        ]
        self.query_one("#suspects", Words).say(Content("\n").join(parts))

    def on_button_pressed(self, event: Button.Pressed) -> None:
        """The button does what the key does."""
        event.stop()
        self.action_go()

    def action_go(self) -> None:
        """Take the proposed step to the bench; without one there is nothing to take."""
        if self._next is not None:
            self.dismiss(self._next)

    def action_leave(self) -> None:
        """Back, with no step."""
        self.dismiss(None)


def _unread(past: PastRepairs) -> str:
    if not past.unread:
        return ""
    return f"Left out, because they couldn't be read: {', '.join(past.unread)}. Opening such a job says what is wrong."
