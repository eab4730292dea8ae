"""Which soaking unit is to be looked at now?

The rack paints from the tags on the shelf; a unit's journal is opened when its serial is scanned or its line chosen, so
that many units stand here and the program may be closed between two looks.
"""

import asyncio
from typing import ClassVar, Final

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.widgets import Input

from passcheck.app.desk_screen import DeskScreen
from passcheck.app.plain import Words, tell
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.soak import LookSlip
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.rack_board import RackBoard
from passcheck.app.widgets.typed import Slot
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.rack import NOBODY_WATCHES, Place, common_cause, rack
from passcheck.job.serial import read_serial
from passcheck.job.shelf_row import ShelfRow
from passcheck.job.soak import soak_steps

PAINT_S: Final = 1.0
READ_S: Final = 30.0  # another program may have written
RING_AGAIN_S: Final = 60.0


class RackScreen(DeskScreen[None]):
    """All soaking units, the next to be looked at on top; a bell when one falls due."""

    AUTO_FOCUS = "#rack-serial"
    DEFAULT_CSS = """
    RackScreen #rack-top { dock: top; height: 3; background: $panel; padding: 1 1 0 1; }
    RackScreen #rack-top Words { width: auto; }
    RackScreen #rack-serial { width: 30; margin: 0 2; }
    RackScreen #rack-words { padding: 0 1; color: $primary; height: auto; }
    RackScreen #rack-cause { padding: 0 1; height: auto; text-style: bold; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "to_rack", "To the rack", id="rack.down", tooltip="From the serial to the units below."),
        Binding("f5", "again", "Look again", id="rack.again", tooltip="Reads the tags from the disk again."),
        Binding("escape", "back", "Back", id="rack.back", tooltip="Back to the shelf."),
    ]

    def __init__(self) -> None:
        """Nothing is read yet."""
        super().__init__()
        self._rows: tuple[ShelfRow, ...] = ()
        self._rung: dict[str, float] = {}  # a job and when it rang last, on the screen's own seconds
        self._seconds = 0.0

    def sheet(self) -> ComposeResult:
        """Serial on top, what hit several units, the rack below."""
        with Horizontal(id="rack-top"):
            yield Words("LOOK AT")
            yield Slot(placeholder="scan or type a serial", id="rack-serial", max_length=120)
        yield Words("", id="rack-words")
        yield Words("", id="rack-cause")
        yield RackBoard(id="rack")

    def on_mount(self) -> None:
        """Times go on by themselves."""
        self.set_interval(PAINT_S, self.tick)
        self.set_interval(READ_S, self.read_again)

    def on_screen_resume(self) -> None:
        """What happened on other screens shows here."""
        self.action_again()

    def unfinished(self) -> str:
        """A serial half typed is no work lost."""
        return ""

    def take_scan(self, code: str) -> bool:
        """A scan with no entry focused opens that unit's look."""
        self._look_at(read_serial(code), scanned=True)
        return True

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """A serial was scanned or typed: its look is opened."""
        event.stop()
        serial = read_serial(event.value)
        self.query_one("#rack-serial", Slot).value = ""
        if serial:
            self._look_at(serial, scanned=True)

    def on_rack_board_chosen(self, event: RackBoard.Chosen) -> None:
        """A line was chosen: the serial is still to be scanned off the unit."""
        place = next((one for one in self.places() if one.row.job == event.job), None)
        if place is not None:
            self._look_at(place.row.serial, scanned=False)

    def places(self) -> tuple[Place, ...]:
        """The rack as it stands now."""
        return rack(self._rows, self.desk.shop.clock())

    def paint(self) -> tuple[Place, ...]:
        """Draw every line that reads differently now."""
        places = self.places()
        self.query_one(RackBoard).put(places)
        due = sum(place.lateness != "waiting" for place in places)
        self.query_one("#rack-words", Words).say(
            f"THE RACK   {len(places)} on soak, {due} to look at now\n{NOBODY_WATCHES}"
        )
        return places

    def tick(self) -> None:
        """A second went by."""
        self._seconds += PAINT_S
        if self.app.screen is self:
            self._ring(self.paint())

    def read_again(self) -> None:
        """Read the tags now and then, but never beneath another screen, where taps may be taken."""
        if self.app.screen is self:
            self.action_again()

    def _ring(self, places: tuple[Place, ...]) -> None:
        """One bell when a unit falls due, and once a minute while any is."""
        waiting = {place.row.job for place in places if place.lateness == "waiting"}
        for job in waiting & self._rung.keys():
            del self._rung[job]
        fresh = [
            place.row.job
            for place in places
            if place.row.job not in waiting
            and self._seconds - self._rung.get(place.row.job, -RING_AGAIN_S) >= RING_AGAIN_S
        ]
        self._rung.update(dict.fromkeys(fresh, self._seconds))
        if fresh and self.desk.settings().tones:
            self.app.bell()

    def action_to_rack(self) -> None:
        """From the serial to the units."""
        board = self.query_one(RackBoard)
        board.focus()
        if board.highlighted is None:
            board.action_walk(1)

    def action_back(self) -> None:
        """Back to the shelf."""
        self.dismiss(None)

    @work(exclusive=True, group="rack")
    async def action_again(self) -> None:
        """Read the tags off the loop."""
        try:
            rows = await asyncio.to_thread(self.desk.shop.shelf)
        except (FileFault, BenchFailed) as fault:
            self.could_not("read", fault)
            return
        self.take_rows(rows)
        self.paint()

    def take_rows(self, rows: tuple[ShelfRow, ...]) -> None:
        """The shelf as it was read; what hit several units is told above the rack."""
        self._rows = self.desk.soaking = tuple(row for row in rows if row.soak is not None)
        causes = common_cause(self._rows, self.desk.shop.clock().offset_min)
        self.query_one("#rack-cause", Words).say("\n".join(causes))
        self.query_one("#rack-cause", Words).display = bool(causes)

    @work(exclusive=True, group="open-look")
    async def _look_at(self, serial: str, *, scanned: bool) -> None:
        place = next((one for one in self.places() if serial in (one.row.serial, one.row.job.upper())), None)
        if place is None:
            tell(self.app, f"{serial} is not on soak.", "warning")
            return
        if not self.desk.person:
            tell(self.app, "Say who is at the bench first: F9.", "warning")
            return
        self.query_one(AnswerLine).clear_answer()
        try:
            bench = await self.desk.shop.open(place.row.job, self.desk.person)
        except (FileFault, BenchFailed) as fault:
            self.could_not("opened", fault)
            return
        step = next((one for one in soak_steps(bench.job) if one.id == place.tag.step), None)
        if step is None or bench.job.open_soak is None:
            self.app.push_screen(TravellerScreen(bench))
            return
        await self.app.push_screen(BenchScreen(bench))
        if not place.tag.still_to_pass and not place.tag.complete:
            self.app.push_screen(LookSlip(bench, step, place.row.serial if scanned else ""))
