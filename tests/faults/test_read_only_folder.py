"""What does passcheck do in a folder that it may read and not write?

It shows every job and refuses to take one up, in a sentence that says what to change; nothing is left behind. Root may
write whatever the mode bits say, so there the tests are somebody else for a while.
"""

import os
import stat
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from journal_lines import a_fail, a_line, opening, stamp

from passcheck.errors import BenchFailed
from passcheck.records.shop import LogFolder

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="mode bits are Unix's")
NOBODY = 65534


@pytest.fixture
def folder() -> Iterator[Path]:
    """A folder that other accounts can reach; pytest's own are closed to them."""
    with tempfile.TemporaryDirectory() as name:
        path = Path(name)
        path.chmod(0o755)
        yield path / "logs"
        open_to_writing(path)


@contextmanager
def an_ordinary_account() -> Iterator[None]:
    """Whoever runs this, without the rights of root."""
    me = os.geteuid()
    if me == 0:
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        if me == 0:
            os.seteuid(me)


def close_to_writing(folder: Path) -> None:
    for path in [*folder.rglob("*"), folder]:
        path.chmod(0o555 if path.is_dir() else 0o444)


def open_to_writing(folder: Path) -> None:
    for path in [folder, *folder.rglob("*")]:
        path.chmod(0o777 if stat.S_ISDIR(path.stat().st_mode) else 0o666)


def logs_in(folder: Path) -> LogFolder:
    return LogFolder(folder, "A", stamp=stamp)


def a_job(folder: Path) -> str:
    job, writer = logs_in(folder).new_job(opening)
    writer.append([a_fail(1)], fail=True)
    writer.close()
    return job


def bytes_in(folder: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_jobs_are_listed_read_and_found_sound(folder: Path) -> None:
    job = a_job(folder)
    close_to_writing(folder)
    with an_ordinary_account():
        logs = logs_in(folder)
        assert logs.job_ids() == (job,)
        assert [line.event for line in logs.read_job(job)] == ["job opened", "attempt judged"]
        assert logs.intact(job) == ()


def test_taking_a_job_up_or_in_is_refused_in_a_sentence_and_nothing_is_left_behind(folder: Path) -> None:
    job = a_job(folder)
    before = bytes_in(folder)
    close_to_writing(folder)
    with an_ordinary_account():
        with pytest.raises(BenchFailed, match=r"Make .* writable for this account\.$"):
            logs_in(folder).open_job(job)
        with pytest.raises(BenchFailed, match=r"Make .* writable for this account\.$"):
            logs_in(folder).new_job(opening)
    assert bytes_in(folder) == before


def test_a_folder_that_can_not_even_be_read_is_told_and_no_empty_shelf(folder: Path) -> None:
    a_job(folder)
    close_to_writing(folder)
    (folder / "jobs").chmod(0)
    with an_ordinary_account(), pytest.raises(BenchFailed, match="Permission denied"):
        logs_in(folder).job_ids()


def test_a_folder_closed_under_a_writer_takes_its_notes_and_stops_it_where_the_ledger_has_to_know(folder: Path) -> None:
    folder.mkdir()
    open_to_writing(folder)
    with an_ordinary_account():
        logs = logs_in(folder)
        job, writer = logs.new_job(opening)
    close_to_writing(folder)
    with an_ordinary_account():
        writer.append([a_line(1)])
        with pytest.raises(BenchFailed, match="writable for this account"):
            writer.append([a_fail(2)], fail=True)
        assert not writer.writing
    open_to_writing(folder)
    with an_ordinary_account():
        again, lines = logs.open_job(job)
        assert [line.event for line in lines] == ["job opened", "note added", "attempt judged"]
        again.append([a_line(3)])
        again.close()
        assert logs.intact(job) == ()
        assert [entry.event for entry in logs.ledger.entries(job)] == ["job opened", "failed"]
