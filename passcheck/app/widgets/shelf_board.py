"""How does a shelf look: boards by what the units on them wait for, a hanging tag for every unit?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets.option_list import Option

from passcheck.app.plain import Lines, joined, line
from passcheck.job.shelf_row import DAMAGED, WAITS, ShelfRow

if TYPE_CHECKING:  # a start pays for no sequence model; there is no cycle
    from passcheck.job.board import Board

WINDOWFUL = 60  # lines: what a window shows; a taller one is filled a moment later
PLANK = 200  # signs of wood drawn; the window cuts off what it doesn't show
WORDS = {
    "confirm": "CONFIRM   the complaint still has to be seen on the bench",
    "rework": "REWORK   a step fails",
    "accept": "ACCEPT   every step has to pass as left",
    "burn in": "BURN IN   hours at power",
    "sign": "SIGN   nothing but the signature is missing",
    DAMAGED: "CAN'T BE READ   the journal is damaged; see 'passcheck verify'",
}


class ShelfBoard(Lines):
    """The shelf; each unit's line carries its job number as id."""

    DEFAULT_CSS = """
    ShelfBoard, ShelfBoard:focus { height: 1fr; text-wrap: nowrap; text-overflow: clip; }
    ShelfBoard > .option-list--option-disabled { color: $primary; }
    """

    _puts = 0

    def put(self, rows: Sequence[ShelfRow], boards: Iterable[Board]) -> None:
        """Show these units, and the board files that can't be used; the line at hand stays at hand."""
        at_hand = self.highlighted_job
        lines = shelf_lines(rows, boards)
        # The first put is what a technician waits for: a windowful is made and drawn at once, the rest right after.
        at_once = None if self.option_count else WINDOWFUL
        self.clear_options()
        self.add_options(islice(lines, at_once))
        self._puts += 1
        if at_once is not None:
            self.call_after_refresh(self._add_rest, self._puts, lines)
        if at_hand is not None and any(row.job == at_hand and row.ended is None for row in rows):
            self.highlighted = self.get_option_index(at_hand)

    def _add_rest(self, of_put: int, lines: Iterator[Option]) -> None:
        """The lines below the window, unless the shelf was put anew meanwhile."""
        if of_put == self._puts:
            self.add_options(lines)

    @property
    def units_standing(self) -> int:
        """How many units stand here."""
        return sum(option.id is not None for option in self.options)

    @property
    def highlighted_job(self) -> str | None:
        """The job on the line at hand."""
        return self.highlighted_option.id if self.highlighted_option is not None else None


def shelf_lines(rows: Sequence[ShelfRow], boards: Iterable[Board]) -> Iterator[Option]:
    """All lines of the shelf, made one by one: a plank a group, then its units, the oldest first."""
    standing = [row for row in rows if row.ended is None]
    if not standing:
        yield line("  The shelf is empty. Scan or type the serial of a unit to take it in.", disabled=True)
    for waits in (*WAITS, DAMAGED):
        group = [row for row in standing if row.waits_for == waits]
        if group:
            yield line(_plank(WORDS[waits], _units(len(group))), disabled=True)
            yield from (line(tag(row), row.job) for row in group)
    unusable = [board for board in boards if board.sequence is None]
    if unusable:
        yield line(_plank("BOARD FILES   that can't be used", f"{len(unusable)}"), disabled=True)
        yield from (line(joined("  ", (board.name, "bold"), "  ", _first(board.faults)), None) for board in unusable)


def tag(row: ShelfRow) -> Content:
    """One unit with its hanging tag."""
    count = "" if row.waits_for == DAMAGED else f"{row.blockers:>3} to the door"
    complaint = " ".join(row.complaint.split())
    return joined(
        ("  ╰─", "dim"),
        (f"° {row.serial:<12} ", "bold $ink on $card"),
        f"  {row.job:<9}  {row.sequence:<12} {count:<15}  ",
        ("“", "italic"),  # by itself, because plain ASCII needs no look at every character
        (complaint, "italic"),
        ("”", "italic"),
    )


def _plank(words: str, count: str) -> Content:
    wood = "━" * (PLANK - len(words) - len(count))
    return joined(("━━ ", "bold"), (words, "bold"), f"   {count} ", (wood, "dim"))


def _units(count: int) -> str:
    return "1 unit" if count == 1 else f"{count} units"


def _first(faults: str) -> str:
    return next((one for one in faults.splitlines() if one.strip()), "can't be read")
