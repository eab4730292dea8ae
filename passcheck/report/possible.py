"""Which papers make sense as a job stands, and why not the others?"""

from typing import get_args

from passcheck.errors import FileFault
from passcheck.job.state import Ending, Job
from passcheck.report.document import Kind

KINDS: tuple[Kind, ...] = get_args(Kind)
OF_ENDING: dict[Ending, Kind] = {
    "signed off": "release-note",
    "returned unrepaired": "returned-unrepaired",
    "returned repaired in part": "returned-in-part",
}


def possible(job: Job) -> tuple[Kind, ...]:
    """The papers that the job has as it stands, the most wanted first."""
    ending: tuple[Kind, ...] = () if job.ended is None else (OF_ENDING[job.ended],)
    found: tuple[Kind, ...] = ("findings",) if _found(job) else ()
    tried: tuple[Kind, ...] = ("test-record",) if job.attempts else ()
    blank: tuple[Kind, ...] = ("blank-sheet",) if job.ended is None else ()
    # While the job is open the owner waits for what was found; once it has ended, for what it came to.
    return (*found, *tried, *blank) if job.ended is None else (*ending, *tried, *found)


def wanted(job: Job) -> tuple[Kind, ...]:
    """The papers that are made where none is named: what goes out with the unit, else the latest that can be told.

    Raises:
        FileFault: there is none yet.
    """
    there = possible(job)
    if job.ended is not None:
        return tuple(kind for kind in there if kind != "findings")
    for kind in ("findings", "test-record"):
        if kind in there:
            return (kind,)
    raise FileFault(f"{job.id}: nothing was tried on this unit yet, so there is no paper of it. {_what_is(job)}")


def demand_possible(kind: Kind, job: Job) -> None:
    """Raises FileFault, with the reason and what can be had, where the job has no such paper."""
    if kind not in possible(job):
        raise FileFault(f"{job.id} has no {kind.replace('-', ' ')}: {_why_not(kind, job)}. {_what_is(job)}")


def _found(job: Job) -> bool:
    return any(run.purpose == "as-found" and run.outcome is not None for run in job.runs)


def _why_not(kind: Kind, job: Job) -> str:
    stands = f"it was {job.ended}" if job.ended is not None else "it is still open"
    if kind == "findings":
        return "no as-found run of it was closed"
    if kind == "test-record":
        return "nothing was tried on it yet"
    if kind == "blank-sheet":
        return f"{stands}, and a sheet to fill in is for a job that goes on"
    ending = next(words for words, one in OF_ENDING.items() if one == kind)
    return f"{stands}, and this paper is for a unit that was {ending}"


def _what_is(job: Job) -> str:
    there = possible(job)
    return f"It has: {', '.join(there)}." if there else "It has no paper."
