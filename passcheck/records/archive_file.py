"""How is the archive's file opened, and when is it no archive?

SQLite keeps a rollback journal beside the file while it writes, and nothing afterwards: one file to copy or to delete.
Its other way, a log that is written ahead, needs shared memory, which a folder on another machine doesn't give; and
whoever only looks would need the right to write. Readers wait for a writer some milliseconds instead.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from passcheck.errors import BenchFailed, FileFault, OurBug, PasscheckError
from passcheck.records.disk import Disk
from passcheck.records.lock import take_lock
from passcheck.records.remedy import ask_disk
from passcheck.records.whole_file import make_room

WAIT_S: Final = 10.0
"""For another passcheck that writes: it takes in what changed, which is milliseconds for a few journals."""
WAIT_FOR_OTHERS_S: Final = 60.0
"""For another passcheck that makes the archive anew, or takes in a day's work."""
_NO_ARCHIVE: Final = frozenset({sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_FORMAT})
"""Bytes that are no database, or a database that lost some of its pages."""
_OUR_BUG: Final = frozenset(
    {sqlite3.SQLITE_ERROR, sqlite3.SQLITE_MISUSE, sqlite3.SQLITE_RANGE, sqlite3.SQLITE_CONSTRAINT}
)
_BESIDE: Final = ("-journal", "-wal", "-shm")


class NoArchiveError(FileFault):
    """The file is none that can be used, so it has to be made anew; the text says why."""


@contextmanager
def opened(path: Path) -> Iterator[sqlite3.Connection]:
    """An archive that is there, for the thread that asks; nothing begins or ends a transaction by itself.

    Raises:
        NoArchiveError: it is none, or is found to be none meanwhile.
        BenchFailed: the disk refuses, or another program doesn't let go of it.
    """
    try:
        connection = sqlite3.connect(
            f"{path.absolute().as_uri()}?mode=rw", uri=True, timeout=WAIT_S, isolation_level=None
        )
        try:
            yield connection
        finally:
            connection.close()
    except sqlite3.Error as fault:
        raise told(fault, path) from fault


def told(fault: sqlite3.Error, path: Path) -> PasscheckError:
    """What a fault of the database means for whoever asked."""
    code = getattr(fault, "sqlite_errorcode", sqlite3.SQLITE_MISUSE) & 0xFF
    if code in _NO_ARCHIVE:
        return NoArchiveError(f"{path.name} could not be used ({fault})")
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return BenchFailed(f"{path}: another program is writing it and doesn't let go. Try again when it is done.")
    if code in _OUR_BUG:
        return OurBug(f"{path}: passcheck asked it wrongly ({fault}). 'passcheck archive rebuild' may help meanwhile.")
    return BenchFailed(f"{path}: it can't be used ({fault}). Look after the disk and the rights on that folder.")


@contextmanager
def alone_with(path: Path, disk: Disk) -> Iterator[None]:
    """No other passcheck writes the archive meanwhile, or puts another in its place.

    Raises:
        BenchFailed: another one doesn't let go of it, or the folder can't be written.
    """
    make_room(path.parent, disk)
    refusal = f"{path.name} is being written by another passcheck. Wait until it is done, then ask again."
    lock = take_lock(path.with_suffix(".lock"), refusal, wait_s=WAIT_FOR_OTHERS_S)
    try:
        yield
    finally:
        lock.release()


def settle(path: Path, disk: Disk) -> None:
    """Undo what a writer left half done, so that nothing of it is laid over the file that takes the place of this one.

    Raises BenchFailed.
    """
    with suppress(NoArchiveError), opened(path) as connection:
        connection.execute("BEGIN EXCLUSIVE")
        connection.execute("ROLLBACK")
    for beside in _BESIDE:  # none is left of an archive that could be opened
        name = path.with_name(path.name + beside)
        ask_disk(lambda name=name: disk.remove(name), name)  # type: ignore[misc]
