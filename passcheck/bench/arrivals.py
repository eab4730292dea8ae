"""Which units came in together?

Every job of an arrival but the first names the first. They are taken in one after another, so that a few numbers after
the first are looked at and no whole archive is read.
"""

from dataclasses import dataclass

from passcheck.bench.ports import JobFiles
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.journal_line import Line

LOOKED_AT = 20
"""Numbers after the first of an arrival that are looked at; another bench's program may have taken some between."""


@dataclass(frozen=True, slots=True)
class Arrived:
    """A unit of an arrival, by its job."""

    job: str
    serial: str


def came_together(files: JobFiles, job_id: str) -> tuple[Arrived, ...]:
    """All units of the arrival that this job belongs to, itself included, the first one first.

    Raises:
        FileFault: there is no such job, or its journal can't be read.
    """
    opening = files.read_job(job_id)[0]
    first = str(opening.data.get("arrived_with") or job_id)
    ids = files.job_ids()
    place = ids.index(first if first in ids else job_id)
    near = ids[place : place + 1 + LOOKED_AT]
    found = ((one, _opening(files, one)) for one in near)
    return tuple(
        Arrived(one, str(line.data.get("serial", "")))
        for one, line in found
        if line is not None and (one == first or line.data.get("arrived_with") == first)
    )


def _opening(files: JobFiles, job_id: str) -> Line | None:
    """The line that opened a job; None for a journal that can't be read, which its own job will say."""
    try:
        return files.read_job(job_id)[0]
    except (FileFault, BenchFailed, IndexError):
        return None
