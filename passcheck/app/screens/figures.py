"""What do the shop's jobs say together, figure by figure?"""

import asyncio
from typing import ClassVar, Final

from textual import events, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Horizontal, VerticalScroll
from textual.content import Content

from passcheck.app.desk_screen import DeskScreen
from passcheck.app.plain import Words, joined, plain
from passcheck.app.screens.choose_board import ChooseBoard
from passcheck.app.widgets.figure_sheet import figure_list, figure_table, figure_words
from passcheck.app.widgets.plot import Plot, pictures
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.counts import Counts
from passcheck.job.figure import Figure
from passcheck.job.figures import NAMES, boards_of, figures
from passcheck.judge.rounding import counted

WIDE: Final = 110
"""Columns from which the list of figures stands at the side."""
LIST, BETWEEN, WORDS = 13, 3, 60
"""Columns of the list at the side, between a table and its words, and from which words stand beside a table."""
NO_ARCHIVE: Final = "Figures need the archive of this shop, and it has none."


class FiguresScreen(DeskScreen[None]):
    """One figure at a time: what is drawn, its table, and the words that keep it honest."""

    AUTO_FOCUS = "#figures-page"
    DEFAULT_CSS = """
    FiguresScreen #figures-top { dock: top; height: 1; background: $panel; padding: 0 1; }
    FiguresScreen #figures-top Words { width: auto; height: 1; }
    FiguresScreen #figures-top #figures-basis { width: 1fr; text-align: right; }
    FiguresScreen #figures-body { height: 1fr; layout: vertical; }
    FiguresScreen #figures-list { height: 1; width: 1fr; padding: 0 1; }
    FiguresScreen #figures-page { height: 1fr; padding: 0 1; scrollbar-size-vertical: 1; }
    FiguresScreen #figures-title { height: auto; text-style: bold; color: $primary; }
    FiguresScreen #figures-below { height: auto; layout: vertical; margin-top: 1; }
    FiguresScreen #figures-table { width: auto; height: auto; text-wrap: nowrap; text-overflow: clip; }
    FiguresScreen #figures-words { width: 1fr; height: auto; margin-top: 1; }
    FiguresScreen.-wide #figures-body { layout: horizontal; }
    FiguresScreen.-wide #figures-list { width: 13; height: 1fr; padding: 1 0 0 1; }
    FiguresScreen.-wide #figures-page { width: 1fr; padding: 1 1 0 1; }
    FiguresScreen.-beside #figures-below { layout: horizontal; }
    FiguresScreen.-beside #figures-words { margin: 0 0 0 3; }
    FiguresScreen.-empty #figures-table { display: none; }
    FiguresScreen.-empty #figures-words { margin: 0; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left,p", "turn(-1)", "Previous", id="figures.previous", priority=True, tooltip="The figure before."),
        Binding("right,n", "turn(1)", "Next", id="figures.next", priority=True, tooltip="The next figure."),
        Binding("v", "view", "Plot", id="figures.view", tooltip="Where a figure has several plots: the next one."),
        Binding("b", "board", "Board", id="figures.board", tooltip="Count one board, or all of them."),
        Binding("f5", "again", "Count", id="figures.again", tooltip="Counts anew what the journals hold now."),
        Binding("escape", "back", "Back", id="figures.back", tooltip="Back to the shelf."),
    ]

    def __init__(self) -> None:
        """Nothing is counted yet."""
        super().__init__()
        self._figures: tuple[Figure, ...] = ()
        self._boards: tuple[str, ...] = ()
        self._board: str | None = None
        self._unread: tuple[str, ...] = ()
        self._at = self._view = 0

    def sheet(self) -> ComposeResult:
        """What is counted on top, the list of figures, the figure."""
        with Horizontal(id="figures-top"):
            yield Words(plain("FIGURES", "bold"))
            yield Words("", id="figures-basis")
        with Container(id="figures-body"):
            yield Words("", id="figures-list")
            with VerticalScroll(id="figures-page"):
                yield Words("", id="figures-title")
                yield Plot()
                with Container(id="figures-below"):
                    yield Words("", id="figures-table")
                    yield Words("", id="figures-words")

    def on_mount(self) -> None:
        """Count at once."""
        self.query_one(Plot).put(None)
        self.action_again()

    def on_resize(self, event: events.Resize) -> None:
        """Table and words are made anew for the room that there is."""
        self.set_class(event.size.width >= WIDE, "-wide")
        self._paint()

    @work(exclusive=True, group="figures")
    async def action_again(self) -> None:
        """Count off the loop: a shop of years takes a while, and make safe mustn't wait for it."""
        self.query_one("#figures-basis", Words).say(f"counting {self._board or 'all boards'} ...")
        await self.desk.bench_known.wait()
        try:
            counts = await asyncio.to_thread(self._count)
        except (FileFault, BenchFailed) as fault:
            self._nothing(str(fault))
            return
        self.query_one("#figures-basis", Words).say(self._basis(counts))
        self._paint()

    def _count(self) -> Counts:
        """In a thread: count, and make the figures."""
        archive = self.desk.shop.archive
        if archive is None:
            raise BenchFailed(NO_ARCHIVE)
        doubtful = self.desk.started_with().doubtful()
        counts = archive.counts(self._board, doubtful)
        self._boards = boards_of(counts) if self._board is None else self._boards
        self._unread = archive.unread()
        self._figures = figures(counts, str(self.desk.shop.clock().utc.date()), self._board)
        return counts

    def _nothing(self, why: str) -> None:
        """Say in one sentence why there is no figure; one of before would be taken for today's."""
        self._figures = ()
        self.query_one("#figures-basis", Words).say("nothing was counted")
        self.query_one("#figures-title", Words).say(why)
        self.query_one(Plot).put(None)
        self.query_one("#figures-table", Words).say("")
        self.query_one("#figures-words", Words).say("")

    def _basis(self, counts: Counts) -> str:
        left_out = f", {len(self._unread)} can't be read" if self._unread else ""
        jobs = f"{counted(counts.jobs, 'job')}{left_out}, {counted(counts.attempts, 'attempt')}"
        return f"{self._board or 'all boards'}: {jobs}"

    @property
    def figure(self) -> Figure | None:
        """The figure that lies open."""
        return self._figures[self._at] if self._figures else None

    def _paint(self) -> None:
        """Everything of the figure that lies open."""
        figure = self.figure
        self.query_one("#figures-list", Words).say(figure_list(NAMES, self._at, down=self.has_class("-wide")))
        self.refresh_bindings()
        if figure is None:
            return
        drawn = pictures(figure)
        self._view = self._view % len(drawn) if drawn else 0
        self.query_one("#figures-title", Words).say(self._title(figure, len(drawn)))
        self.query_one(Plot).put(drawn[self._view] if drawn else None)
        self._below(figure)

    def _below(self, figure: Figure) -> None:
        """The table with all its columns, and its words beside it where they find room, or else below."""
        self.set_class(not figure.rows, "-empty")
        room = self._room()
        table = figure_table(figure, room, self._view if figure.apart else None)
        self.query_one("#figures-table", Words).say(table)
        left = room - BETWEEN - max(line.cell_length for line in table.split("\n")) if figure.rows else 0
        self.set_class(left >= WORDS, "-beside")
        self.query_one("#figures-words", Words).say(figure_words(figure, left if left >= WORDS else room))

    def _room(self) -> int:
        """Columns of the page, without its edges and its bar."""
        return self.size.width - 4 - (LIST if self.has_class("-wide") else 0)

    def _title(self, figure: Figure, drawn: int) -> Content:
        several = f"   plot {self._view + 1} of {drawn}" if drawn > 1 else ""
        return joined((figure.title, "bold"), (several, "not bold"))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The key for another plot is told where there is one."""
        several = self.figure is not None and len(pictures(self.figure)) > 1
        return several if action == "view" else super().check_action(action, parameters)

    def action_turn(self, by: int) -> None:
        """Another figure, round and round, from its top."""
        self._at, self._view = (self._at + by) % len(NAMES), 0
        self._paint()
        self.query_one("#figures-page", VerticalScroll).scroll_home(animate=False)

    def action_view(self) -> None:
        """Another plot of this figure."""
        self._view += 1
        self._paint()

    @work(exclusive=True, group="choose-board")
    async def action_board(self) -> None:
        """Count one board, or all."""
        if not self._boards:
            return
        chosen = await self.app.push_screen_wait(ChooseBoard(self._boards))
        if chosen is not None:
            self._board = chosen or None
            self.action_again()

    def action_back(self) -> None:
        """Back to the shelf."""
        self.dismiss(None)
