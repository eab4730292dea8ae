"""What do all journals of this bench answer together?

The archive takes in first what journals have gained; then each question is answered from one moment. Who counts is
chosen by how much there is to count: the answers are the same.
"""

import sqlite3
from collections.abc import Mapping
from datetime import date
from functools import partial
from typing import Literal

from passcheck.job.archive_rows import SaidRow
from passcheck.job.counts import Counts
from passcheck.job.visits import Visit
from passcheck.records.archive import SqliteArchive
from passcheck.records.archive_counts import counts
from passcheck.records.archive_visits import search, visits
from passcheck.records.ask_sql import ask_sqlite
from passcheck.records.parquet_counts import counts_by_duckdb, duckdb_is_quicker
from passcheck.records.parquet_folder import ParquetFolder

Engine = Literal["quicker", "sqlite", "duckdb"]
PARQUET = "figures"
"""The folder beside the archive in which the files lie that DuckDB counts over."""


class AskedArchive:
    """The archive of one folder of records, as whoever asks it sees it."""

    def __init__(self, archive: SqliteArchive, *, practice: bool = False, engine: Engine = "quicker") -> None:
        """Nothing is read yet; `engine` says who counts."""
        self._archive = archive
        self._practice = int(practice)
        self._engine = engine

    def visits(self, serial: str) -> tuple[Visit, ...]:
        """All visits of a unit, the oldest first. Raises BenchFailed."""
        return self._archive.ask(partial(_visits, serial=serial))

    def search(self, words: str) -> tuple[SaidRow, ...]:
        """What people wrote that holds all of these words, the latest first. Raises BenchFailed."""
        return self._archive.ask(partial(_search, words=words))

    def counts(self, board: str | None, doubtful: Mapping[str, date]) -> Counts:
        """What the figures need, of one board or of all. Raises BenchFailed."""
        return self._archive.ask(partial(self._counts, board=board, doubtful=doubtful))

    def unread(self) -> tuple[str, ...]:
        """Job numbers whose journals could not be taken in."""
        return self._archive.unread()

    def _counts(self, connection: sqlite3.Connection, board: str | None, doubtful: Mapping[str, date]) -> Counts:
        if self._engine == "duckdb" or (self._engine == "quicker" and duckdb_is_quicker(connection)):
            files = ParquetFolder(self._archive.path.parent / PARQUET)
            return counts_by_duckdb(connection, files, board, doubtful, self._practice)
        return counts(ask_sqlite(connection), board, doubtful, self._practice)


def _visits(connection: sqlite3.Connection, serial: str) -> tuple[Visit, ...]:
    return visits(ask_sqlite(connection), serial)


def _search(connection: sqlite3.Connection, words: str) -> tuple[SaidRow, ...]:
    return search(connection, words)
