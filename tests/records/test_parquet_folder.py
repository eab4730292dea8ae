"""Do the files that figures are counted from follow the archive, whatever happens on the way?"""

import json
import sqlite3
import sys
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from counted_rows import a_job, a_part, a_touch, an_attempt

from passcheck.errors import BenchFailed
from passcheck.job.archive_rows import TABLES, JobRows, SaidRow
from passcheck.records import parquet_folder
from passcheck.records.archive_counts import counts
from passcheck.records.archive_tables import make_tables, put_rows
from passcheck.records.ask_sql import ask_sqlite
from passcheck.records.disk import Disk
from passcheck.records.parquet_batches import batches
from passcheck.records.parquet_counts import counts_by_duckdb, duckdb_is_quicker
from passcheck.records.parquet_folder import LISTED, ParquetFolder

DOUBTFUL = {"M1": date(2031, 1, 1)}
ODD = 'two\nlines, "quoted" \\ \x1b[31m, \x00, Ω 測'


@pytest.fixture
def archive() -> Iterator[sqlite3.Connection]:
    connection = sqlite3.connect(":memory:")
    make_tables(connection)
    yield connection
    connection.close()


@pytest.fixture
def files(tmp_path: Path) -> ParquetFolder:
    # A folder's name may hold what other programs read as a pattern.
    return ParquetFolder(tmp_path / "the shop's [old] *" / "figures")


def rows(job: str, month: int, digest: str = "a") -> JobRows:
    day = f"2031-{month:02}-04T08:00:00Z"
    return JobRows(
        replace(
            a_job(job, ended="signed off", opened_at=day, ended_at=f"2031-{month:02}-05T08:00:00Z", first_try=1),
            complaint=ODD,
            digest=digest,
        ),
        (an_attempt(job, 1, title=ODD, instrument="M1", at=day, margin=0.123456, as_left=1, seconds=7),),
        (a_touch(job, 4, "supply", confirmed=1, shown_by="rail"),),
        (a_part(job, "C4", at=day),),
        (SaidRow(job, 0, "complaint", day, "t1", "", ODD, "7Q22051"),),
    )


def brought_up(files: ParquetFolder, archive: sqlite3.Connection) -> int:
    with files.held():
        return files.write_from(archive)


def all_rows(files: ParquetFolder) -> dict[str, list[tuple[object, ...]]]:
    with files.held(), files.connect() as engine:
        return {table: sorted(engine.execute(f"SELECT * FROM {table}").fetchall()) for table in TABLES}


def batches_in(files: ParquetFolder) -> set[str]:
    return {one.name for one in files.folder.iterdir() if one.is_dir()}


def test_every_row_is_in_the_files_as_it_is_in_the_archive(archive: sqlite3.Connection, files: ParquetFolder) -> None:
    for one in (rows("J1", 1), rows("J2", 2), rows("J3", 11)):
        put_rows(archive, one)
    archive.execute("UPDATE attempt SET value = 1e999, low = -1e-300 WHERE job = 'J1'")
    assert brought_up(files, archive) == 2  # two quarters
    in_archive = {table: sorted(archive.execute(f"SELECT * FROM {table}")) for table in TABLES}
    assert all_rows(files) == in_archive


def test_an_archive_without_jobs_has_empty_tables(archive: sqlite3.Connection, files: ParquetFolder) -> None:
    assert brought_up(files, archive) == 0
    assert all_rows(files) == {table: [] for table in TABLES}


def test_only_the_quarter_of_a_changed_job_is_made_again(archive: sqlite3.Connection, files: ParquetFolder) -> None:
    for one in (rows("J1", 1), rows("J2", 2), rows("J3", 11)):
        put_rows(archive, one)
    brought_up(files, archive)
    before = batches_in(files)
    assert brought_up(files, archive) == 0
    put_rows(archive, rows("J3", 11, digest="b"))
    assert brought_up(files, archive) == 1
    assert len(batches_in(files) & before) == 1
    assert len(batches_in(files)) == 2


