"""Is an archive never half of anything: after a kill, beside another process, or where its file is something else?"""

import os
import sqlite3
import subprocess
import sys
import threading
from contextlib import closing
from pathlib import Path

import pytest
from archive_shop import STORIES, ArchiveShop, contents, same_as_made_anew, serials, two_jobs

from passcheck.errors import BenchFailed
from passcheck.records import archive_marks
from passcheck.records.archive_build import SET_ASIDE

ROOT = Path(__file__).parents[2]


@pytest.fixture
def shop(tmp_path: Path) -> ArchiveShop:
    """Two jobs, one of them sealed."""
    return two_jobs(tmp_path / "logs")


@pytest.mark.parametrize(
    "content", [b"", b"not a database, but somebody's notes", b"SQLite format 3\0" + b"\xff" * 5000]
)
def test_what_is_no_archive_is_set_aside_and_the_archive_made_anew(shop: ArchiveShop, content: bytes) -> None:
    archive = shop.archive()
    archive.path.write_bytes(content)
    done = archive.catch_up()
    assert (done.taken, bool(done.rebuilt), SET_ASIDE in done.aside) == (2, True, True)
    assert archive.path.with_name(archive.path.name + SET_ASIDE).read_bytes() == content
    assert serials(shop) == ["A31-0001", "A31-0002"]


def test_pages_that_were_lost_make_it_anew(shop: ArchiveShop) -> None:
    archive = shop.archive()
    archive.catch_up()
    data = bytearray(archive.path.read_bytes())
    data[4096:] = b"\xa5" * (len(data) - 4096)
    archive.path.write_bytes(data)
    assert archive.ask(lambda connection: connection.execute("SELECT COUNT(*) FROM attempt").fetchone()[0]) > 0
    assert shop.archive().check().differences == ()


def test_an_archive_of_another_form_is_made_anew_and_not_kept(
    shop: ArchiveShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop.archive().catch_up()
    monkeypatch.setattr(archive_marks, "ARCHIVE_FORMAT", archive_marks.ARCHIVE_FORMAT + 1)
    done = shop.archive().catch_up()
    assert (done.taken, done.aside) == (2, "")
    assert "another form" in done.rebuilt
    assert sorted(path.name for path in shop.root.glob("archive.*")) == ["archive.lock", "archive.sqlite"]


def test_a_catch_up_that_never_ended_leaves_rows_and_marks_as_they_were(shop: ArchiveShop) -> None:
    archive = shop.archive()
    archive.catch_up()
    before = contents(archive.path)
    shop.goes_on("A31-0002", 3)
    with closing(sqlite3.connect(archive.path, isolation_level=None)) as connection:
        connection.execute("BEGIN IMMEDIATE")
        archive_marks.take_out(connection, ["A31-0002"])
    assert contents(archive.path) == before
    same_as_made_anew(shop)


KILLED = """
import os, sqlite3, sys
from pathlib import Path
from passcheck.records import archive
from passcheck.records.board_folder import BoardFolder
from passcheck.records.shop import LogFolder
def dies(connection, ledger):
    connection.execute("PRAGMA cache_size = 1")
    os._exit(9)
archive.mark_ledger = dies
archive.SqliteArchive(LogFolder(Path(sys.argv[1]), "A"), BoardFolder.read, processes=1).catch_up()
"""


def test_a_process_that_is_killed_while_it_takes_in_leaves_rows_and_marks_as_they_were(shop: ArchiveShop) -> None:
    shop.archive().catch_up()
    before = contents(shop.archive().path)
    shop.goes_on("A31-0002", 3)
    shop.whole_job(STORIES[2])
    killed = subprocess.run(
        [sys.executable, "-c", KILLED, str(shop.root)], env={**os.environ, "PYTHONPATH": str(ROOT)}, check=False
    )
    assert killed.returncode == 9
    assert contents(shop.archive().path) == before
    assert shop.archive().catch_up().taken == 2
    same_as_made_anew(shop)


def test_what_a_killed_rebuild_left_is_cleared_and_the_old_archive_stays_until_the_new_one_is_whole(
    shop: ArchiveShop,
) -> None:
    shop.archive().catch_up()
    left = shop.archive().path.with_name("archive.sqlite.123.new")
    left.write_bytes(b"half an archive")
    before = contents(shop.archive().path)
    assert contents(shop.archive().path) == before
    shop.archive().rebuild()
    assert not left.exists()
    assert contents(shop.archive().path) == before


def test_two_that_take_in_at_once_double_nothing(shop: ArchiveShop) -> None:
    shop.archive().catch_up()
    for tells in STORIES:
        shop.whole_job(tells)
    together = [threading.Thread(target=shop.archive(processes=1).catch_up) for _ in range(4)]
    for one in together:
        one.start()
    for one in together:
        one.join()
    assert len(serials(shop)) == 5
    assert shop.archive().check().differences == ()


def test_many_processes_make_the_same_archive_as_one(shop: ArchiveShop) -> None:
    shop.whole_job(STORIES[2])
    shop.archive(processes=1).rebuild()
    alone = contents(shop.archive().path)
    shop.archive(processes=2).rebuild()
    assert contents(shop.archive().path) == alone


def test_an_archive_that_another_program_holds_is_told_and_waited_for_no_longer(
    shop: ArchiveShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    archive = shop.archive()
    archive.catch_up()
    shop.goes_on("A31-0002", 1)
    monkeypatch.setattr("passcheck.records.archive_file.WAIT_S", 0.0)
    with closing(sqlite3.connect(archive.path, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(BenchFailed, match="another program is writing it"):
            archive.catch_up()
        other.execute("ROLLBACK")
    assert archive.catch_up().taken == 1


def test_pages_that_are_lost_while_a_question_is_asked_make_it_anew_and_the_answer_is_whole(shop: ArchiveShop) -> None:
    archive = shop.archive()
    archive.catch_up()
    asked = 0

    def question(connection: sqlite3.Connection) -> int:
        nonlocal asked
        asked += 1
        if asked == 1:
            raise _malformed()
        return int(connection.execute("SELECT COUNT(*) FROM job").fetchone()[0])

    assert (archive.ask(question), asked) == (2, 2)


def _malformed() -> sqlite3.DatabaseError:
    fault = sqlite3.DatabaseError("database disk image is malformed")
    fault.sqlite_errorcode = sqlite3.SQLITE_CORRUPT
    return fault
