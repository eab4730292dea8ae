"""What did earlier visits of this unit leave, and what is different now?"""

import asyncio
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from passcheck.app.desk_screen import DeskScreen
from passcheck.app.plain import Words, joined, tell
from passcheck.app.screens.find_words import FindWords
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.history_card import HistoryBody, HistoryCard
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.serial import read_serial
from passcheck.job.visit_words import headline
from passcheck.job.visits import UnitHistory, story

READING = "Reading what earlier visits left ..."
NO_ARCHIVE = "This bench has no archive, so nothing can be asked of all its jobs together."
GO_ON = "The unit can be worked on without it: Escape."


class HistoryScreen(DeskScreen[None]):
    """Every visit of one unit beside the others; it lies over the shelf, or over the traveller of the job in hand."""

    AUTO_FOCUS = "HistoryBody"
    DEFAULT_CSS = """
    HistoryScreen #unit { padding: 0 1; color: $primary; text-style: bold; height: 1;
                          text-wrap: nowrap; text-overflow: ellipsis; }
    HistoryScreen #headline { padding: 0 1; height: auto; max-height: 6; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("slash", "find", "Find", id="history.find", tooltip="Finds words in the shop's notes and complaints."),
        Binding("escape", "leave", "Back", id="history.leave", tooltip="Back to where you were."),
    ]

    def __init__(self, serial: str, in_hand: str = "") -> None:
        """Take the serial, and the number of the job that this screen lies over, if any."""
        super().__init__()
        self._serial = read_serial(serial)
        self._in_hand = in_hand

    def sheet(self) -> ComposeResult:
        """What to know at one glance, then the card."""
        yield Words(f"HISTORY   unit {self._serial}", id="unit")
        yield Words(READING, id="headline")
        yield HistoryCard()

    def on_mount(self) -> None:
        """Ask beside: an archive may have much to take in first."""
        self._read()

    @work(exclusive=True, group="history")
    async def _read(self) -> None:
        archive = self.desk.shop.archive
        if archive is None:
            self._say(NO_ARCHIVE)
            return
        try:
            visits = await asyncio.to_thread(archive.visits, self._serial)
            unread = await asyncio.to_thread(archive.unread)
        except (BenchFailed, FileFault) as fault:
            self._say(f"Earlier visits couldn't be read: {fault} {GO_ON}")
            return
        history = story(visits, self.desk.shop.clock())
        self._put(history, unread)

    def _put(self, history: UnitHistory, unread: tuple[str, ...]) -> None:
        if history.visits:
            job = history.visits[-1].visit.job
            practice = "PRACTICE  " if job.practice else ""
            self.query_one("#unit", Words).say(f"{practice}HISTORY   unit {job.serial}   {job.board}   {job.title}")
            self.query_one(HistoryCard).put(history)
        left_out = f" Left out, because they can't be read: {', '.join(unread)}." if unread else ""
        self._say(headline(history) + left_out)

    def _say(self, words: str) -> None:
        self.query_one("#headline", Words).say(joined(words))

    def on_history_body_taken(self, event: HistoryBody.Taken) -> None:
        """The visit at hand is opened."""
        event.stop()
        told = self.query_one(HistoryCard).at_hand
        if told is None:
            return
        job = told.visit.job
        if job.job == self._in_hand:
            self.dismiss(None)
        elif self._in_hand and not job.ended:
            tell(self.app, f"{job.job} is still open: it is taken up from the shelf.", "warning")
        else:
            self._open(job.job)

    @work(exclusive=True, group="open-job")
    async def _open(self, job_id: str) -> None:
        from passcheck.app.screens.traveller import TravellerScreen  # which opens this screen; there is no cycle so

        if not self.desk.person:
            tell(self.app, "Say who is at the bench first: F9.", "warning")
            return
        self.query_one(AnswerLine).clear_answer()
        try:
            bench = await self.desk.shop.open(job_id, self.desk.person)
        except (FileFault, BenchFailed) as fault:
            self.could_not("opened", fault)
            return
        self.app.push_screen(TravellerScreen(bench))

    @work(exclusive=True, group="find")
    async def action_find(self) -> None:
        """Words in notes and complaints, and from there the history of another unit."""
        serial = await self.app.push_screen_wait(FindWords())
        if serial:
            self.app.push_screen(HistoryScreen(serial))

    def action_leave(self) -> None:
        """Back to where it was opened."""
        self.dismiss(None)
