"""Is every acknowledged line there after kill -9?"""

import signal
import sys
from pathlib import Path

import pytest
from walkers import start_walker

from passcheck.records.journal_file import State, read_journal
from passcheck.records.shop import LogFolder

KILLS = 20
LINES_BEFORE_A_KILL = [1 + kill * 7 % 12 for kill in range(KILLS)]
"""From one to twelve, each more than once; where in the next line the kill strikes is up to the machine."""


@pytest.mark.skipif(sys.platform == "win32", reason="kill -9 is a signal of Unix")
def test_every_acknowledged_line_survives_kill_9(tmp_path: Path) -> None:
    job, written = "new", 0
    for kill, acknowledged in enumerate(LINES_BEFORE_A_KILL):
        walker = start_walker(tmp_path, job, 10_000)
        assert walker.stdout is not None
        job = walker.stdout.readline().split()[0]
        last = -1
        for _ in range(acknowledged):
            last = int(walker.stdout.readline())
        walker.send_signal(signal.SIGKILL)
        said, _ = walker.communicate(timeout=20)
        # What it printed between our decision and its end was acknowledged, too; a number cut in half was not.
        whole = said[: said.rfind("\n") + 1].split()
        last = int(whole[-1]) if whole else last
        logs = LogFolder(tmp_path, "A")
        lines = logs.read_job(job)
        assert len(lines) > last, f"kill {kill}: line {last} was acknowledged, {len(lines)} are there"
        assert last > written, "the walk goes on where the last one was killed"
        written = last
    journal, lines = logs.open_job(job)
    journal.close()
    assert read_journal(journal.path).state is State.WHOLE
    assert logs.intact(job) == ()
    assert [line.number for line in lines] == list(range(len(lines)))
