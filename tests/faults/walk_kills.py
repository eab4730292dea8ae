"""How is a walk without a screen killed, again and again, over one folder of records?"""

import select
import signal
from pathlib import Path
from random import Random  # noqa: TID251 - kills drawn from a seed

from after_a_kill import Remains
from kill_tally import Tally
from walkers import start_walker

from passcheck.records.shop import LogFolder

ENDLESS = 10_000
LATEST_S = 0.004
"""A kill comes at most so long after an acknowledged line; a line takes less than a thousandth of a second."""
KILLS_A_JOB = 40
PATIENCE_S = 30.0


class WalkKills:
    """One job after the other, each walked by many short-lived processes."""

    def __init__(self, folder: Path, seed: int) -> None:
        """Args: the folder of the records; the seed of the kills."""
        self._folder = folder
        self._draw = Random(seed)  # noqa: S311 - kills drawn from a seed
        self._remains = Remains(folder)
        self._job = "new"
        self._kills = 0

    def kill(self, lines: int | None = None, delay_s: float | None = None) -> Tally:
        """Start a walker and kill it once it has acknowledged so many lines; what is not given is drawn."""
        lines = self._draw.randint(1, 12) if lines is None else lines
        delay_s = self._draw.uniform(0, LATEST_S) if delay_s is None else delay_s
        tally = Tally()
        if self._kills and self._kills % KILLS_A_JOB == 0:
            self._job = "new"
        self._kills += 1
        walker = start_walker(self._folder, self._job, ENDLESS)
        try:
            assert walker.stdout is not None
            first = walker.stdout.readline().split()
            if len(first) != 2:
                walker.kill()
                tally.stuck.append(f"the walker of {self._job} said: {walker.communicate(timeout=PATIENCE_S)}")
                return tally
            self._job, begins_at = first[0], int(first[1])
            last = begins_at - 1
            path = LogFolder(self._folder, "A").journal_path(self._job)
            self._remains.taken_up(tally, path)
            for _ in range(lines):
                last = int(walker.stdout.readline())
            if delay_s > 0:
                select.select([], [], [], delay_s)
            seen = {one: one.read_bytes() for one in (path, self._remains.ledger)}
            walker.send_signal(signal.SIGKILL)
            said, _ = walker.communicate(timeout=PATIENCE_S)
        finally:
            walker.kill()
            walker.wait()
        # What it printed between our decision and its end was acknowledged, too; a number cut in half was not.
        whole = said[: said.rfind("\n") + 1].split()
        last = int(whole[-1]) if whole else last
        tally.kills["KILL"] += 1
        tally.aims["a moment"] += 1
        self._remains.look(tally, seen, {}, orderly=False)
        tally.acknowledged += last - begins_at + 1
        there = {line.number for line in self._remains.job(path)}
        tally.lost += [
            f"{self._job}: line {number} was acknowledged and is not there"
            for number in range(begins_at, last + 1)
            if number not in there
        ]
        return tally

    def close_the_books(self) -> Tally:
        """What is found at the end of all, when every job was opened once more."""
        tally = Tally()
        self._remains.close_the_books(tally)
        return tally
