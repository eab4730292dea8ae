"""How is an archive made from nothing, with the old one in its place until the new one is complete?"""

import os
import sqlite3
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Final

from passcheck.job.archive_rows import TABLES
from passcheck.records.archive_file import NoArchiveError, opened, settle, told
from passcheck.records.archive_intake import TakenIn
from passcheck.records.archive_marks import LedgerMark, is_archive, make_marks, mark_ledger, put_taken
from passcheck.records.archive_tables import INDEXES, create
from passcheck.records.archive_words import make_words
from passcheck.records.disk import Disk
from passcheck.records.remedy import ask_disk

SET_ASIDE: Final = ".set-aside"
_PAGE: Final = "PRAGMA page_size = 16384"  # the rows of a visit lie on one or two of them
_UNSAFE_AND_FAST: Final = (
    _PAGE,
    # Nobody reads the file before it is complete and on the medium, and one that isn't is thrown away.
    "PRAGMA journal_mode = OFF",
    "PRAGMA synchronous = OFF",
    "PRAGMA locking_mode = EXCLUSIVE",
    "PRAGMA cache_size = -131072",
    "PRAGMA temp_store = MEMORY",
)


def fill(path: Path, handfuls: Iterable[list[TakenIn]], ledger: LedgerMark) -> None:
    """Make a whole archive in a new file; it is not on the medium yet.

    Raises BenchFailed.
    """
    try:
        connection = sqlite3.connect(path, isolation_level=None)
        try:
            for pragma in _UNSAFE_AND_FAST:
                connection.execute(pragma)
            connection.execute("BEGIN")
            _fill(connection, handfuls, ledger)
            connection.execute("COMMIT")
        finally:
            connection.close()
    except sqlite3.Error as fault:
        raise told(fault, path) from fault


def _fill(connection: sqlite3.Connection, handfuls: Iterable[list[TakenIn]], ledger: LedgerMark) -> None:
    for table in TABLES:
        connection.execute(create(table))
    make_marks(connection)
    for handful in handfuls:
        put_taken(connection, handful)
    for index in INDEXES:  # rows first: an index that grows with them is written over and over
        connection.execute(index)
    make_words(connection)
    mark_ledger(connection, ledger)


def put_in_place(draft: Path, path: Path, disk: Disk) -> str:
    """Return once a complete archive lies under its name on the medium; the words say what was set aside, or "".

    Raises BenchFailed; then what lay there still does.
    """
    handle = ask_disk(lambda: disk.open(draft), draft)
    try:
        ask_disk(lambda: disk.fsync(handle), draft)
    finally:
        disk.close(handle)
    aside = ""
    if ask_disk(lambda: disk.facts_of(path), path) is not None:
        settle(path, disk)
        aside = _set_aside(path, disk)
    ask_disk(lambda: disk.replace(draft, path), path)
    ask_disk(lambda: disk.fsync_dir(path.parent), path)
    return aside


def draft_of(path: Path) -> Path:
    """Where this process makes an archive; a process that is killed leaves it behind."""
    return path.with_name(f"{path.name}.{os.getpid()}.new")


def clear_drafts(path: Path, disk: Disk) -> None:
    """Take away what killed processes left; call it while nobody else makes an archive."""
    for name in ask_disk(lambda: disk.names(path.parent), path.parent):
        if name.startswith(f"{path.name}.") and name.endswith((".new", ".new-journal")):
            with suppress(OSError):
                disk.remove(path.with_name(name))


def _set_aside(path: Path, disk: Disk) -> str:
    """What passcheck didn't make is kept under another name: it may be all that somebody has of it."""
    try:
        with opened(path) as connection:
            if is_archive(connection):
                return ""
    except NoArchiveError:
        pass
    beside = path.with_name(path.name + SET_ASIDE)
    ask_disk(lambda: disk.replace(path, beside), path)
    return f"What lay under the name {path.name} was no archive of passcheck's; it is {beside.name} now."
