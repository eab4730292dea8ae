"""Do the unit in hand and the label on it belong together?"""

import asyncio
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Input

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Words
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.big_word import BigWord
from passcheck.app.widgets.typed import Slot
from passcheck.bench.bench import Bench
from passcheck.bench.ports import PaperMaker
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.label_match import Match


class ScanBothSheet(JobModal[None]):
    """Two scans and one large word; nothing of it enters the record, and nothing scanned is a key here."""

    AUTO_FOCUS = "#unit"
    DEFAULT_CSS = """
    ScanBothSheet .row { height: 1; margin-bottom: 1; }
    ScanBothSheet .row Words { width: 18; text-style: bold; }
    ScanBothSheet .row Slot { width: 1fr; }
    ScanBothSheet BigWord { color: $ink; margin: 1 0; }
    ScanBothSheet #match-words { min-height: 4; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="both.leave", tooltip="Back to the papers."),
    ]

    def __init__(self, bench: Bench, maker: PaperMaker) -> None:
        """Args: bench: the unit in hand; maker: knows the record that the label's code stands for."""
        super().__init__(bench)
        self._maker = maker

    def compose(self) -> ComposeResult:
        """Unit, label, and what comes of it."""
        with VerticalScroll(classes="slip", can_focus=False):
            yield Words("SCAN BOTH", classes="slip-title")
            yield Words("First the number on the unit itself, then the last line of its label.", classes="hint")
            yield Words()
            for words, ident in (("Unit", "unit"), ("Label", "label")):
                with Horizontal(classes="row"):
                    yield Words(words)
                    yield Slot(placeholder="scan it, or type it and Enter", id=ident, classes="-idle", max_length=400)
            yield BigWord()
            yield Words(id="match-words")
            yield Words("Enter after each, Esc goes back. Nothing is entered into the record.", classes="hint")
            yield AnswerLine()

    def take_scan(self, code: str) -> bool:
        """A scan that came while no slot had the cursor belongs into the next one."""
        slot = self._slot("label" if self._slot("unit").value else "unit")
        slot.value = code
        self._entered(slot)
        return True

    def on_input_changed(self, event: Input.Changed) -> None:
        """What was found of the scans before stands beside no new one; a slot emptied since has none."""
        if event.input.value:
            self.workers.cancel_group(self, "papers")
            self._say("", "")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """From the unit to the label, and from there to the answer."""
        event.stop()
        self._entered(self._slot(event.input.id or "unit"))

    def action_leave(self) -> None:
        """Back to the papers."""
        self.dismiss(None)

    def _entered(self, slot: Slot) -> None:
        if not slot.value.strip():
            return
        empty = next((one for one in self.query(Slot) if not one.value.strip()), None)
        if empty is not None:
            empty.focus()
        else:
            self._compare(self._slot("unit").value, self._slot("label").value)

    @work(exclusive=True, group="papers")
    async def _compare(self, serial: str, label: str) -> None:
        """In a thread, because the record is read for it; the slots are free for the next unit at once."""
        for slot in self.query(Slot):
            slot.value = ""
        self._slot("unit").focus()
        self.query_one(AnswerLine).clear_answer()
        self._say("", "Looking at the record ...")
        try:
            match = await asyncio.to_thread(self._maker.both, self.bench.job.id, label, serial)
        except (FileFault, BenchFailed) as fault:
            self._say("", "Not compared.")
            self.could_not("read", fault)
            return
        self._found(match)

    def _found(self, match: Match) -> None:
        self._say(match.word, match.sentence)
        if not match.fits and self.desk.settings().tones:
            self.app.bell()

    def _say(self, word: str, sentence: str) -> None:
        self.query_one(BigWord).word = word
        self.query_one("#match-words", Words).say(sentence)

    def _slot(self, ident: str) -> Slot:
        return self.query_one(f"#{ident}", Slot)
