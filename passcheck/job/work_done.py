"""What was done to this unit, one sentence an entry?

The screen, the command and the paper print these same words. A repair (made fit for use, but not as drawn) is told from
any other work.
"""

from dataclasses import dataclass

from passcheck.job.events import ReworkLogged
from passcheck.job.moment import Moment
from passcheck.job.staleness import call
from passcheck.job.state import Change, Job

REPAIR = "a repair, not as drawn"


@dataclass(frozen=True, slots=True)
class Done:
    """One entry: when, by whom, and what."""

    moment: Moment
    by: str
    words: str


def work_done(job: Job) -> tuple[Done, ...]:
    """Every rework, incident, opened case and new revision, in order; none is left out."""
    return tuple(Done(change.moment, change.by, _words(job, change)) for change in job.changes)


def repairs(job: Job) -> tuple[str, ...]:
    """The reworks that were repairs, as they are called."""
    return tuple(call(change) for change in job.changes if change.repair)


def _words(job: Job, change: Change) -> str:
    if change.kind != "rework":
        where = f" ({', '.join(change.blocks)})" if change.blocks else ""
        return f"{call(change)}{where}: {change.words}" if change.words else f"{call(change)}{where}"
    rework = next(one for one in job.reworks if one.rework == change.number)
    repair = f", {REPAIR}" if rework.repair else ""
    return f"{call(change)}{repair}: {_what(rework)}. {'; '.join((rework.reason, *_further(rework)))}"


def _what(rework: ReworkLogged) -> str:
    parts = f" {', '.join(rework.parts)}" if rework.parts else ""
    donor = f" from unit {rework.donor}" if rework.donor else ""
    return f"{rework.action}{parts}{donor} ({', '.join(rework.blocks)})"


def _further(rework: ReworkLogged) -> tuple[str, ...]:
    found = [f"part number {rework.part_number}"] if rework.part_number else []
    found += [f"{old.part} left old: {old.reason}" for old in rework.left_old]
    found += [f"answers incident {rework.incident}"] if rework.incident is not None else []
    return (*found, *(f"photo {path}" for path in rework.photos))
