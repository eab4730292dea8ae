"""What comes in: which board, which serial, the owner's words, how it looks?"""

from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Button, Input, OptionList
from textual.widgets.option_list import Option

from passcheck.app.desk_screen import DeskScreen
from passcheck.app.plain import Lines, Words, button, joined, line
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.app.widgets.tick import Tick
from passcheck.app.widgets.typed import Slot
from passcheck.app.widgets.writing import Writing
from passcheck.bench.bench import Bench
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.arrival import Arrive
from passcheck.job.board import Board
from passcheck.job.commands import Refusal
from passcheck.job.serial import read_serial
from passcheck.job.state import Job


class ArrivalScreen(DeskScreen[Bench | None]):
    """Take a unit in. Dismisses the job in hand, or None when it was left; nothing typed is lost by a refusal."""

    CSS_PATH = "arrival.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f4", "keep", "Take in", id="arrival.keep", tooltip="Opens the job with what is written here."),
        Binding(
            "f5", "keep_on", "Take in, one more", id="arrival.more", tooltip="Opens the job; another came with it."
        ),
        Binding("escape", "leave", "Back", id="arrival.leave", tooltip="Back to the shelf; nothing is taken in."),
    ]

    def __init__(self, serial: str = "", board: str = "") -> None:
        """Take the serial as far as it is known, and of a unit that was here before its board's sequence."""
        super().__init__()
        self._serial = serial
        self._known_board = board
        self._boards: tuple[Board, ...] = ()
        self._before: str | None = None  # the job of this arrival that was opened last

    def sheet(self) -> ComposeResult:
        """The form, in the order in which a unit is taken in."""
        self._boards = tuple(board for board in self.desk.shop.boards.listed() if board.sequence is not None)
        with VerticalScroll(id="form", classes="card", can_focus=False):
            yield Words("ARRIVAL", classes="slip-title")
            yield Words("", id="together")
            yield Words("Which board is it?", classes="ask")
            yield Lines(*map(_board_line, self._boards), id="boards")
            with Horizontal(classes="row ask"):
                yield Words("Serial")
                yield Slot(self._serial, placeholder="scan it off the unit", id="first", max_length=120)
            with Horizontal(classes="row"):
                yield Words("once more")
                yield Slot(placeholder="scan or type it a second time, off the unit", id="second", max_length=120)
            yield Words("", id="serial-words", classes="hint")
            yield Words("The complaint, in the owner's own words", classes="ask")
            yield Writing(id="complaint", tab_behavior="focus")
            with Horizontal(classes="row ask"):
                yield Words("Condition")
                yield Slot(placeholder="seals, damage, water, parts missing", id="condition", max_length=2000)
            yield Vertical(id="variants")
            yield button("Take in (F4)", id="keep")
            yield Words("F5 takes it in and asks for another unit of the same arrival.", classes="hint")

    def on_mount(self) -> None:
        """The first board is at hand, or the one that a known unit had."""
        boards = self.query_one("#boards", Lines)
        if self._boards:
            names = [board.sequence.sequence if board.sequence is not None else "" for board in self._boards]
            boards.highlighted = names.index(self._known_board) if self._known_board in names else 0
        boards.focus()
        self.query_one("#together").display = False

    async def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Another board has other variants."""
        holder = self.query_one("#variants", Vertical)
        await holder.remove_children()
        sequence = self._boards[event.option_index].sequence
        if sequence is not None:
            ticks = (Tick(words, name=key) for key, words in sequence.variants.items())
            await holder.mount_all(ticks)

    def on_option_list_option_selected(self) -> None:
        """The board is chosen: the serial is next."""
        self.query_one("#second" if self._serial else "#first").focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter walks on."""
        event.stop()
        self.focus_next()

    def on_input_changed(self) -> None:
        """Say whether the two serials agree as soon as both are there."""
        first, second = self._typed("#first"), self._typed("#second")
        agree = "both readings agree" if read_serial(first) == read_serial(second) else "the two readings differ"
        self.query_one("#serial-words", Words).say(agree if first and second else "")

    def on_button_pressed(self, event: Button.Pressed) -> None:
        """The button does what the key does."""
        event.stop()
        self.action_keep()

    def action_leave(self) -> None:
        """Nothing is taken in."""
        self.dismiss(None)

    def action_keep(self) -> None:
        """Open the job, or say what is missing."""
        self._take_in(another=False)

    def action_keep_on(self) -> None:
        """Open the job; another unit of the same arrival is next."""
        self._take_in(another=True)

    @work(exclusive=True)
    async def _take_in(self, *, another: bool) -> None:
        self.query_one(AnswerLine).clear_answer()
        refusal = self._slip()
        if refusal is not None:
            self.refused(refusal)
            return
        try:
            taken = await self.desk.shop.arrive(self._facts())
        except (BenchFailed, FileFault) as fault:
            self.failed(fault)
            return
        if isinstance(taken, Refusal):
            self.refused(taken)
        elif another:
            self._ask_for_another(taken.job)
        else:
            self.dismiss(taken)

    def _ask_for_another(self, job: Job) -> None:
        """Board and owner's words stay; the serial is asked for, and how this unit came is written anew."""
        self._before = job.id
        for emptied in ("#first", "#second", "#condition"):
            self.query_one(emptied, Slot).value = ""
        words = f"{job.id}, unit {job.serial}, is taken in. Another unit of the same arrival: its serial, twice."
        together = self.query_one("#together", Words)
        together.say(words)
        together.display = True
        self.query_one("#first").focus()

    def _slip(self) -> Refusal | None:
        """What this form itself has to see to: a board, and the same serial twice."""
        if self._board is None:
            return Refusal("entry", "No board is chosen.", "Choose one of the list; 'passcheck check' tells of files.")
        if read_serial(self._typed("#first")) != read_serial(self._typed("#second")):
            self.query_one("#second").focus()
            return Refusal("unit", "The two readings of the serial differ.", "Read it off the unit once more.")
        return None

    def _facts(self) -> Arrive:
        board = self._board
        chosen = tuple(box.name or "" for box in self.query(Tick) if box.value)
        return Arrive(
            by=self.desk.person,
            sequence=board.name if board else "",
            serial=self._typed("#first"),
            complaint=self.query_one("#complaint", Writing).text,
            condition=self._typed("#condition"),
            variants=chosen,
            with_job=self._before,
        )

    @property
    def _board(self) -> Board | None:
        place = self.query_one("#boards", Lines).highlighted
        return self._boards[place] if place is not None and place < len(self._boards) else None

    def _typed(self, which: str) -> str:
        return self.query_one(which, Slot).value


def _board_line(board: Board) -> Option:
    sequence = board.sequence
    title = f"rev {sequence.revision}  {sequence.title}" if sequence else ""
    return line(joined((f"{board.name:<13} ", "bold"), title))
