"""How does an archive look to somebody who writes nothing?"""

import sqlite3
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final, TypeVar

from passcheck.records.archive_file import NoArchiveError, opened
from passcheck.records.archive_journals import Looks
from passcheck.records.archive_marks import Marks, marks_of
from passcheck.records.archive_state import Stands
from passcheck.records.archive_tables import make_tables
from passcheck.records.disk import Disk
from passcheck.records.remedy import ask_disk

Answer = TypeVar("Answer")
MISSING: Final = "there was none yet"
OF_ANOTHER_FORM: Final = "it was of another form than this version of passcheck makes"


def marks_in(path: Path, disk: Disk) -> tuple[Marks | None, str]:
    """What an archive has taken in; None, and why, where there is none that can be used. Raises BenchFailed."""
    if ask_disk(lambda: disk.facts_of(path), path) is None:
        return None, MISSING
    try:
        with opened(path) as connection:
            marks = marks_of(connection)
    except NoArchiveError as fault:
        return None, str(fault)
    return marks, OF_ANOTHER_FORM if marks is None else ""


def due_of(marks: Marks, here: Mapping[str, Looks]) -> frozenset[str]:
    """Jobs whose journals look otherwise than when they were taken in, are new, or gone."""
    return frozenset(job for job, _looks in marks.looks.items() ^ here.items())


def stands(path: Path, here: Mapping[str, Looks], disk: Disk) -> Stands:
    """How an archive stands beside the journals that are there. Raises BenchFailed."""
    marks, unusable = marks_in(path, disk)
    facts = ask_disk(lambda: disk.facts_of(path), path)
    size = facts.size if facts is not None else 0
    if marks is None:
        return Stands(path, size, 0, 0, len(here), {}, unusable)
    with opened(path) as connection:
        jobs, attempts = (
            connection.execute(f"SELECT COUNT(*) FROM {table}").fetchone()[0] for table in ("job", "attempt")
        )
    return Stands(path, size, jobs, attempts, len(due_of(marks, here)), marks.unread, "")


def answer_of_nothing(question: Callable[[sqlite3.Connection], Answer]) -> Answer:
    """The answer of a bench that has had no job yet."""
    connection = sqlite3.connect(":memory:")
    try:
        make_tables(connection)
        return question(connection)
    finally:
        connection.close()
