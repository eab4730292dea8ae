"""Does an archive say what the journals say, row by row?

The journals are read anew into an archive beside it, and every table of the two is held side by side. Journals that
changed since the archive was last caught up are left out and counted: that is what catching up is for.
"""

import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from passcheck.job.archive_rows import TABLES
from passcheck.records.archive_file import opened
from passcheck.records.archive_words import words_agree

_COMPARED: Final = {**dict.fromkeys(TABLES, "*"), "taken": "job, digest, standing = 'unread'"}
"""The columns of each table: how a journal stands may change with the ledger alone, whether it is read may not."""


@dataclass(frozen=True, slots=True)
class Checked:
    """What came of a check: journals that were compared, those that the archive is behind by, and what differs."""

    journals: int
    behind: int
    differences: tuple[str, ...]


def differences(archive: Path, fresh: Path, behind: Sequence[str]) -> tuple[str, ...]:
    """A sentence for each job and table in which they differ, and one for the index of words.

    Args:
        archive: the archive that is looked at.
        fresh: one that was just made from the journals.
        behind: jobs that are left out.

    Raises:
        NoArchiveError: it is none.
        BenchFailed: it can't be read.
    """
    with opened(archive) as connection:
        connection.execute("ATTACH ? AS fresh", (str(fresh),))
        connection.execute("CREATE TEMP TABLE behind (job TEXT PRIMARY KEY)")
        connection.executemany("INSERT INTO behind VALUES (?)", ((job,) for job in behind))
        found = tuple(_of_tables(connection))
        if not words_agree(connection):
            found = (*found, "The index of words doesn't agree with what people wrote.")
    return found


def _of_tables(connection: sqlite3.Connection) -> Iterator[str]:
    for table, columns in _COMPARED.items():
        too_many = _rows_by_job(connection, table, columns, "main", "fresh")
        lacking = _rows_by_job(connection, table, columns, "fresh", "main")
        for job in sorted({*too_many, *lacking}):
            yield _sentence(job, table, too_many.get(job, 0), lacking.get(job, 0))


def _rows_by_job(connection: sqlite3.Connection, table: str, columns: str, here: str, there: str) -> dict[str, int]:
    """How many rows of each job are here and not there."""
    only_here = f"SELECT {columns} FROM {here}.{table} EXCEPT SELECT {columns} FROM {there}.{table}"
    left = "WHERE job NOT IN (SELECT job FROM temp.behind)"
    return dict(connection.execute(f"SELECT job, COUNT(*) FROM ({only_here}) {left} GROUP BY job").fetchall())


def _sentence(job: str, table: str, too_many: int, lacking: int) -> str:
    if too_many and lacking:
        return f"{job}, table {table}: {_rows(max(too_many, lacking))} otherwise than the journal says."
    if lacking:
        return f"{job}, table {table}: {_rows(lacking)} missing."
    return f"{job}, table {table}: {_rows(too_many)} there that no journal bears out."


def _rows(count: int) -> str:
    return "1 row is" if count == 1 else f"{count} rows are"
