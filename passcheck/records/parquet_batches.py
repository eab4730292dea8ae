"""Which jobs of the archive go into one batch of files, and what tells a batch from what it was before?

A batch is the jobs that were opened in one quarter of a year, so that a day's work makes one batch stale and the years
before it stay. Its name is a digest of its jobs, of their journals and of the form of the rows: a batch with the same
name holds the same rows.
"""

import json
import os
import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from hashlib import sha256
from itertools import groupby
from operator import itemgetter
from typing import Final

from passcheck.job.archive_rows import TABLES
from passcheck.records.archive_marks import ARCHIVE_FORMAT
from passcheck.records.archive_tables import column_types

NAME_DIGITS: Final = 32
FILES_FORMAT: Final = 1
"""Raised when the same rows make other files."""
AT_A_TIME: Final = 5_000
"""Rows that are handed on together."""
_JOBS: Final = (
    "SELECT substr(opened_at, 1, 5) || ((CAST(substr(opened_at, 6, 2) AS INTEGER) + 2) / 3), job, digest FROM job"
)
_QUARTER, _JOB = range(2)


def looks_of(archive: sqlite3.Connection) -> str:
    """What tells an archive's file from its other states; "" of one that is in no file. Raises sqlite3.Error, OSError.

    Looking at every job takes a fifth of a second of a shop with a hundred thousand. The file is only asked for its
    facts: to open and close it would give up the locks that SQLite holds on it.
    """
    archive.execute("SELECT 1 FROM job LIMIT 1").fetchone()  # nobody changes it from here to the transaction's end
    path = archive.execute("PRAGMA database_list").fetchone()[2]
    if not path:
        return ""
    facts = os.stat(path)
    return f"{facts.st_size}:{facts.st_mtime_ns}:{facts.st_ino}"


def batches(archive: sqlite3.Connection) -> Mapping[str, tuple[str, ...]]:
    """Every batch's name, with its jobs in order; raises sqlite3.Error."""
    found = sorted(archive.execute(_JOBS).fetchall())
    each = (tuple(of) for _quarter, of in groupby(found, key=itemgetter(_QUARTER)))
    return {_name(rows): tuple(map(itemgetter(_JOB), rows)) for rows in each}


def _name(rows: Sequence[tuple[str, str, str]]) -> str:
    form = [FILES_FORMAT, ARCHIVE_FORMAT, *((table, *column_types(table)) for table in TABLES)]
    return sha256(json.dumps([form, rows]).encode()).hexdigest()[:NAME_DIGITS]


def json_lines(archive: sqlite3.Connection, table: str, jobs: Sequence[str]) -> Iterator[bytes]:
    """The rows of these jobs, an object a line, many lines at a time; raises sqlite3.Error.

    SQLite writes the text itself: a row that goes through Python's own values takes twice as long. A number with a
    fraction is written as a text, because JSON has no word for one without end.
    """
    members = ", ".join(
        f"'{name}', " + (f'CAST("{name}" AS TEXT)' if kind.startswith("DOUBLE") else f'"{name}"')
        for name, kind in column_types(table)
    )
    rows = archive.execute(
        f"SELECT CAST(json_object({members}) AS BLOB) FROM {table}"  # noqa: S608 - names are of our own classes
        " WHERE job IN (SELECT value FROM json_each(?))",
        (json.dumps(jobs),),
    )
    while block := rows.fetchmany(AT_A_TIME):
        yield b"".join(line + b"\n" for (line,) in block)
