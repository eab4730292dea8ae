"""How does somebody learn the program on a unit that doesn't exist?

A unit with a complaint waits on a shelf of its own, below the bench's records; then the screens open over it, with the
simulated unit, a clock that can be put forward and a line that says what to do next.
"""

import argparse
import asyncio
from collections.abc import Mapping
from collections.abc import Sequence as Many
from datetime import datetime
from secrets import SystemRandom
from typing import Final

from passcheck.bench.bench import Bench
from passcheck.bench.shop import Shop
from passcheck.cli.clock import now
from passcheck.cli.folders import PRACTICE_LETTER, Folders, practice_folders
from passcheck.cli.say import complain
from passcheck.cli.wire import bench_files, board_folder, open_practice_shop
from passcheck.cli.wrong_use import WrongUse
from passcheck.errors import FileFault
from passcheck.job.arrival import Arrive
from passcheck.job.board import Board
from passcheck.job.commands import MapComplaint, Refusal
from passcheck.job.shelf_row import ShelfRow
from passcheck.practice.clock import ForwardClock
from passcheck.practice.fault_list import FaultList
from passcheck.practice.lists import list_for, made_from
from passcheck.practice.memory import MemoryBoards
from passcheck.practice.sheet import ShortSoak, short_sheet
from passcheck.practice.waiting import Waiting, drawn_fault, shows_on, waiting
from passcheck.sequence.load import read_sequence
from passcheck.sequence.model import Sequence

WRONG_USE: Final = 2
FIRST_BOARD: Final = "OV-24P"
NEWCOMER: Final = "n1"
"""Who is at the practice bench; nothing there is live, so the person may do everything."""
AS_IT_CAME: Final = "A practice unit: it doesn't exist."


def practice(asked: argparse.Namespace, folders: Folders) -> int:
    """Carry the command out and give the exit status.

    Raises:
        FileFault: a file can't be used.
        BenchFailed: the records of practice can't be written.
    """
    try:
        if not asked.auto:
            return at_the_screens(asked, folders)
        from passcheck.cli.practice_auto import practice_auto

        keep = asked.logs is not None
        return practice_auto(folders, asked.jobs, asked.seed, only=asked.board, as_json=asked.json, keep=keep)
    except WrongUse as wrong:
        complain(f"passcheck practice: {wrong}")
        return WRONG_USE


def at_the_screens(asked: argparse.Namespace, folders: Folders) -> int:
    """Have a unit wait, then open the shelf.

    Raises:
        WrongUse: there is no such board, or it has no such fault.
    """
    from passcheck.app.practice_desk import PracticeDesk  # the screens are heavy, and a wrong name is told without them
    from passcheck.app.start import no_screen_because, run_app
    from passcheck.practice.at_the_bench import PracticeBench

    boards = {one.name: one for one in board_folder(folders).listed() if one.sequence is not None}
    lists = Lists(boards)
    board = chosen_board(boards, asked.board)
    whole = board.sequence
    assert whole is not None  # noqa: S101 - only such are in the mapping
    if asked.fault is not None and asked.fault not in (names := [one.name for one in lists(whole).faults]):
        raise WrongUse(f"{board.name} has no fault '{asked.fault}' to practise. There are: {', '.join(names)}.")
    if hindrance := no_screen_because():
        complain(hindrance)
        return WRONG_USE
    clock = ForwardClock(now)
    person = newcomer(folders, clock)
    sheets: list[str] = []

    def shop() -> Shop:
        return open_practice_shop(folders, MemoryBoards(*sheets), clock)

    rows = shop().shelf()
    first, waiting_boards = not any(row.ended for row in rows), catch_up(clock, rows)
    sheets.append(board.text if asked.whole else sheet_of(board, lists(whole), first=first, fault=asked.fault))
    sheets += [
        sheet_of(one, lists(one.sequence))
        for one in boards.values()
        if one.sequence is not None and one.name in waiting_boards - {board.name}
    ]
    asyncio.run(have_one_wait(shop(), board.name, lists(whole), asked.fault, person))
    desk = PracticeDesk(PracticeBench(lists), lambda minutes: clock.pass_time(minutes=minutes), not asked.no_coach)
    return run_app(shop(), desk, person)


