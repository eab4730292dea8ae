"""Which units stand on the shelf, and which one is taken in hand?

It is the first screen: what only a unit in hand needs is loaded behind it, or with the first unit taken in hand.
"""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.widgets import Input, OptionList

from passcheck.app.desk_screen import DeskScreen
from passcheck.app.plain import Words, tell
from passcheck.app.sharing import share_what_is_sealed
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.shelf_board import ShelfBoard
from passcheck.app.widgets.typed import Slot
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.serial import read_serial
from passcheck.job.shelf_row import ShelfRow

if TYPE_CHECKING:  # there is no cycle
    from passcheck.bench.bench import Bench
    from passcheck.job.board import Board


class ShelfScreen(DeskScreen[None]):
    """The first screen: a serial opens or takes in a unit; the shelf below shows what waits for what."""

    CSS_PATH = "shelf.tcss"
    AUTO_FOCUS = "#serial"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "to_shelf", "To the shelf", id="shelf.down", tooltip="From the serial to the units below."),
        Binding("f3", "history", "History", id="shelf.history", tooltip="Earlier visits of a unit; finds words."),
        Binding(
            "f4", "figures", "Figures", id="shelf.figures", tooltip="What all jobs say together, in plots and tables."
        ),
        Binding("f5", "again", "Again", id="shelf.again", tooltip="Reads the shelf from the disk again.", show=False),
        Binding("f6", "take_in", "Take in", id="shelf.take-in", tooltip="Takes in a unit; its serial may come later."),
        Binding("f7", "rack", "Rack", id="shelf.rack", tooltip="All soaking units, the next to be looked at on top."),
        Binding("escape", "to_serial", "Serial", id="shelf.serial", tooltip="Back to the serial.", show=False),
    ]

    def __init__(self) -> None:
        """Nothing is read yet."""
        super().__init__()
        self._boards: tuple[Board, ...] = ()
        self._rows: tuple[ShelfRow, ...] = ()  # as they were read last

    def sheet(self) -> ComposeResult:
        """Serial on top, the shelf below."""
        with Horizontal(id="shelf-top"):
            yield Words("UNIT")
            yield Slot(placeholder="scan or type a serial", id="serial", max_length=120)
            yield Words("", id="shelf-person")
        yield Words("reading the shelf ...", id="shelf-words")
        yield ShelfBoard(id="shelf")

    def on_screen_resume(self) -> None:
        """What happened on other screens shows here."""
        self.person_changed()
        self.action_again()
        self.share()

    @work(exclusive=True, group="share")
    async def share(self) -> None:
        """Whoever comes back to the shelf may have sealed a job."""
        await share_what_is_sealed(self.desk)

    def person_changed(self) -> None:
        """The name at the top."""
        name = self.desk.name_of(self.desk.person)
        self.query_one("#shelf-person", Words).say(f"at the bench: {name or 'nobody yet, F9'}")

    def unfinished(self) -> str:
        """A serial half typed is no work lost."""
        return ""

    def take_scan(self, code: str) -> bool:
        """A scan with no entry focused goes to the serial."""
        field = self.query_one("#serial", Slot)
        field.value = read_serial(code)
        self._open_serial(field.value)
        return True

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """A serial was scanned or typed."""
        event.stop()
        self._open_serial(event.value)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A unit was taken from the shelf."""
        if event.option_id is not None:
            self._open_job(event.option_id)

    def action_to_shelf(self) -> None:
        """From the serial to the units."""
        board = self.query_one(ShelfBoard)
        board.focus()
        if board.highlighted is None:
            board.action_first()

    def action_to_serial(self) -> None:
        """Back to the serial, emptied."""
        field = self.query_one("#serial", Slot)
        field.value = ""
        field.focus()

    @work(exclusive=True, group="shelf")
    async def action_again(self) -> None:
        """Read the shelf off the loop, so that a long rebuild doesn't stop the keys."""
        try:
            rows = await asyncio.to_thread(self.desk.shop.shelf)
            self._put(rows)
            await self.desk.bench_known.wait()
            boards = await asyncio.to_thread(self.desk.shop.boards.listed)
        except (FileFault, BenchFailed) as fault:
            self.could_not("read", fault)
            return
        if boards != self._boards:
            self._boards = boards
            self._put(rows)

    def _put(self, rows: tuple[ShelfRow, ...]) -> None:
        self._rows = rows
        self.query_one(ShelfBoard).put(rows, self._boards)
        self.desk.soaking = tuple(row for row in rows if row.soak is not None)
        standing = sum(row.ended is None for row in rows)
        self.query_one("#shelf-words", Words).say(
            f"{self._title()}   {standing} in the shop, {len(rows) - standing} gone out"
        )
        self.call_after_refresh(self.desk.shelf_stands.set)

    def _title(self) -> str:
        return "THE SHELF" if self.desk.practice is None else "PRACTICE SHELF: units that don't exist"

    async def action_rack(self) -> None:
        """To the units that soak."""
        await self.desk.bench_known.wait()
        from passcheck.app.screens.rack import RackScreen

        self.app.push_screen(RackScreen())

    async def action_figures(self) -> None:
        """To what all jobs say together."""
        await self.desk.bench_known.wait()
        from passcheck.app.screens.figures import FiguresScreen

        self.app.push_screen(FiguresScreen())

    @work(exclusive=True, group="lay-history")
    async def action_history(self) -> None:
        """Earlier visits of the unit whose serial is typed or whose line is at hand; without one, words are found."""
        await self.desk.bench_known.wait()
        from passcheck.app.lay_history import history_asked_for

        await history_asked_for(self, self.query_one("#serial", Slot).value, self._serial_at_hand())

    def _serial_at_hand(self) -> str:
        board = self.query_one(ShelfBoard)
        at_hand = board.highlighted_job if board.has_focus else None
        return next((row.serial for row in self._rows if row.job == at_hand), "")

    def action_take_in(self) -> None:
        """Take in a unit before its serial was read."""
        typed = self.query_one("#serial", Slot).value
        if not self._told_as_label(typed):
            self._arrive(typed)

    def _told_as_label(self, typed: str) -> bool:
        """A label is no serial: that is told, and the entry is empty for the next scan."""
        from passcheck.report.label import read_label

        if read_label(typed) is None:
            return False
        tell(self.app, "That is a label; scan the number on the unit itself.", "warning")
        self.action_to_serial()
        return True

    @work(exclusive=True, group="open")
    async def _open_serial(self, typed: str) -> None:
        self.query_one(AnswerLine).clear_answer()
        serial = read_serial(typed)
        if not serial or self._told_as_label(typed) or not await self._somebody():
            return
        try:
            rows = await asyncio.to_thread(self._found, serial)
        except (FileFault, BenchFailed) as fault:
            self.could_not("read", fault)
            return
        if not rows:
            self._arrive(serial)
            return
        from passcheck.app.screens.choose_job import ChooseJob

        standing = [row for row in rows if row.ended is None]
        if len(standing) == 1:
            chosen: str | None = standing[0].job
        else:
            chosen = await self.app.push_screen_wait(ChooseJob(serial, rows))
        if chosen == ChooseJob.NEW:
            self._arrive(serial)
        elif chosen is not None:
            self._open_job(chosen)

    def _found(self, serial: str) -> tuple[ShelfRow, ...]:
        by_job = tuple(row for row in self.desk.shop.shelf() if row.job.upper() == serial)
        return by_job or self.desk.shop.find(serial)

    @work(exclusive=True, group="open-job")
    async def _open_job(self, job_id: str) -> None:
        if not await self._somebody():
            return
        self.query_one(AnswerLine).clear_answer()
        try:
            bench = await self.desk.shop.open(job_id, self.desk.person)
        except (FileFault, BenchFailed) as fault:
            self.could_not("opened", fault)
            return
        self._show(bench)

    @work(exclusive=True, group="arrive")
    async def _arrive(self, serial: str) -> None:
        if await self._somebody():
            from passcheck.app.screens.arrival import ArrivalScreen

            known = next((row.sequence for row in reversed(self._rows) if serial and row.serial == serial), "")
            bench = await self.app.push_screen_wait(ArrivalScreen(serial, known))
            self.query_one("#serial", Slot).value = ""
            if bench is not None:
                self._show(bench)
                from passcheck.app.lay_history import lay_history_over

                await lay_history_over(self.desk, bench.job, self._rows)

    def _show(self, bench: Bench) -> None:
        field = self.query_one("#serial", Slot)
        field.value = ""
        field.focus()
        from passcheck.app.screens.traveller import TravellerScreen

        self.app.push_screen(TravellerScreen(bench))

    async def _somebody(self) -> bool:
        await self.desk.bench_known.wait()
        if not self.desk.person:
            tell(self.app, "Say who is at the bench first: F9.", "warning")
        return bool(self.desk.person)
