"""Up to where has an archive taken the journals in, and is it one that this program can use?

The mark of a journal stands in the same file as its rows and is written in the same transaction, so that no crash
leaves the one without the other. An archive of another form is never mended: it is made anew.
"""

import hashlib
import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Final

from passcheck.job.archive_rows import TABLES
from passcheck.records.archive_intake import UNREAD, TakenIn
from passcheck.records.archive_journals import Looks
from passcheck.records.archive_tables import INDEXES, create, delete, insert
from passcheck.records.archive_words import can_index_words, has_words

ARCHIVE_FORMAT: Final = 2
"""Raised when the rows of a journal become others, though the tables stay the same; the shared archive goes by it."""
_FORMAT: Final = (
    "CREATE TABLE archive_format "
    "(format BIGINT NOT NULL, tables TEXT NOT NULL, ledger_bytes BIGINT NOT NULL, ledger_digest TEXT NOT NULL, "
    "ledger_looks TEXT NOT NULL)"
)
_TAKEN: Final = (
    "CREATE TABLE taken (job TEXT NOT NULL PRIMARY KEY, size BIGINT NOT NULL, changed_ns BIGINT NOT NULL, "
    "digest TEXT NOT NULL, standing TEXT NOT NULL, fault TEXT NOT NULL)"
)
_PUT: Final = "INSERT OR REPLACE INTO taken VALUES (?, ?, ?, ?, ?, ?)"
_NEVER_SO: Final = -1
"""A size that no file has: the journal is tried again at every turn."""


@dataclass(frozen=True, slots=True)
class LedgerMark:
    """The ledger that journals were held against: its bytes, their SHA-256, and how its files looked."""

    size: int
    digest: str
    looks: str


@dataclass(frozen=True, slots=True)
class Marks:
    """What an archive has taken in.

    Attributes:
        looks: by job, how its journal looked.
        unread: by job, why its journal gave no rows.
        ledger: that of the last time.
    """

    looks: Mapping[str, Looks]
    unread: Mapping[str, str]
    ledger: LedgerMark


def make_marks(connection: sqlite3.Connection) -> None:
    """The tables of the marks, in an archive that is made; it can't be used before `mark_ledger`."""
    connection.execute(_TAKEN)
    connection.execute(_FORMAT)


def mark_ledger(connection: sqlite3.Connection, ledger: LedgerMark) -> None:
    """Write down which ledger the journals were held against, and of which form the archive is."""
    connection.execute("DELETE FROM archive_format")
    values = (ARCHIVE_FORMAT, tables_digest(), ledger.size, ledger.digest, ledger.looks)
    connection.execute("INSERT INTO archive_format VALUES (?, ?, ?, ?, ?)", values)


def is_archive(connection: sqlite3.Connection) -> bool:
    """Whether passcheck made this database, in whatever form."""
    return _ours(connection) >= {"archive_format", "taken"}


def marks_of(connection: sqlite3.Connection) -> Marks | None:
    """The marks of an archive; None where it is of another form, or no archive of ours."""
    if not _ours(connection) >= {*TABLES, "archive_format", "taken"}:
        return None
    if has_words(connection) != can_index_words(connection):
        return None
    form = connection.execute("SELECT * FROM archive_format").fetchall()
    if len(form) != 1 or form[0][:2] != (ARCHIVE_FORMAT, tables_digest()):
        return None
    taken = connection.execute("SELECT job, size, changed_ns, standing, fault FROM taken ORDER BY job").fetchall()
    return Marks(
        {job: Looks(size, changed_ns) for job, size, changed_ns, _standing, _fault in taken},
        {job: fault for job, _size, _changed_ns, standing, fault in taken if standing == UNREAD},
        LedgerMark(*form[0][2:]),
    )


def _ours(connection: sqlite3.Connection) -> set[str]:
    return {name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}


def put_taken(connection: sqlite3.Connection, handful: Iterable[TakenIn]) -> None:
    """Marks and rows of some journals of which the archive has none; the caller commits."""
    every = tuple(handful)
    connection.executemany(_PUT, map(_mark, every))
    for table in TABLES:
        rows = chain.from_iterable(values for one in every for name, values in one.rows if name == table)
        connection.executemany(insert(table), rows)


def take_out(connection: sqlite3.Connection, jobs: Sequence[str]) -> None:
    """Take marks and rows of some journals away; the caller commits."""
    for statement in (*map(delete, TABLES), "DELETE FROM taken WHERE job = ?"):
        connection.executemany(statement, ((job,) for job in jobs))


def _mark(one: TakenIn) -> tuple[str, int, int, str, str, str]:
    size = _NEVER_SO if one.again else one.looks.size
    return one.job, size, one.looks.changed_ns, one.digest, one.standing, one.fault


def tables_digest() -> str:
    """What tells one set of tables from another."""
    words = "\n".join((*map(create, TABLES), *INDEXES))
    return hashlib.sha256(words.encode()).hexdigest()