class Lists:
    """Each board's faults, from its whole sequence: a sheet of few steps leaves none of them out."""

    def __init__(self, boards: Mapping[str, Board]) -> None:
        """Take the boards that can be used, by name."""
        self._boards = boards
        self._known: dict[str, FaultList] = {}

    def __call__(self, sequence: Sequence) -> FaultList:
        """The list of the board that this sequence, or sheet, is of."""
        name = sequence.sequence
        if name not in self._known:
            board = self._boards.get(name)
            whole = None if board is None else board.sequence
            self._known[name] = made_from(sequence) if whole is None else list_for(whole)
        return self._known[name]


def chosen_board(boards: Mapping[str, Board], name: str | None) -> Board:
    """The board that was named, the first to learn on where none was.

    Raises:
        WrongUse: there is none of that name, or none at all.
    """
    if not boards:
        raise WrongUse("there is no board to practise on. 'passcheck check' says what is wrong with the files.")
    if name is None:
        return boards.get(FIRST_BOARD) or next(iter(boards.values()))
    found = next((board for board in boards.values() if board.name.upper() == name.upper()), None)
    if found is None:
        raise WrongUse(f"there is no board '{name}' to practise on. There are: {', '.join(boards)}.")
    return found


def sheet_of(board: Board, faults: FaultList, *, first: bool = False, fault: str | None = None) -> str:
    """The board's short practice sheet, or the shorter one of a newcomer's first job where that can show the fault.

    Args:
        board: its file.
        faults: its list.
        first: nobody has ended a job here yet.
        fault: the one that was asked for by name.

    Raises:
        FileFault: its list names steps that don't make one.
    """
    if first and faults.first:
        text = short_sheet(board.text, faults.first, ShortSoak())
        named = next((one for one in faults.faults if one.name == fault), None)
        if named is None or shows_on(read_sequence(text, board.name), named):
            return text
    return short_sheet(board.text, faults.short or None, ShortSoak())


def newcomer(folders: Folders, clock: ForwardClock) -> str:
    """Who is at the practice bench; its bench.yaml is written with the first practice."""
    files = bench_files(practice_folders(folders), clock)
    if files.make(PRACTICE_LETTER):
        files.add("people", NEWCOMER, {"name": "Newcomer", "role": "technician", "hazardous_live": True})
    people = files.read().people
    return NEWCOMER if NEWCOMER in people else next(iter(people))


def catch_up(clock: ForwardClock, rows: Many[ShelfRow]) -> set[str]:
    """Time that was let go by in an earlier practice stays gone: no clock goes back before what was kept.

    Returns the boards of the units that still wait among these rows of the shelf.
    """
    kept = [datetime.fromisoformat(row.last_at) for row in rows if row.last_at]
    if kept and (ahead := (max(kept) - clock().utc).total_seconds()) > 0:
        clock.pass_time(seconds=ahead)
    return {row.sequence for row in rows if row.ended is None}


async def have_one_wait(shop: Shop, board: str, faults: FaultList, wanted: str | None, person: str) -> None:
    """Take in a unit of the board where none waits, or one with the wanted fault.

    Raises:
        FileFault: it can't be taken in.
    """
    try:
        if wanted is None and any(row.sequence == board and row.ended is None for row in shop.shelf()):
            return
        sheet = shop.boards.listed()[0].sequence
        assert sheet is not None  # noqa: S101 - a sheet was read when it was made
        draw = SystemRandom()
        named = next((fault for fault in faults.faults if fault.name == wanted), None)
        fault = named or drawn_fault(sheet, faults.faults, draw)
        if fault is None:
            raise FileFault(f"{board}: no fault can be made from its sequence, so there is nothing to find.")
        await _take_in(shop, board, waiting(sheet, faults.faults, fault, draw), person)
    finally:
        await shop.close()


async def _take_in(shop: Shop, board: str, unit: Waiting, person: str) -> None:
    bench = await shop.arrive(Arrive(person, board, unit.serial, unit.complaint, AS_IT_CAME, unit.variants))
    if not isinstance(bench, Bench):
        raise FileFault(f"The practice unit {unit.serial} can't be taken in. {bench.sentence}")
    if unit.symptoms:
        mapped = await bench.do(MapComplaint(person, unit.symptoms))
        if isinstance(mapped, Refusal):
            raise FileFault(f"The practice unit's complaint can't be mapped. {mapped.sentence}")
