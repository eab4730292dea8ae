"""How do the archive's rows leave as tables that a spreadsheet opens?

One file a table, in the form of every other table that leaves (`job/csv_text.py`). A folder among the records is
refused.
"""

import os
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any, Final

from passcheck.errors import FileFault
from passcheck.job.archive_rows import TABLES
from passcheck.job.csv_text import Head, csv_text
from passcheck.judge.quantity import six
from passcheck.records.archive_tables import KEYS, column_types
from passcheck.records.disk import Disk
from passcheck.records.remedy import ask_disk
from passcheck.records.whole_file import make_room

AT_ONCE: Final = 5000
"""Rows that are made into text together."""
_LINE_END: Final = "\r\n"


def tables_to(folder: Path, connection: sqlite3.Connection, logs: Path, disk: Disk) -> tuple[tuple[str, int], ...]:
    """Write a file for each table, and give its name with its rows once all are on disk.

    Args:
        folder: where; it is made where it is missing, and files of the same names are replaced.
        connection: the archive.
        logs: the bench's folder of records, in which nothing is written.
        disk: where `folder` lies.

    Raises:
        FileFault: the folder lies among the records.
        BenchFailed: the disk refuses.
    """
    if folder.resolve().is_relative_to(logs.resolve()):
        raise FileFault(f"{folder} lies among the records. Nothing was written: name a folder outside {logs}.")
    make_room(folder, disk)
    written = tuple((f"{table}.csv", _write(folder / f"{table}.csv", connection, table, disk)) for table in TABLES)
    ask_disk(lambda: disk.fsync_dir(folder), folder)
    return written


def _write(path: Path, connection: sqlite3.Connection, table: str, disk: Disk) -> int:
    """One table, under its name when all of it is on disk; gives the number of its rows."""
    draft = path.with_name(f"{path.name}.{os.getpid()}.new")
    rows = 0
    try:
        handle = ask_disk(lambda: disk.create(draft), path)
        try:
            for count, text in _pieces(connection, table):
                rows += count
                _append(handle, text.encode("utf-8"), path, disk)
            ask_disk(lambda: disk.fsync(handle), path)
        finally:
            disk.close(handle)
        ask_disk(lambda: disk.replace(draft, path), path)
    except BaseException:
        with suppress(OSError):
            disk.remove(draft)
        raise
    return rows


def _append(handle: int, data: bytes, path: Path, disk: Disk) -> None:
    while data:
        rest = data
        data = data[ask_disk(lambda: disk.write(handle, rest), path) :]  # noqa: B023 - asked at once


def _pieces(connection: sqlite3.Connection, table: str) -> Iterator[tuple[int, str]]:
    """The table's text, some rows at a time, with how many they are; the heads come first, once."""
    heads = [Head(name, number="TEXT" not in words) for name, words in column_types(table)]
    found = connection.execute(f"SELECT * FROM {table} ORDER BY {', '.join(KEYS[table])}")
    yield 0, csv_text(heads, ())
    while rows := found.fetchmany(AT_ONCE):
        text = csv_text(heads, map(_texts, rows))
        yield len(rows), text.partition(_LINE_END)[2]


def _texts(row: Sequence[Any]) -> tuple[str, ...]:
    return tuple(map(_text, row))


def _text(value: Any) -> str:
    """A number as a plain decimal, because a spreadsheet may read `1e-05` as a text."""
    if value is None:
        return ""
    return six(value) if isinstance(value, float) else str(value)
