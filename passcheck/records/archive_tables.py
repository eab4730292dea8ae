"""Which tables does the archive have, in which words of SQL?

Made from the classes of `job/archive_rows.py`, so that a column is defined once. The words are those that SQLite,
PostgreSQL and DuckDB have in common; values stand by place, as SQLite reads them.

In SQLite there may be `said_words` besides (`archive_words.py`): an FTS5 table over `said.text` whose rowid is
`said.rowid`. Ask it so, and only where `has_words` says that it is there:

    SELECT said.* FROM said_words JOIN said ON said.rowid = said_words.rowid WHERE said_words MATCH ?

`put_rows` and a DELETE on `said` keep it in step by themselves, because it hangs on triggers.
"""

import sqlite3
from collections.abc import Callable, Iterable
from dataclasses import fields
from functools import cache
from operator import attrgetter
from typing import Any, Final, get_args, get_type_hints

from passcheck.job.archive_rows import TABLES, JobRows

KEYS: Final = {
    "job": ("job",),
    "attempt": ("job", "number"),
    "touched": ("job", "line", "block"),
    "part": ("job", "rework", "part"),
    "said": ("job", "place"),
}
INDEXES: Final = (
    "CREATE INDEX IF NOT EXISTS job_serial ON job (serial, opened_at)",
    "CREATE INDEX IF NOT EXISTS attempt_instrument ON attempt (instrument, at)",
)
_TYPES: Final = {str: "TEXT", int: "BIGINT", float: "DOUBLE PRECISION"}


def create(table: str) -> str:
    """The statement that makes one table where it is missing."""
    columns = [f'"{name}" {words}' for name, words in column_types(table)]
    return f"CREATE TABLE IF NOT EXISTS {table} ({', '.join(columns)}, PRIMARY KEY ({', '.join(KEYS[table])}))"


@cache
def column_types(table: str) -> tuple[tuple[str, str], ...]:
    """Each column with its type, in the order of the fields."""
    hints = get_type_hints(TABLES[table])
    return tuple((one.name, _type(hints[one.name])) for one in fields(TABLES[table]))


def _type(hint: Any) -> str:
    options = [one for one in get_args(hint) if one is not type(None)]
    return _TYPES[options[0]] if options else f"{_TYPES[hint]} NOT NULL"


def insert(table: str) -> str:
    """The statement that puts one row in, its values by place."""
    names = [name for name, _words in column_types(table)]
    return f"INSERT INTO {table} ({', '.join(names)}) VALUES ({', '.join('?' for _ in names)})"


def delete(table: str) -> str:
    """The statement that takes all rows of one job away."""
    return f"DELETE FROM {table} WHERE job = ?"


def rows_of(rows: JobRows) -> Iterable[tuple[str, list[tuple[Any, ...]]]]:
    """Table by table, the values of a job's rows in the order of the columns."""
    for table, found in (
        ("job", (rows.job,)),
        ("attempt", rows.attempts),
        ("touched", rows.touched),
        ("part", rows.parts),
        ("said", rows.said),
    ):
        yield table, list(map(_values(table), found))


@cache
def _values(table: str) -> Callable[[Any], tuple[Any, ...]]:
    """What makes a row's values of it; `dataclasses.astuple` copies each of them, which takes ten times as long."""
    return attrgetter(*(name for name, _words in column_types(table)))


def make_tables(connection: sqlite3.Connection) -> None:
    """Every table and index, in an SQLite database that may have them."""
    for table in TABLES:
        connection.execute(create(table))
    for index in INDEXES:
        connection.execute(index)


def put_rows(connection: sqlite3.Connection, rows: JobRows) -> None:
    """All rows of a job in place of those that it had; the caller commits."""
    for table, values in rows_of(rows):
        connection.execute(delete(table), (rows.job.job,))
        connection.executemany(insert(table), values)
