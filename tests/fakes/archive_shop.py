"""A folder of records that fills with jobs, is damaged and mended, and an archive that has to follow.

shop = ArchiveShop(folder)
job = shop.begins()                 # the first line of a story, as another job
shop.goes_on(job, 40)               # so many more lines of it
assert shop.archive().catch_up().taken == 1
assert contents(shop.archive().path)["job"]
"""

import sqlite3
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from typing import Any

from sample_set import logs_of, sample_set

from passcheck.job.archive_rows import TABLES
from passcheck.job.ending import is_failure, is_seal
from passcheck.job.journal_line import Line
from passcheck.records.archive import SqliteArchive
from passcheck.records.board_folder import BoardFolder
from passcheck.records.disk import Disk
from passcheck.records.shop import LogFolder
from passcheck.records.stamp import Stamp

SET = "set-1"
STORIES = ("A31-0001", "A31-0005", "A31-0006")
"""Jobs of the sample set: signed off after a repair, returned in part, signed off with nothing found."""
STAMP = Stamp("2031-04-02T09:14:03.512Z", 1_575_552)


@cache
def story(job: str) -> tuple[Line, ...]:
    """The lines of a sample."""
    return logs_of(sample_set(SET).folder, job).read_job(job)


@dataclass
class ArchiveShop:
    """The folder, the stories that its jobs tell and how far each is told."""

    root: Path
    disk: Disk = field(default_factory=Disk)
    practice: bool = False
    told: dict[str, tuple[Sequence[Line], int]] = field(default_factory=dict)
    whole: dict[str, bytes] = field(default_factory=dict)
    """What damaged journals were."""

    def logs(self) -> LogFolder:
        """The folder, as a process finds it."""
        return LogFolder(
            self.root, "P" if self.practice else "A", disk=self.disk, practice=self.practice, stamp=lambda: STAMP
        )

    def archive(self, processes: int | None = None) -> SqliteArchive:
        """The archive, as a process finds it."""
        return SqliteArchive(self.logs(), BoardFolder.read, disk=self.disk, processes=processes)

    def begins(self, tells: str = STORIES[0]) -> str:
        """A unit is taken in."""
        lines = story(tells)

        def first(job: str, ledger: tuple[int, str]) -> Line:
            facts = {**lines[0].data, "job": job, "practice": self.practice}
            return replace(lines[0], data=facts | {"ledger_bytes": ledger[0], "ledger_digest": ledger[1]})

        job, writer = self.logs().new_job(first)
        writer.close()
        self.told[job] = lines, 1
        return job

    def goes_on(self, job: str, count: int = 1000) -> None:
        """So many more lines are written, as far as the story goes."""
        lines, done = self.told[job]
        more = lines[done : done + count]
        if not more:
            return
        writer, _lines = self.logs().open_job(job)
        writer.append(more, fail=any(map(is_failure, more)), seal=is_seal(more[-1]))
        writer.close()
        self.told[job] = lines, done + len(more)

    def whole_job(self, tells: str = STORIES[0]) -> str:
        """A unit is taken in and its story told to the end."""
        job = self.begins(tells)
        self.goes_on(job)
        return job

    def path(self, job: str) -> Path:
        """A job's journal."""
        return self.logs().journal_path(job)

    def alter(self, job: str) -> None:
        """Somebody changes a word in a journal."""
        path = self.path(job)
        self.whole.setdefault(job, path.read_bytes())
        path.write_bytes(path.read_bytes().replace(b'"condition":"', b'"condition":"was ', 1))

    def take_away(self, job: str) -> None:
        """Somebody deletes a journal."""
        self.whole.setdefault(job, self.path(job).read_bytes())
        self.path(job).unlink()

    def put_back(self, job: str) -> None:
        """It is brought back from a backup."""
        self.path(job).write_bytes(self.whole.pop(job))


def contents(archive: Path) -> dict[str, list[tuple[Any, ...]]]:
    """Every row of every table, in the order of its values."""
    with closing(sqlite3.connect(archive)) as connection:
        found = {name: connection.execute(f"SELECT * FROM {name}").fetchall() for name in TABLES}
        found["taken"] = connection.execute("SELECT job, digest, standing = 'unread' FROM taken").fetchall()
    return {name: sorted(rows, key=repr) for name, rows in found.items()}


def two_jobs(root: Path) -> ArchiveShop:
    """A shop with two jobs, one of them sealed."""
    shop = ArchiveShop(root)
    shop.whole_job()
    shop.goes_on(shop.begins(STORIES[1]), 5)
    return shop


def serials(shop: ArchiveShop) -> list[str]:
    return [row[0] for row in contents(shop.archive().path)["job"]]


def same_as_made_anew(shop: ArchiveShop) -> None:
    archive = shop.archive()
    archive.catch_up()
    followed = contents(archive.path)
    archive.rebuild()
    assert contents(archive.path) == followed
