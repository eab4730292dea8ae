"""A technician, as far as a script can be one: taps in a real terminal, on a quick unit and on a slow one."""

import json
import os
import random  # noqa: TID251 - a simulated hand from a seed
import signal
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from processes import readers_of
from terminal import Terminal

from passcheck.cli.folders import Folders
from passcheck.cli.main import main
from passcheck.cli.terminal import terminal_words
from passcheck.cli.wire import bench_files, open_shop
from passcheck.job.kept_latency import KeptLatency

BOARD = Path(__file__).parents[1] / "samples" / "tap-board.yaml"
LIT = "●●●"
DISPLAY_S = 0.05  # from the terminal's bytes to the eye: the latency that this bench measured


class Technician:
    """Types at the program; reacts to the light as people do (ex-Gaussian), and to a unit that only they see."""

    def __init__(self, terminal: Terminal, seed: int) -> None:
        self.terminal = terminal
        self._draw = random.Random(seed)  # noqa: S311 - a simulation

    def reaction_s(self) -> float:
        return 0.18 + self._draw.gauss(0, 0.02) + self._draw.expovariate(1 / 0.04)

    def pause_s(self) -> float:
        return self._draw.uniform(0.05, 0.15)

    def step(self, words: str, *pieces: str) -> None:
        """Wait for words, then type, one piece after the other."""
        self.terminal.wait_for(words)
        for piece in pieces:
            self.terminal.settle()
            self.terminal.type(piece)

    def take_in_and_start(self) -> None:
        self.step("WHO IS AT THE BENCH?", "enter")
        self.step("at the bench: Tech", "7Q22051", "enter")
        self.step("ARRIVAL", "enter", "7Q22051", "enter", "Button answers late", "f4")
        self.step("TRAVELLER", "b")
        self.step("START A RUN", "7Q22051", "enter", "enter")
        self.step("Begin the taps")

    def learn_the_key(self) -> None:
        self.step("THE TAP KEY", " ")
        self.step("came. Press it once more", " ")

    def reference_trials(self, count: int = 20) -> None:
        for number in range(1, count + 1):
            self.terminal.wait_for(f"Trial {number} of {count}")
            press_s = time.monotonic() + self.pause_s()
            self.terminal.type_at(press_s, "j")
            self.terminal.type_at(press_s + max(0.002, self._draw.gauss(0.01, 0.01)), " ")
            self.terminal.wait_for(LIT)
            self.terminal.type_at(time.monotonic() + DISPLAY_S + self.reaction_s(), " ")
            self.terminal.gone(LIT)

    def trials_on_a_unit(self, delay_s: float, title: str, decided: str) -> None:
        """Press and tap until the verdict stands there; the unit answers after `delay_s`."""
        self.terminal.wait_for(title)
        number = 1
        while True:
            self.wait_for_one(f"Trial {number} of", decided)
            if any(decided in row for row in self.terminal.rows):
                return
            press_s = time.monotonic() + self.pause_s()
            self.terminal.type_at(press_s + self._draw.gauss(0.01, 0.01), " ")
            self.terminal.type_at(press_s + delay_s + self.reaction_s(), " ")
            number += 1

    def wait_for_one(self, *choices: str) -> None:
        end = time.monotonic() + 20
        while not any(words in row for row in self.terminal.rows for words in choices):
            assert time.monotonic() < end, "\n".join(self.terminal.rows)
            self.terminal.settle()


@pytest.fixture
def folders(tmp_path: Path) -> Folders:
    (tmp_path / "sequences").mkdir()
    (tmp_path / "sequences" / BOARD.name).write_bytes(BOARD.read_bytes())
    where = Folders(tmp_path / "logs", tmp_path / "sequences")
    files = bench_files(where)
    files.make()
    words = terminal_words({**os.environ, "TERM": "xterm-256color"})
    today = time.strftime("%Y-%m-%d")
    files.keep_latency(KeptLatency(str(DISPLAY_S), "0.002", ("12",) * 5, "240", today, words))
    return where


@pytest.fixture
def terminal(folders: Folders) -> Iterator[Terminal]:
    one = Terminal(folders.logs, folders.sequences)
    yield one
    one.close()