def test_an_archive_file_that_looks_as_before_is_not_gone_through_again(
    tmp_path: Path, files: ParquetFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = sqlite3.connect(tmp_path / "archive.sqlite", isolation_level=None)
    make_tables(kept)
    put_rows(kept, rows("J1", 1))
    gone_through: list[int] = []

    def counted(archive: sqlite3.Connection) -> Mapping[str, tuple[str, ...]]:
        gone_through.append(1)
        return batches(archive)

    monkeypatch.setattr(parquet_folder, "batches", counted)
    assert (brought_up(files, kept), len(gone_through)) == (1, 1)
    assert (brought_up(files, kept), len(gone_through)) == (0, 1)
    put_rows(kept, rows("J2", 11))
    assert (brought_up(files, kept), len(gone_through)) == (1, 2)
    assert [row[0] for row in all_rows(files)["job"]] == ["J1", "J2"]
    kept.close()


def test_a_job_that_is_gone_from_the_archive_goes_from_the_files(
    archive: sqlite3.Connection, files: ParquetFolder
) -> None:
    put_rows(archive, rows("J1", 1))
    put_rows(archive, rows("J2", 11))
    brought_up(files, archive)
    for table in TABLES:
        archive.execute(f"DELETE FROM {table} WHERE job = 'J2'")
    assert brought_up(files, archive) == 0
    assert [row[0] for row in all_rows(files)["job"]] == ["J1"]


class Refusing(Disk):
    """A disk that has no room left after so many files have been put in place."""

    def __init__(self, allowed: int) -> None:
        self.allowed = allowed

    def replace(self, source: Path, target: Path) -> None:
        self.allowed -= 1
        if self.allowed < 0:
            raise OSError(28, "No space left on device")
        super().replace(source, target)


@pytest.mark.parametrize("allowed", [0, 1, 2])
def test_where_the_disk_refuses_in_between_the_old_files_stay_whole(
    archive: sqlite3.Connection, files: ParquetFolder, allowed: int
) -> None:
    put_rows(archive, rows("J1", 1))
    brought_up(files, archive)
    old = all_rows(files)
    put_rows(archive, rows("J1", 1, digest="b"))
    put_rows(archive, rows("J2", 11))
    with pytest.raises(BenchFailed, match="No space left"):
        brought_up(ParquetFolder(files.folder, Refusing(allowed)), archive)
    assert all_rows(files) == old
    brought_up(files, archive)
    assert [row[0] for row in all_rows(files)["job"]] == ["J1", "J2"]
    assert len(batches_in(files)) == 2


@pytest.mark.parametrize(
    "nonsense", [b"", b"\xff", b"[]", b'{"batches": 7}', b'{"batches": [7]}', b'{"batches": ["../.."]}']
)
def test_a_list_that_nobody_can_read_is_made_again(
    archive: sqlite3.Connection, files: ParquetFolder, nonsense: bytes
) -> None:
    put_rows(archive, rows("J1", 1))
    brought_up(files, archive)
    (files.folder / LISTED).write_bytes(nonsense)
    assert brought_up(files, archive) == 1
    assert json.loads((files.folder / LISTED).read_text())["batches"] == sorted(batches_in(files))


def test_a_damaged_file_is_told_with_what_to_do(archive: sqlite3.Connection, files: ParquetFolder) -> None:
    put_rows(archive, rows("J1", 1))
    brought_up(files, archive)
    next(files.folder.glob("*/attempt.parquet")).write_bytes(b"PAR1 and nothing more")
    with pytest.raises(BenchFailed, match="Delete that folder, which is made again from the archive"):
        counts_by_duckdb(archive, files, None, {})


def test_counts_over_the_files_are_those_of_the_archive(archive: sqlite3.Connection, files: ParquetFolder) -> None:
    for one in (rows("J1", 1), rows("J2", 2), rows("J3", 11)):
        put_rows(archive, one)
    for board in (None, "OV-24P", "QM-48"):
        found = counts_by_duckdb(archive, files, board, DOUBTFUL)
        assert found == counts(ask_sqlite(archive), board, DOUBTFUL)
    put_rows(archive, rows("J4", 12))
    assert counts_by_duckdb(archive, files, None, DOUBTFUL).jobs == 4


def test_without_the_extra_one_sentence_names_it(
    archive: sqlite3.Connection, files: ParquetFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    put_rows(archive, rows("J1", 1))
    monkeypatch.setitem(sys.modules, "duckdb", None)
    with pytest.raises(BenchFailed, match=r"pip install 'passcheck\[analytics\]'"):
        counts_by_duckdb(archive, files, None, {})


def test_a_small_archive_is_counted_by_sqlite(archive: sqlite3.Connection, monkeypatch: pytest.MonkeyPatch) -> None:
    put_rows(archive, rows("J1", 1))
    assert not duckdb_is_quicker(archive)
    monkeypatch.setattr("passcheck.records.parquet_counts.MANY_ATTEMPTS", 1)
    assert duckdb_is_quicker(archive)
    monkeypatch.setattr("passcheck.records.parquet_counts.find_spec", lambda _name: None)
    assert not duckdb_is_quicker(archive)
