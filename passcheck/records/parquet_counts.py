"""Is a shop's archive so large that DuckDB should count it, and what does it count then?"""

import gc
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from importlib.util import find_spec
from typing import Final

from passcheck.job.counts import Counts
from passcheck.records.archive_counts import counts
from passcheck.records.ask_sql import ask_duckdb
from passcheck.records.parquet_folder import ParquetFolder

MANY_ATTEMPTS: Final = 500_000
"""From here on SQLite takes longer than a second, where DuckDB takes a third of one."""
_ATTEMPTS: Final = "SELECT COUNT(*) FROM (SELECT 1 FROM attempt LIMIT ?)"


def duckdb_is_quicker(archive: sqlite3.Connection) -> bool:
    """Whether the archive has that many attempts, and the extra `analytics` is installed; nothing is imported."""
    found = archive.execute(_ATTEMPTS, (MANY_ATTEMPTS,)).fetchone()[0]
    return found == MANY_ATTEMPTS and find_spec("duckdb") is not None


def counts_by_duckdb(
    archive: sqlite3.Connection,
    files: ParquetFolder,
    board: str | None,
    doubtful: Mapping[str, date],
    practice: int = 0,
) -> Counts:
    """What `counts` gives, counted over Parquet files; those that the archive has left behind are made first.

    Args:
        archive: within one transaction.
        files: where they lie.
        board, doubtful, practice: as for `counts`.

    Raises BenchFailed when the disk refuses or the extra isn't installed, sqlite3.Error when the archive can't be read.
    """
    with files.held(), _collecting_later():
        files.write_from(archive)
        with files.connect() as engine:
            return counts(ask_duckdb(engine), board, doubtful, practice)


@contextmanager
def _collecting_later() -> Iterator[None]:
    """Don't look through the rows for cycles while they are made: there are none, and it takes a tenth of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
