"""Which journals lie in a folder of records, and how does each look from outside?"""

import os
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from passcheck.records.job_number import JobNumber, is_job_number, job_number
from passcheck.records.remedy import if_there

JOURNAL = ".jsonl"


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
    years = if_there(lambda: [entry.name for entry in os.scandir(jobs) if entry.name.isdecimal()], jobs) or []
    found = [one for year in years for one in if_there(partial(_of_year, jobs / year), jobs / year) or ()]
    return {str(number): looks for number, looks in sorted(found, key=lambda one: one[0])}


def _of_year(folder: Path) -> list[tuple[JobNumber, Looks]]:
    """The journals of one year's folder; what isn't named as a job of that year is none."""
    found = []
    with os.scandir(folder) as files:
        for file in files:
            job = file.name.removesuffix(JOURNAL)
            if job == file.name or not is_job_number(job):
                continue
            number = job_number(job)
            if (str(number.year), str(number)) == (folder.name, job):
                seen = file.stat(follow_symlinks=False)
                found.append((number, Looks(seen.st_size, seen.st_mtime_ns)))
    return found
