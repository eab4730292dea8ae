"""The program in a real terminal: the driver, the parser and the signals that Pilot never runs."""

import signal
from collections.abc import Iterator
from pathlib import Path

import pytest
from terminal import Terminal

from passcheck.cli.main import main

SAMPLES = Path(__file__).parent.parent / "samples"
LEAVE_FULL_SCREEN = b"\x1b[?1049l"


@pytest.fixture
def boards(tmp_path: Path) -> Path:
    folder = tmp_path / "sequences"
    folder.mkdir()
    (folder / "small-board.yaml").write_bytes((SAMPLES / "small-board.yaml").read_bytes())
    return folder


@pytest.fixture
def terminal(tmp_path: Path, boards: Path) -> Iterator[Terminal]:
    one = Terminal(tmp_path / "logs", boards)
    yield one
    one.close()


def take_in(terminal: Terminal) -> None:
    terminal.wait_for("WHO IS AT THE BENCH?")
    terminal.type("enter")
    terminal.wait_for("at the bench: Tech")
    terminal.type("7Q22051", "enter")
    terminal.wait_for("ARRIVAL")
    for piece in ("enter", "7Q22051", "enter", "She reboots when I start her.", "f4"):
        terminal.settle()
        terminal.type(piece)
    terminal.wait_for("BETWEEN THIS UNIT AND THE DOOR")


def test_a_unit_is_taken_in_and_a_kill_loses_nothing_that_was_shown(
    terminal: Terminal, tmp_path: Path, boards: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    take_in(terminal)
    assert terminal.end_by(signal.SIGKILL) == -signal.SIGKILL
    assert main(["--logs", str(tmp_path / "logs"), "--sequences", str(boards), "jobs"]) == 0
    listed = capsys.readouterr().out
    assert "7Q22051" in listed
    again = Terminal(tmp_path / "logs", boards)
    try:
        again.wait_for("WHO IS AT THE BENCH?")
        again.type("enter")
        again.wait_for("7Q22051")
    finally:
        again.close()


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
def test_a_signal_ends_the_program_cleanly_and_gives_the_terminal_back(
    terminal: Terminal, number: signal.Signals
) -> None:
    terminal.wait_for("WHO IS AT THE BENCH?")
    assert terminal.end_by(number) == 128 + number
    assert LEAVE_FULL_SCREEN in terminal.raw
    assert terminal.settings_now() == terminal.before


def test_a_closed_terminal_ends_the_program_with_everything_kept(
    terminal: Terminal, tmp_path: Path, boards: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    take_in(terminal)
    assert terminal.hang_up() == 128 + signal.SIGHUP
    assert main(["--logs", str(tmp_path / "logs"), "--sequences", str(boards), "jobs"]) == 0
    assert "7Q22051" in capsys.readouterr().out


def test_a_hostile_paste_is_kept_as_text_and_reaches_no_terminal_raw(
    terminal: Terminal, tmp_path: Path, boards: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    hostile = "[@click=app.quit]y[/] [/red] \x9d52;c;QUJD\x07 \u202egnp.exe " + "x" * 10_000
    terminal.wait_for("WHO IS AT THE BENCH?")
    for piece in ("enter", "7Q22051", "enter"):
        terminal.type(piece)
        terminal.settle()
    for piece in ("enter", "7Q22051", "enter", f"\x1b[200~{hostile}\x1b[201~", "f4"):
        terminal.type(piece)
        terminal.settle()
    terminal.wait_for("TRAVELLER")
    terminal.end_by(signal.SIGTERM)
    for raw in (b"\x1b]52", "\x9d".encode(), "\u202e".encode(), b"QUJD\x07"):
        assert raw not in terminal.raw, raw
    where = ["--logs", str(tmp_path / "logs"), "--sequences", str(boards)]
    assert main([*where, "show", next((tmp_path / "logs" / "jobs").rglob("*.jsonl")).stem]) == 0
    said = capsys.readouterr().out
    assert "[@click=app.quit]y[/] [/red]" in said
    assert not {"\x07", "\x9d", "\u202e"} & set(said)
    kept = next((tmp_path / "logs" / "jobs").rglob("*.jsonl")).read_text(encoding="utf-8")
    assert "x" * 10_000 in kept


def test_a_bench_file_that_cannot_be_used_ends_the_screens_with_its_one_message(tmp_path: Path, boards: Path) -> None:
    logs = tmp_path / "logs"
    logs.mkdir()
    (logs / "bench.yaml").write_text("people: {t1: {nam: A technician}}\n", encoding="utf-8")
    terminal = Terminal(logs, boards)
    try:
        assert terminal.ended() == 1
        assert b"bench.yaml:1:15: 'nam' is not an entry here" in terminal.raw
        assert b"Traceback" not in terminal.raw
        assert terminal.settings_now() == terminal.before
    finally:
        terminal.close()
