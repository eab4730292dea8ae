"""What stands on the shelf, without reading every journal again?

`shelf.json` keeps a row a job with the size and the time of the journal that the row was made from. It is derived: a
row whose journal looks different is made anew, and so is the whole file when it is damaged or gone.
"""

import json
import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import asdict, fields
from pathlib import Path

from passcheck.errors import PasscheckError
from passcheck.job.journal_line import Line
from passcheck.job.shelf_row import ShelfRow, SoakTag, damaged_row
from passcheck.records.disk import Disk
from passcheck.records.job_number import is_job_number, job_number

SHELF_FORMAT = 2
_FIELDS = {field.name: field.type for field in fields(ShelfRow) if field.name != "soak"}
_SOAK_FIELDS = {field.name: field.type for field in fields(SoakTag)}
Seen = tuple[int, int]
"""Size in bytes and time of the last change in nanoseconds."""


class ShelfSummary:
    """The shelf of one folder of journals."""

    def __init__(self, folder: Path, *, disk: Disk | None = None) -> None:
        """Nothing is read yet; `folder` holds `jobs/`, as `LogFolder.root` does."""
        self._folder = folder
        self._disk = disk

    def rows(self, summarise: Callable[[tuple[Line, ...]], ShelfRow]) -> tuple[ShelfRow, ...]:
        """A row a job; see `read_shelf`."""
        return read_shelf(self._folder, summarise, disk=self._disk)


def read_shelf(
    folder: Path, summarise: Callable[[tuple[Line, ...]], ShelfRow], *, disk: Disk | None = None
) -> tuple[ShelfRow, ...]:
    """A row a job, the oldest job first; never raises for a journal that is damaged, that is a row too.

    Args:
        folder: the folder that holds `jobs/`; for practice it is `LogFolder.root`.
        summarise: makes a job's row from its lines; called for new and changed journals only. A PasscheckError or
            ValueError from it makes the row a damaged one.
        disk: where the folder lies.
    """
    disk = disk or Disk()
    kept = _read_kept(folder / "shelf.json", disk)
    rows: dict[str, tuple[Seen, ShelfRow]] = {}
    for job_id, path, seen in _journals(folder / "jobs"):
        before = kept.get(job_id)
        if before is not None and before[0] == seen:
            rows[job_id] = before
        else:
            rows[job_id] = (seen, _row(job_id, path, summarise, disk))
    if rows != kept:
        _write_kept(folder / "shelf.json", rows, disk)
    return tuple(rows[job_id][1] for job_id in sorted(rows, key=job_number))


def _journals(jobs: Path) -> Iterator[tuple[str, Path, Seen]]:
    """Every journal with its size and time, taken before it is read: a line that comes later makes the row stale."""
    with suppress(OSError), os.scandir(jobs) as years:
        for year in years:
            with suppress(OSError), os.scandir(year) as files:
                for file in files:
                    job_id = file.name.removesuffix(".jsonl")
                    if job_id != file.name and _lies_there(year.name, job_id):
                        stat = file.stat(follow_symlinks=False)
                        yield job_id, Path(file.path), (stat.st_size, stat.st_mtime_ns)


def _lies_there(year: str, job_id: str) -> bool:
    """Whether a job of that number is looked for in that year's folder; a copy elsewhere must not hide its row."""
    if not is_job_number(job_id):
        return False
    number = job_number(job_id)
    return (str(number.year), str(number)) == (year, job_id)


def _row(job_id: str, path: Path, summarise: Callable[[tuple[Line, ...]], ShelfRow], disk: Disk) -> ShelfRow:
    from passcheck.records.journal_file import State, read_journal  # a start reads journals only that changed

    try:
        file = read_journal(path, disk)
        row = damaged_row(job_id) if file.state is State.ALTERED else summarise(file.lines)
        # A journal copied under another job's name speaks of another unit: nothing of it belongs on this line.
        return row if row.job == job_id else damaged_row(job_id)
    except (PasscheckError, ValueError):
        # One job that can't be read must not take the shelf away from all the others; opening it says what is wrong.
        return damaged_row(job_id)


def _read_kept(path: Path, disk: Disk) -> dict[str, tuple[Seen, ShelfRow]]:
    try:
        content = json.loads(disk.read_all(path))
        if content["format"] != SHELF_FORMAT:
            return {}
        return {job: ((row.pop("size"), row.pop("mtime_ns")), _shelf_row(row)) for job, row in content["rows"].items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return {}


def _shelf_row(row: Mapping[str, object]) -> ShelfRow:
    """A kept row; TypeError when somebody changed its shape."""
    soak = row["soak"]
    plain = _checked({name: value for name, value in row.items() if name != "soak"}, _FIELDS)
    if soak is None:
        return ShelfRow(**plain)  # type: ignore[arg-type]  # each was checked above
    if not isinstance(soak, dict):
        raise TypeError("soak")
    return ShelfRow(**plain, soak=SoakTag(**_checked(soak, _SOAK_FIELDS)))  # type: ignore[arg-type]  # as above


def _checked(kept: Mapping[str, object], wanted: Mapping[str, object]) -> Mapping[str, object]:
    for name, value in kept.items():
        if not isinstance(value, wanted[name]):  # type: ignore[arg-type]  # a class or a union of classes, not text
            raise TypeError(name)
    return kept


def _write_kept(path: Path, rows: Mapping[str, tuple[Seen, ShelfRow]], disk: Disk) -> None:
    """Keep the rows for the next time; when the disk refuses, the next time takes longer and that is all."""
    kept = {job: {"size": seen[0], "mtime_ns": seen[1]} | asdict(row) for job, (seen, row) in sorted(rows.items())}
    text = json.dumps({"format": SHELF_FORMAT, "rows": kept}, ensure_ascii=True, separators=(",", ":"))
    draft = path.with_name(f"{path.name}.{os.getpid()}.new")
    with suppress(OSError):
        try:
            handle = disk.create(draft)
            try:
                rest = text.encode()
                while rest:
                    rest = rest[disk.write(handle, rest) :]
            finally:
                disk.close(handle)
            disk.replace(draft, path)
        except OSError:
            disk.remove(draft)
