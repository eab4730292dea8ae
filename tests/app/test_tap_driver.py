"""Do keys go on coming in, each with its own moment, whatever becomes of the process that reads them?"""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from processes import is_gone, readers_of
from terminal import Terminal

pytestmark = pytest.mark.skipif(not Path("/proc").is_dir(), reason="looks for processes in /proc")


@pytest.fixture
def checking(tmp_path: Path) -> Iterator[Terminal]:
    """The check of the tap key in a terminal of its own."""
    command = ("bench", "tap-check", "--json", str(tmp_path / "taps.jsonl"))
    terminal = Terminal(tmp_path / "logs", tmp_path, command=command)
    terminal.wait_for("No tap yet.")
    yield terminal
    terminal.close()


def test_each_key_carries_the_moment_it_was_read(checking: Terminal, tmp_path: Path) -> None:
    assert (tmp_path / "taps.jsonl.ready").exists()
    sent = []
    for number in range(1, 6):
        sent.append(time.monotonic())
        checking.type(" ")
        checking.wait_for(f"{number} taps,")
        checking.settle()  # longer than a switch bounces
    checking.type("q")
    assert checking.ended() == 0
    lines = [json.loads(line) for line in (tmp_path / "taps.jsonl").read_text().splitlines()]
    assert len(lines) == 5
    for line, sent_s in zip(lines, sent, strict=True):
        assert sent_s <= line["event"] <= line["handler"]


def test_when_the_reading_process_is_killed_keys_go_on_and_it_is_said(checking: Terminal) -> None:
    [reader] = readers_of(checking.process.pid)
    checking.type(" ")
    checking.wait_for("1 taps,")
    os.kill(reader, signal.SIGKILL)
    checking.wait_for("was lost")
    checking.settle()
    checking.type(" ")
    checking.wait_for("2 taps,")
    checking.type("q")
    assert checking.ended() == 0


def test_a_stopped_program_leaves_the_keys_to_the_shell_and_takes_them_again_when_it_goes_on(
    checking: Terminal,
) -> None:
    [reader] = readers_of(checking.process.pid)
    checking.process.send_signal(signal.SIGTSTP)
    os.waitid(os.P_PID, checking.process.pid, os.WSTOPPED | os.WNOWAIT)
    assert is_gone(reader)
    assert readers_of(checking.process.pid) == []
    checking.process.send_signal(signal.SIGCONT)
    checking.wait_for("No tap yet.")
    checking.settle()
    checking.type(" ")
    checking.wait_for("1 taps,")
    assert len(readers_of(checking.process.pid)) == 1
    checking.type("q")
    assert checking.ended() == 0


def test_no_reader_is_left_when_the_program_is_killed(checking: Terminal) -> None:
    [reader] = readers_of(checking.process.pid)
    assert checking.end_by(signal.SIGKILL) == -signal.SIGKILL
    assert is_gone(reader)


def test_no_reader_is_left_after_an_orderly_end_and_the_terminal_is_as_before(checking: Terminal) -> None:
    [reader] = readers_of(checking.process.pid)
    checking.type("q")
    assert checking.ended() == 0
    assert is_gone(reader)
    assert checking.settings_now() == checking.before


def test_no_reader_is_left_when_the_terminal_is_closed(checking: Terminal) -> None:
    [reader] = readers_of(checking.process.pid)
    assert checking.hang_up() == 128 + signal.SIGHUP
    assert is_gone(reader)


@pytest.mark.skipif(sys.platform != "linux", reason="asks Linux")
def test_the_reader_may_ask_for_short_slices_and_a_refusal_is_no_fault() -> None:
    granted = subprocess.run(
        [sys.executable, "-c", "from passcheck.app import tap_reader; print(tap_reader.want_short_slices())"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert granted.stdout.strip() in ("True", "False")
    assert granted.stderr == ""
