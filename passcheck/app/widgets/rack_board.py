"""How does the rack look: one line a soaking unit, the one to look at next on top?

Hundreds of units stand on it and their times go on every second, so that only the lines in the window are ever made.
"""

from collections.abc import Sequence
from typing import Any, ClassVar

from rich.segment import Segment
from rich.style import Style
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from passcheck.job.rack import Lateness, Place
from passcheck.sequence.show_text import show_text

EMPTY = "  No unit is on soak. A burn-in run starts one."
WIDTH = 160  # cells of a line; the window cuts off what it doesn't show
STANDS_OUT: dict[Lateness, Style] = {
    "waiting": Style(),
    "due": Style(bold=True),
    "late": Style(bold=True, reverse=True),
    "missed": Style(bold=True, reverse=True),
}
Piece = tuple[str, Style]


class RackBoard(ScrollView, can_focus=True):
    """The rack; Enter on a line opens that unit."""

    DEFAULT_CSS = """
    RackBoard { height: 1fr; scrollbar-size-vertical: 1; overflow-x: hidden; }
    RackBoard > .rack--tag { background: $card; color: $ink; text-style: bold; }
    RackBoard > .rack--at-hand { background: $panel; color: $foreground; text-style: bold; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {"rack--tag", "rack--at-hand"}
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "walk(-1)", "Unit up", show=False, id="rack-board.up", tooltip="To the unit above."),
        Binding("down", "walk(1)", "Unit down", show=False, id="rack-board.down", tooltip="To the unit below."),
        Binding("enter", "choose", "Look", show=False, id="rack-board.choose", tooltip="Opens the unit's look."),
    ]

    class Chosen(Message):
        """A unit was chosen."""

        def __init__(self, board: "RackBoard", job: str) -> None:
            """Args: board: the rack; job: the unit's job."""
            super().__init__()
            self.board = board
            self.job = job

        @property
        def control(self) -> "RackBoard":
            """The rack."""
            return self.board

    def __init__(self, **named: Any) -> None:
        """Nothing stands on it yet; `named` goes to the widget."""
        super().__init__(**named)
        self._places: tuple[Place, ...] = ()
        self._at_hand: str | None = None

    def put(self, places: Sequence[Place]) -> None:
        """Show these units; the line at hand stays at hand. Only what reads differently is drawn."""
        before, self._places = self._places, tuple(places)
        if len(before) != len(self._places):
            self.virtual_size = Size(WIDTH, max(1, len(self._places)))
        if self._in_window(before) != self._in_window(self._places):
            self.refresh()

    def _in_window(self, places: tuple[Place, ...]) -> list[tuple[str, str, object]]:
        top = int(self.scroll_offset.y)
        return [(it.row.job, it.words, it.tag) for it in places[top : top + max(1, self.size.height)]]

    @property
    def highlighted(self) -> int | None:
        """Which line is at hand, from 0."""
        return next((n for n, place in enumerate(self._places) if place.row.job == self._at_hand), None)

    def action_walk(self, by: int) -> None:
        """To the unit above or below."""
        if not self._places:
            return
        here = self.highlighted
        line = 0 if here is None else min(max(here + by, 0), len(self._places) - 1)
        self._at_hand = self._places[line].row.job
        self.scroll_to_region(Region(0, line, 1, 1), animate=False)
        self.refresh()

    def action_choose(self) -> None:
        """Open the unit at hand."""
        if self.highlighted is not None and self._at_hand is not None:
            self.post_message(self.Chosen(self, self._at_hand))

    def render_line(self, y: int) -> Strip:
        """One line of the window."""
        line = y + int(self.scroll_offset.y)
        ground = self.rich_style
        if not self._places:
            return Strip([Segment(EMPTY if line == 0 else "", ground)]).adjust_cell_length(self.size.width, ground)
        if line >= len(self._places):
            return Strip.blank(self.size.width, ground)
        place = self._places[line]
        if place.row.job == self._at_hand and self.has_focus:
            ground = self.get_component_rich_style("rack--at-hand")
        tag = self.get_component_rich_style("rack--tag")
        pieces = [Segment(show_text(text), ground + style) for text, style in place_line(place, tag)]
        return Strip(pieces).adjust_cell_length(self.size.width, ground)


def place_line(place: Place, tag_style: Style) -> tuple[Piece, ...]:
    """One unit: its tag, when it is to be looked at, what counts, what was lost."""
    tag, plain = place.tag, Style()
    cycles = f"{tag.cycles}/{tag.cycles_wanted} cycles" if tag.cycles_wanted else ""
    return (
        (f"° {place.row.serial:<12} ", tag_style),
        (f" {place.row.sequence:<8} ", plain),
        (f"{place.words:<25}", STANDS_OUT[place.lateness]),
        (f" {_hours(tag.counted_s)} of {_hours(tag.wanted_s)} h  {cycles:<12} ", plain),
        ("left alone  " if tag.alone else "", plain),
        (f"{tag.warning}  " if tag.warning else "", Style(bold=True)),
        (f"lost: {tag.lost_why}" if tag.lost_why else "", Style(italic=True)),
    )


def _hours(seconds: int) -> str:
    return f"{seconds // 3600}:{seconds % 3600 // 60:02d}"