def shown(folders: Folders, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    where = ["--logs", str(folders.logs), "--sequences", str(folders.sequences)]
    assert main([*where, "jobs", "--json"]) == 0
    job = json.loads(capsys.readouterr().out)["jobs"][0]["job"]
    assert main([*where, "show", job, "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)["show"][0]
    return found


def begin_homing(terminal: Terminal) -> Technician:
    """The step that a hand times without reference trials, its taps begun."""
    hand = Technician(terminal, 3)
    hand.take_in_and_start()
    terminal.type("\x1b[6~", "\x1b[6~")  # page down, twice
    hand.step("Homing time")
    terminal.settle()
    terminal.type("enter")
    hand.learn_the_key()
    terminal.wait_for("Trial 1 of 3")
    return hand


def homing_trial(hand: Technician, number: int) -> None:
    hand.terminal.wait_for(f"Trial {number} of 3")
    start_s = time.monotonic() + hand.pause_s()
    hand.terminal.type_at(start_s, " ")
    hand.terminal.type_at(start_s + 1.0 + hand.reaction_s(), " ")


def test_killing_the_reader_in_mid_step_lets_the_taps_go_on_and_marks_the_step(
    terminal: Terminal, folders: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    hand = begin_homing(terminal)
    homing_trial(hand, 1)
    terminal.wait_for("Trial 2 of 3")
    [reader] = readers_of(terminal.process.pid)
    os.kill(reader, signal.SIGKILL)
    terminal.wait_for("the screen stamps now")
    for number in (2, 3):
        homing_trial(hand, number)
    terminal.wait_for("Part was")
    assert terminal.hang_up() == 128 + signal.SIGHUP
    assert readers_of(terminal.process.pid) == []
    [tried] = next(step for step in shown(folders, capsys)["steps"] if step["step"] == "home")["attempts"]
    assert (tried["verdict"], tried["given"]["how"]["stamped_by"]) == ("pass", "screen")
    assert len(tried["given"]["pairs"]) == 3


def test_a_stopped_program_finds_its_taps_void_and_begins_them_anew(terminal: Terminal) -> None:
    hand = begin_homing(terminal)
    homing_trial(hand, 1)
    terminal.wait_for("Trial 2 of 3")
    terminal.process.send_signal(signal.SIGTSTP)
    os.waitid(os.P_PID, terminal.process.pid, os.WSTOPPED | os.WNOWAIT)
    terminal.process.send_signal(signal.SIGCONT)
    terminal.wait_for("Void: the program was suspended")
    terminal.wait_for("Trial 1 of 3")
    for number in (1, 2, 3):
        homing_trial(hand, number)
    terminal.wait_for("By hand, less 0.3 s")


def test_a_program_killed_in_mid_step_says_that_its_taps_are_void(terminal: Terminal, folders: Folders) -> None:
    hand = begin_homing(terminal)
    homing_trial(hand, 1)
    terminal.wait_for("Trial 2 of 3")
    assert terminal.end_by(signal.SIGKILL) == -signal.SIGKILL
    again = Terminal(folders.logs, folders.sequences)
    try:
        hand = Technician(again, 4)
        hand.step("WHO IS AT THE BENCH?", "enter")
        hand.step("at the bench: Tech", "7Q22051", "enter")
        hand.step("TRAVELLER", "b")
        again.wait_for("step 1 of 5")
        again.type("\x1b[6~", "\x1b[6~")
        again.wait_for("Taps broken off (the program ended): void.")
    finally:
        again.close()


@pytest.mark.parametrize("seed", [1, 2])
def test_a_quick_unit_passes_and_a_slow_one_fails_and_no_tap_is_lost(
    terminal: Terminal, folders: Folders, capsys: pytest.CaptureFixture[str], seed: int
) -> None:
    hand = Technician(terminal, seed)
    hand.take_in_and_start()
    terminal.type("enter")
    hand.learn_the_key()
    hand.reference_trials()
    hand.trials_on_a_unit(0.25, "again when", "is inside")
    terminal.type("\x1b[5~")  # page up: back to the step that passed
    hand.step("Begin the taps", "enter")
    hand.trials_on_a_unit(0.80, "again when", "is outside")
    terminal.settle()
    assert terminal.hang_up() == 129
    tries = next(step for step in shown(folders, capsys)["steps"] if step["step"] == "sw1")["attempts"]
    assert [one["verdict"] for one in tries] == ["pass", "fail"]
    for one, low_s, high_s in ((tries[0], 0.15, 0.35), (tries[1], 0.70, 0.90)):
        assert low_s < float(one["value"]["value"]) < high_s
        assert all(pair["stop"] is not None and not pair["void"] for pair in one["given"]["pairs"])
    assert [len(one["given"]["pairs"]) for one in tries] == [3, 5]
    job = open_shop(folders).look(shown(folders, capsys)["job"])  # the journal folds to what was shown
    assert [attempt.judgement.verdict for attempt in job.attempts] == ["pass", "fail"]
    assert sum(not trial.void for trial in job.references[0].facts.trials) == 20
