"""Which journals lie in a folder of records, and how does each look from outside?"""

import os
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from operator import itemgetter
from pathlib import Path

from passcheck.records.job_number import is_job_number, job_number
from passcheck.records.remedy import if_there

JOURNAL = ".jsonl"
Order = tuple[int, int, str]
"""Year, count and letter: the order in which jobs were begun."""


@dataclass(frozen=True, slots=True)
class Looks:
    """What tells one state of a journal from another without reading it: its bytes and its last change."""

    size: int
    changed_ns: int


def journals(root: Path) -> Mapping[str, Looks]:
    """Every journal by its job's number, the oldest first.

    Raises:
        BenchFailed: a folder can't be read; then nobody may conclude that its journals are gone.
    """
    jobs = root / "jobs"
    years = if_there(lambda: [entry.name for entry in os.scandir(jobs) if _is_year(entry.name)], jobs) or []
    found = [one for year in years for one in if_there(partial(_of_year, jobs / year), jobs / year) or ()]
    return {job: looks for _order, job, looks in sorted(found, key=itemgetter(0))}


def _is_year(name: str) -> bool:
    """As job numbers tell it: nobody looks for a job in a folder that only reads like one of a year."""
    return name.isascii() and name.isdecimal() and name == str(int(name))


def _of_year(folder: Path) -> list[tuple[Order, str, Looks]]:
    """The journals of one year's folder; what isn't named as a job of that year is none."""
    found, year = [], int(folder.name)
    with os.scandir(folder) as files:
        for file in files:
            job = file.name.removesuffix(JOURNAL)
            if job == file.name or not is_job_number(job):
                continue
            number = job_number(job)
            if year == number.year and job == str(number):
                seen = file.stat(follow_symlinks=False)
                order = number.year, number.count, number.letter
                found.append((order, job, Looks(seen.st_size, seen.st_mtime_ns)))
    return found
