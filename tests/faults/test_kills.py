"""Is every acknowledged line there after kill -9?"""

import sys
from collections.abc import Iterable
from pathlib import Path

import pytest
from after_a_kill import Remains
from kill_tally import Tally
from walk_kills import WalkKills

from passcheck.records.journal_file import State, read_journal
from passcheck.records.shop import LogFolder

KILLS = 20
LINES_BEFORE_A_KILL = [1 + kill * 7 % 12 for kill in range(KILLS)]
"""From one to twelve, each more than once; where in the next line the kill strikes is up to the machine."""


@pytest.mark.skipif(sys.platform == "win32", reason="kill -9 is a signal of Unix")
def test_every_acknowledged_line_survives_kill_9(tmp_path: Path) -> None:
    walks, tally = WalkKills(tmp_path, seed=1), Tally()
    for lines in LINES_BEFORE_A_KILL:
        tally.add(walks.kill(lines, delay_s=0))
    tally.add(walks.close_the_books())
    assert tally.wrongs() == []
    assert tally.kills.total() == KILLS
    assert tally.acknowledged >= sum(LINES_BEFORE_A_KILL)
    logs = LogFolder(tmp_path, "A")
    (job,) = logs.job_ids()
    assert read_journal(logs.journal_path(job)).state is State.WHOLE
    assert [line.number for line in logs.read_job(job)] == list(range(len(logs.read_job(job))))


# The count itself: what must not pass unnoticed


@pytest.fixture
def killed(tmp_path: Path) -> Path:
    """The journal of a job that a kill left."""
    assert WalkKills(tmp_path, seed=1).kill(6, delay_s=0).wrongs() == []
    return next(tmp_path.glob("jobs/*/*.jsonl"))


def found(folder: Path, seen: Iterable[Path], then: str = "") -> list[str]:
    """What is counted when these files were read and then, before the next look, the journal became another."""
    remains, tally = Remains(folder), Tally()
    before = {path: path.read_bytes() for path in seen}
    journal = next(folder.glob("jobs/*/*.jsonl"))
    lines = journal.read_bytes().splitlines(keepends=True)
    if then == "cut":
        journal.write_bytes(b"".join(lines[:-1]))
    elif then == "changed":
        journal.write_bytes(journal.read_bytes().replace(b"note 2", b"note 9"))
    elif then == "torn":
        journal.write_bytes(journal.read_bytes() + b'{"#":')
    elif then == "gone":
        journal.unlink()
    remains.look(tally, before, {}, orderly=then == "torn")
    return tally.wrongs()


def test_files_that_nobody_touched_are_found_well(killed: Path) -> None:
    assert found(killed.parents[2], [killed, killed.parents[2] / "ledger.jsonl"]) == []


@pytest.mark.parametrize(
    ("then", "said"),
    [
        ("cut", "was there and is gone"),
        ("changed", "no longer begins with"),
        ("changed", "its hash does not match"),
        ("torn", "is torn after an orderly end"),
        ("gone", "was there and is gone"),
    ],
)
def test_a_line_that_is_gone_a_byte_that_changed_and_a_torn_orderly_end_are_counted(
    killed: Path, then: str, said: str
) -> None:
    wrongs = found(killed.parents[2], [killed, killed.parents[2] / "ledger.jsonl"], then)
    assert any(said in one for one in wrongs), wrongs
