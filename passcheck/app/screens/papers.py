"""Which papers can be made of this job, and what stands on its label?"""

import asyncio
from collections.abc import Mapping
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Lines, Words, joined, line, plain, tell
from passcheck.app.screens.scan_both import ScanBothSheet
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.bench.ports import PaperMaker
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.commands import Refusal
from passcheck.job.made_paper import MadePaper

WORDS_OF: Mapping[str, str] = {
    "findings": "Findings",
    "test-record": "Test record",
    "release-note": "Release note",
    "returned-unrepaired": "Returned unrepaired",
    "returned-in-part": "Returned repaired in part",
    "blank-sheet": "Blank sheet",
}
"""Every kind of paper, as people call it."""
KEYS = "Enter makes it, l: label, b: scan unit and label, Esc goes back."
OPEN = Refusal("order", "The job is still open: it gets its label once it has ended.", "Sign it off, or return it.")


class PapersSheet(JobModal[None]):
    """A list to choose from; each paper is made in a thread, so that make safe and every other key go on."""

    AUTO_FOCUS = "#papers"
    DEFAULT_CSS = """
    PapersSheet #papers { max-height: 7; margin: 1 0; }
    PapersSheet #told-scroll { height: 1fr; background: $card-row; padding: 0 1; scrollbar-size-vertical: 1; }
    PapersSheet #told { height: auto; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("l", "label", "Label", id="papers.label", tooltip="Shows what stands on the unit's label."),
        Binding("b", "both", "Scan both", id="papers.both", tooltip="Scans unit and label: do they belong together?"),
        Binding("escape", "leave", "Back", id="papers.leave", tooltip="Back to where you were."),
    ]
    _under_way = ""

    def compose(self) -> ComposeResult:
        """What can be made, and below it what came of it."""
        maker, job = self.desk.shop.papers, self.bench.job
        kinds = maker.possible(job) if maker is not None else ()
        with Vertical(classes="slip -tall"):
            yield Words(f"PAPERS OF {job.id}", classes="slip-title")
            yield Words(_lead(maker, kinds, job.id), classes="hint")
            if kinds:
                yield Lines(*(line(WORDS_OF.get(kind, kind), kind) for kind in kinds), id="papers")
            with VerticalScroll(id="told-scroll", can_focus=False):
                yield Words(id="told")
            yield Words("Esc goes back." if maker is None else KEYS, classes="hint")
            yield AnswerLine()

    def take_scan(self, code: str) -> bool:
        """What is scanned here is neither a key nor a unit to open."""
        tell(self.app, f"Scanned {code}: press b first, then scan the unit and its label.", "warning")
        return True

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A paper was chosen."""
        event.stop()
        if self._under_way:
            tell(self.app, f"{self._under_way} is still being made.")
        elif event.option_id is not None:
            self._make(event.option_id)

    def action_label(self) -> None:
        """What stands on the label."""
        if self._maker() is None:
            return
        if self.bench.job.ended is None:
            self.show_refusal(OPEN)
        else:
            self._label()

    def action_both(self) -> None:
        """Unit and label, one after the other."""
        maker = self._maker()
        if maker is not None:
            self.app.push_screen(ScanBothSheet(self.bench, maker))

    def action_leave(self) -> None:
        """Back; a paper that is being made is made all the same."""
        self.dismiss(None)

    @work(group="papers")
    async def _make(self, kind: str) -> None:
        maker = self._maker()
        if maker is None:
            return
        self._under_way = WORDS_OF.get(kind, kind)
        self._tell(plain(f"{self._under_way} is being made ..."))
        try:
            made = await asyncio.to_thread(maker.make, self.bench.job.id, kind)
        except (FileFault, BenchFailed) as fault:
            self._tell(plain(f"{self._under_way} was not made."))
            self.could_not("made", fault)
        else:
            self._tell(_made(self._under_way, made))
        finally:
            self._under_way = ""

    @work(group="papers")
    async def _label(self) -> None:
        maker = self._maker()
        if maker is None:
            return
        try:
            lines = await asyncio.to_thread(maker.label, self.bench.job.id)
        except (FileFault, BenchFailed) as fault:
            self.could_not("made", fault)
        else:
            self._tell(Content("\n").join((plain("LABEL", "bold"), *map(plain, lines))))

    def _maker(self) -> PaperMaker | None:
        return self.desk.shop.papers

    def _tell(self, words: Content) -> None:
        self.query_one(AnswerLine).clear_answer()
        self.query_one("#told", Words).say(words)


def _lead(maker: PaperMaker | None, kinds: tuple[str, ...], job_id: str) -> str:
    if maker is None:
        return (
            f"No papers are made from here. The command 'passcheck paper {job_id}' makes them; for set pages it needs "
            "the extra that pip install 'passcheck[report]' brings."
        )
    return "What the job's record bears as it stands now." if kinds else "As the job stands there is no paper to make."


def _made(name: str, made: MadePaper) -> Content:
    """Where it lies, and what whoever hands it out has to know."""
    said = (joined((f"{name} lies at", "bold")), plain(made.path), *(plain(remark) for remark in made.remarks))
    return Content("\n").join(said)
