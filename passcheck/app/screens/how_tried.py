"""Under which conditions is the step at hand tried, and who else sees it?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Button, Input

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Words, button
from passcheck.app.trying import Trying
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.tick import Tick
from passcheck.app.widgets.typed import Slot
from passcheck.bench.bench import Bench
from passcheck.job.commands import Refusal
from passcheck.job.permission import identified
from passcheck.job.symptoms import known_conditions
from passcheck.sequence.model import Step


class HowTriedSlip(JobModal[Trying | None]):
    """Ticks for the conditions, a line for one of your own, the second person with the PIN where one is kept."""

    CSS_PATH = "slips.tcss"
    AUTO_FOCUS = "Tick, Slot"
    DEFAULT_CSS = """
    HowTriedSlip .row { height: 1; margin-top: 1; }
    HowTriedSlip .row Words { width: 18; text-style: bold; }
    HowTriedSlip .row Slot { width: 1fr; }
    HowTriedSlip .slip-foot { height: 1; margin-top: 1; }
    HowTriedSlip .slip-foot Words { width: 1fr; margin-left: 2; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f4", "keep", "Keep", id="how-tried.keep", tooltip="The next tries go with it."),
        Binding("escape", "leave", "Back", id="how-tried.leave", tooltip="Back; all stays as it was."),
    ]

    def __init__(self, bench: Bench, step: Step | None, now: Trying) -> None:
        """Args: bench: the unit in hand; step: the one at hand; now: what tries go with at present."""
        super().__init__(bench)
        self._step = step
        self._now = now

    def compose(self) -> ComposeResult:
        """Conditions of the sequence, one of your own, and the witness."""
        known = known_conditions(self.bench.job)
        own = [words for words in self._now.under if words not in known]
        with VerticalScroll(classes="slip", can_focus=False):
            yield Words("HOW IT IS TRIED", classes="slip-title")
            yield Words("It stays so for the next steps until you change it. Space ticks.", classes="hint")
            for words in known:
                yield Tick(words, words in self._now.under, name=words)
            yield from _row("Another condition", Slot(", ".join(own), placeholder="cold, 16 V", id="own"))
            if self._step is not None and self._step.witness:
                seen = self._now.second or ""
                yield from _row("Seen by", Slot(seen, placeholder="the second person", id="second"))
                yield from _row("Their PIN", Slot(placeholder="where one is kept", password=True, id="pin"))
            with Horizontal(classes="slip-foot"):
                yield button("Keep (F4)", id="keep")
                yield Words("Esc leaves it.", classes="hint")
            yield AnswerLine()

    def action_keep(self) -> None:
        """From here tries go with what is ticked and written."""
        ticked = [box.name or "" for box in self.query(Tick) if box.value]
        own = [words.strip() for words in self.query_one("#own", Slot).value.split(",") if words.strip()]
        second, pin = self._typed("#second"), self._typed("#pin")
        if second and (refusal := self._stranger(second, pin)) is not None:
            self.show_refusal(refusal)
            return
        self.dismiss(Trying(tuple(dict.fromkeys((*ticked, *own))), second or None, pin))

    def _stranger(self, second: str, pin: str) -> Refusal | None:
        if second == self.person:
            return Refusal("person", "The second person is the one who tests.", "Another person is needed.")
        return identified(second, pin, self.bench.outside())

    def _typed(self, name: str) -> str:
        return next((slot.value.strip() for slot in self.query(name).results(Slot)), "")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter walks, and keeps after the last."""
        event.stop()
        if event.input is list(self.query(Slot))[-1]:
            self.action_keep()
        else:
            self.focus_next()

    def on_button_pressed(self, event: Button.Pressed) -> None:
        """The button does what the key does."""
        event.stop()
        self.action_keep()

    def action_leave(self) -> None:
        """All stays as it was."""
        self.dismiss(None)


def _row(words: str, slot: Slot) -> ComposeResult:
    with Horizontal(classes="row"):
        yield Words(words)
        yield slot
