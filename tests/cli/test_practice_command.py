"""`passcheck practice`: a unit waits on a shelf of its own, wrong names are told, and the screens open over it."""

import argparse
import asyncio
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest
from practising import BOARDS, sheet_of, text_of, whole
from terminal import Terminal

from passcheck.bench.shop import Shop
from passcheck.cli import practice
from passcheck.cli.arguments import parser
from passcheck.cli.clock import now
from passcheck.cli.folders import Folders
from passcheck.cli.main import main
from passcheck.cli.wire import open_practice_shop
from passcheck.job.shelf_row import ShelfRow
from passcheck.practice.at_the_bench import PracticeBench
from passcheck.practice.clock import ForwardClock
from passcheck.practice.lists import list_for
from passcheck.practice.memory import MemoryBoards
from passcheck.practice.sheet import kept_steps
from passcheck.sequence.load import read_sequence

PANEL = "OV-24P"


@pytest.fixture
def folders(tmp_path: Path) -> Folders:
    return Folders(tmp_path / "logs", BOARDS)


@pytest.fixture
def terminal(folders: Folders) -> Iterator[Terminal]:
    one = Terminal(folders.logs, folders.sequences, command=("practice", "--fault", "tired-capacitors"))
    yield one
    one.close()


def shop(folders: Folders, clock: ForwardClock | None = None) -> Shop:
    return open_practice_shop(folders, MemoryBoards(sheet_of()), clock or ForwardClock(now))


def one_waits(folders: Folders, fault: str | None = None) -> tuple[ShelfRow, ...]:
    person = practice.newcomer(folders, ForwardClock(now))
    asyncio.run(practice.have_one_wait(shop(folders), PANEL, list_for(whole()), fault, person))
    return shop(folders).shelf()


@pytest.mark.parametrize(
    ("first", "fault", "steps"),
    [(True, None, "first"), (True, "slow-crystal", "first"), (True, "dirty-tail", "short"), (False, None, "short")],
)
def test_a_newcomer_s_first_sheet_is_the_smaller_one_where_it_shows_the_fault(
    first: bool, fault: str | None, steps: str
) -> None:
    board = next(one for one in MemoryBoards(text_of(PANEL.lower())).listed())
    faults = list_for(whole())
    sheet = read_sequence(practice.sheet_of(board, faults, first=first, fault=fault), PANEL)
    wanted = kept_steps(whole(), faults.first if steps == "first" else faults.short)
    assert tuple(step.id for step in sheet.steps) == wanted


def asked(*words: str) -> argparse.Namespace:
    return parser("").parse_args(["practice", *words])


def test_a_unit_waits_with_its_owner_s_words_and_is_practice(folders: Folders) -> None:
    (row,) = one_waits(folders)
    assert row.practice
    assert row.sequence == PANEL
    assert row.complaint
    assert row.ended is None
    job = shop(folders).look(row.job)
    assert job.facts.practice
    assert job.symptoms
    assert job.opened_by == practice.NEWCOMER
    assert (folders.logs / "practice" / "bench.yaml").is_file()
    assert not (folders.logs / "bench.yaml").exists()


def test_one_that_waits_is_enough_and_a_wanted_fault_brings_another(folders: Folders) -> None:
    assert len(one_waits(folders)) == 1
    assert len(one_waits(folders)) == 1
    rows = one_waits(folders, "worn-button")
    assert len(rows) == 2
    faults = list_for(whole())
    bench = PracticeBench(lambda _sheet: faults)
    assert [fault.name for fault in bench.unit(shop(folders).look(rows[-1].job)).faults] == ["worn-button"]


def test_time_that_was_let_go_by_stays_gone_when_practice_is_taken_up_again(folders: Folders) -> None:
    clock = ForwardClock(now)
    clock.pass_time(hours=3)
    person = practice.newcomer(folders, clock)
    asyncio.run(practice.have_one_wait(shop(folders, clock), PANEL, list_for(whole()), None, person))
    again = ForwardClock(now)
    practice.catch_up(again, shop(folders, again).shelf())
    job = shop(folders, again).look(shop(folders, again).shelf()[0].job)
    assert (again().utc - job.last.utc).total_seconds() >= -0.001
    gone = again().since(job.last)
    assert gone is not None
    assert gone.total_seconds() > -1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--board", "XY-9"), "no board 'XY-9' to practise on. There are: EK-8, OV-24P, PM-7, QM-48, TH-12."),
        (("--fault", "gremlins"), "OV-24P has no fault 'gremlins' to practise. There are: tired-capacitors, "),
        (("--board", "th-12", "--fault", "gremlins"), "TH-12 has no fault 'gremlins'"),
    ],
)
def test_a_wrong_name_is_told_in_one_sentence_with_those_that_are_known(
    folders: Folders, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], said: str
) -> None:
    where = ["--logs", str(folders.logs), "--sequences", str(folders.sequences)]
    assert main([*where, "practice", *words]) == 2
    told = capsys.readouterr().err
    assert said in told
    assert told.count("\n") == 1
    assert not folders.logs.exists()


def test_without_any_board_it_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "boards").mkdir()
    assert main(["--logs", str(tmp_path / "logs"), "--sequences", str(tmp_path / "boards"), "practice"]) == 2
    assert "there is no board to practise on" in capsys.readouterr().err


def test_without_a_terminal_nothing_is_made(folders: Folders, capsys: pytest.CaptureFixture[str]) -> None:
    assert practice.practice(asked(), folders) == 2
    assert "the screens need a terminal" in capsys.readouterr().err
    assert not folders.logs.exists()


def test_the_shelf_opens_in_a_terminal_with_the_unit_and_the_records_say_practice(
    terminal: Terminal, folders: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    terminal.wait_for("PRACTICE SHELF: units that don't exist   1 in the shop")
    terminal.wait_for("at the bench: Newcomer")
    terminal.wait_for("PRACTICE  Down, then Enter")
    terminal.settle()
    terminal.type("\x1b[B")
    terminal.settle()
    terminal.type("enter")
    terminal.wait_for("TRAVELLER  PRACTICE")
    terminal.wait_for("F8: make safe.")
    terminal.settle()
    terminal.type("f8")
    terminal.wait_for("The tester shows 12 V")
    terminal.settle()
    terminal.end_by(signal.SIGTERM)
    where = ["--logs", str(folders.logs), "--sequences", str(folders.sequences)]
    assert main([*where, "jobs"]) == 0
    assert "No jobs yet." in capsys.readouterr().out
    assert main([*where, "jobs", "--practice"]) == 0
    assert "PRACTICE" in capsys.readouterr().out


def test_the_plain_help_names_practice_first(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--help"]) == 0
    assert "learn it on a simulated unit" in capsys.readouterr().out
