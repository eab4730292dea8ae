"""Does a check tell every row of the archive that the journals don't bear out, and nothing else?"""

import os
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from archive_shop import STORIES, ArchiveShop

from passcheck.errors import FileFault
from passcheck.job.archive_rows import TABLES
from passcheck.records.archive_check import Checked

JOB = "A31-0001"


@pytest.fixture
def shop(tmp_path: Path) -> ArchiveShop:
    """Two jobs that are in the archive."""
    shop = ArchiveShop(tmp_path / "logs")
    shop.whole_job()
    shop.goes_on(shop.begins(STORIES[1]), 5)
    shop.archive().catch_up()
    return shop


def tamper(shop: ArchiveShop, *statements: str) -> None:
    with closing(sqlite3.connect(shop.archive().path)) as connection:
        for statement in statements:
            connection.execute(statement)
        connection.commit()


def test_a_sound_archive_has_no_differences(shop: ArchiveShop) -> None:
    assert shop.archive().check() == Checked(2, 0, ())


@pytest.mark.parametrize("table", TABLES)
def test_rows_that_are_missing_are_told_by_job_and_table(shop: ArchiveShop, table: str) -> None:
    tamper(shop, f"DELETE FROM {table} WHERE rowid = (SELECT MIN(rowid) FROM {table} WHERE job = '{JOB}')")
    assert shop.archive().check().differences == (f"{JOB}, table {table}: 1 row is missing.",)


def test_rows_that_were_changed_or_added_are_told(shop: ArchiveShop) -> None:
    tamper(
        shop,
        f"UPDATE attempt SET verdict = 'pass' WHERE job = '{JOB}' AND verdict = 'fail'",
        f"INSERT INTO part VALUES ('{JOB}', 'OV', 9, 'C9', '', '')",
    )
    assert shop.archive().check().differences == (
        f"{JOB}, table attempt: 1 row is otherwise than the journal says.",
        f"{JOB}, table part: 1 row is there that no journal bears out.",
    )


def test_an_index_of_words_that_says_something_else_is_told(shop: ArchiveShop) -> None:
    tamper(shop, "INSERT INTO said_words (rowid, text) VALUES (999, 'never said')")
    assert shop.archive().check().differences == ("The index of words doesn't agree with what people wrote.",)


def test_what_journals_have_gained_since_is_no_difference(shop: ArchiveShop) -> None:
    shop.goes_on("A31-0002", 3)
    shop.begins()
    assert shop.archive().check() == Checked(1, 2, ())


def test_a_journal_that_was_altered_behind_its_looks_is_told(shop: ArchiveShop) -> None:
    path = shop.path(JOB)
    data, seen = path.read_bytes(), path.stat()
    path.write_bytes(data.replace(b"Panel restarts", b"Panel recovers", 1))
    os.utime(path, ns=(seen.st_atime_ns, seen.st_mtime_ns))
    found = shop.archive().check().differences
    assert {sentence.partition(":")[0] for sentence in found} >= {f"{JOB}, table job", f"{JOB}, table taken"}


def test_without_an_archive_there_is_nothing_to_check(tmp_path: Path) -> None:
    with pytest.raises(FileFault, match="archive rebuild"):
        ArchiveShop(tmp_path / "logs").archive().check()
