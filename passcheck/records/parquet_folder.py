"""How do millions of the archive's rows lie in files that are counted over in a second?

Parquet files, a folder a batch and a file a table in it, made from the archive and thrown away at will. A batch is
written beside the others and put in place when it is complete; `batches.json` names those that count and is written
last, so that a crash leaves the old set or the new one. What isn't named there is cleared away next time.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Final

from passcheck.errors import BenchFailed, ExtraMissing
from passcheck.job.archive_rows import TABLES
from passcheck.records.archive_tables import column_types, create
from passcheck.records.disk import Disk
from passcheck.records.lock import take_lock
from passcheck.records.parquet_batches import NAME_DIGITS, batches, json_lines, looks_of
from passcheck.records.remedy import ask_disk, if_there
from passcheck.records.whole_file import make_room, write_whole

if TYPE_CHECKING:
    from duckdb import DuckDBPyConnection, DuckDBPyRelation

LISTED: Final = "batches.json"
LOCK: Final = "figures.lock"
WAIT_FOR_OTHERS_S: Final = 120.0
"""Another passcheck may be writing all of them for the first time."""
_OURS: Final = re.compile(rf"[0-9a-f]{{{NAME_DIGITS}}}(\.\d+\.new)?")
_IN_ORDER: Final = {"attempt": "board, step, job, number"}
"""Alike beside alike: a third smaller, and quicker to count over."""


class ParquetFolder:
    """The files of one archive; of practice it has a folder of its own."""

    def __init__(self, folder: Path, disk: Disk | None = None) -> None:
        """Nothing is read or made before it is asked."""
        self.folder = folder
        self._disk = disk or Disk()

    @contextmanager
    def held(self) -> Iterator[None]:
        """No other passcheck changes the files meanwhile. Raises BenchFailed."""
        make_room(self.folder, self._disk)
        refusal = f"{self.folder} is being written by another passcheck. Wait until it is done, then ask again."
        lock = take_lock(self.folder / LOCK, refusal, wait_s=WAIT_FOR_OTHERS_S)
        try:
            yield
        finally:
            lock.release()

    def write_from(self, archive: sqlite3.Connection) -> int:
        """Make the batches that are missing or stale, while `held`; gives how many were made.

        Args:
            archive: within one transaction, so that all batches are of one moment.

        Raises BenchFailed when the disk refuses, sqlite3.Error when the archive can't be read.
        """
        looks, (listed, looked) = ask_disk(lambda: looks_of(archive), self.folder), self._listed()
        if looks and looks == looked:
            return 0
        wanted = batches(archive)
        missing = [name for name in wanted if name not in listed]
        if missing:
            self._clear_all_but(listed)
            with _duckdb_in(self.folder) as engine:
                for name in missing:
                    self._write(engine, archive, name, wanted[name])
        if set(wanted) != set(listed) or looks != looked:
            named = {"format": 1, "batches": sorted(wanted), "archive": looks}
            write_whole(self.folder / LISTED, json.dumps(named).encode(), self._disk)
            self._clear_all_but(wanted)
        return len(missing)

    @contextmanager
    def connect(self) -> Iterator[DuckDBPyConnection]:
        """A DuckDB connection in which the archive's tables are views of the files, while `held`.

        Raises BenchFailed for a file that can't be read, also while it is asked.
        """
        names = sorted(self._listed()[0])
        with _duckdb_in(self.folder) as engine:
            for table in TABLES:
                files = [str(self.folder / name / f"{table}.parquet") for name in names]
                if files:
                    engine.read_parquet(files).create_view(table)
                else:
                    engine.execute(create(table))
            yield engine

    def _listed(self) -> tuple[frozenset[str], str]:
        """The batches that count, and how the archive looked that they were made from."""
        path = self.folder / LISTED
        data = if_there(lambda: self._disk.read_all(path), path)
        try:
            said = json.loads(data or b"{}")
            return frozenset(name for name in said.get("batches", []) if _OURS.fullmatch(name)), said.get("archive", "")
        except (ValueError, AttributeError, TypeError):
            return frozenset(), ""  # a list that nobody can read names nothing, so all is made anew

    def _write(self, engine: DuckDBPyConnection, archive: sqlite3.Connection, name: str, jobs: Sequence[str]) -> None:
        draft = self.folder / f"{name}.{os.getpid()}.new"
        make_room(draft, self._disk)
        for table in TABLES:
            lines, file = draft / f"{table}.json", draft / f"{table}.parquet"
            ask_disk(lambda lines=lines, table=table: _put(lines, json_lines(archive, table, jobs)), lines)  # type: ignore[misc]
            _in_its_order(engine, table, lines).write_parquet(str(file), compression="snappy")
            ask_disk(lambda lines=lines, file=file: self._settle(lines, file), file)  # type: ignore[misc]
        ask_disk(lambda: self._disk.fsync_dir(draft), draft)
        ask_disk(lambda: self._disk.replace(draft, self.folder / name), draft)
        ask_disk(lambda: self._disk.fsync_dir(self.folder), self.folder)

    def _settle(self, lines: Path, file: Path) -> None:
        """Return once a table's file is on the medium; what it was made from goes."""
        self._disk.remove(lines)
        handle = self._disk.open(file)
        try:
            self._disk.fsync(handle)
        finally:
            self._disk.close(handle)

    def _clear_all_but(self, names: Iterable[str]) -> None:
        """Take away batches that don't count; one that can't be taken away now does no harm."""
        kept = set(names)
        for name in self._disk.names(self.folder):
            if _OURS.fullmatch(name) and name not in kept:
                shutil.rmtree(self.folder / name, ignore_errors=True)


def _put(path: Path, blocks: Iterable[bytes]) -> None:
    with path.open("wb") as file:
        file.writelines(blocks)


def _in_its_order(engine: DuckDBPyConnection, table: str, lines: Path) -> DuckDBPyRelation:
    columns = {name: kind.removesuffix(" NOT NULL") for name, kind in column_types(table)}
    rows = engine.read_json(str(lines), format="newline_delimited", columns=columns)
    return rows.order(_IN_ORDER[table]) if table in _IN_ORDER else rows


@contextmanager
def _duckdb_in(folder: Path) -> Iterator[DuckDBPyConnection]:
    """A connection that keeps nothing of its own, asks no other machine for anything, and puts what has no room there.

    Raises ExtraMissing, or BenchFailed for a file that can't be written or read.
    """
    try:
        import duckdb
    except ImportError as fault:
        raise ExtraMissing(
            "Counting over Parquet files needs the extra 'analytics', which isn't installed. "
            "Run: pip install 'passcheck[analytics]'."
        ) from fault
    alone = {"autoinstall_known_extensions": "false", "autoload_known_extensions": "false"}
    try:
        with duckdb.connect(config={**alone, "temp_directory": str(folder / "spill")}) as engine:
            yield engine
    except duckdb.Error as fault:
        raise BenchFailed(
            f"{folder}: files that figures are counted from can't be used ({_first_line(fault)}). "
            "Delete that folder, which is made again from the archive, and look after the disk."
        ) from fault


def _first_line(fault: Exception) -> str:
    return str(fault).partition("\n")[0]
