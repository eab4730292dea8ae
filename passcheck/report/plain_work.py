"""What was done to the unit, in words that its owner knows?"""

from collections.abc import Mapping
from typing import Final

from passcheck.job.confirmed import MENDING
from passcheck.job.events import Action, ReworkLogged
from passcheck.job.state import Job
from passcheck.job.work_done import REPAIR
from passcheck.report.bounded import MORE, cut, listed
from passcheck.report.how_many import many

PLAIN: Final[Mapping[Action, str]] = {
    "replaced": "Replaced",
    "reflowed": "Soldered anew",
    "cleaned": "Cleaned",
    "adjusted": "Adjusted",
    "jumper": "Bridged with a wire",
    "firmware": "Firmware or settings renewed",
    "inspected": "Looked at",
    "leg lifted": "One leg lifted for a measurement",
    "swapped in": "Tried with a part of another unit",
    "put back": "Put back",
}
NOTHING_DONE = "Nothing on the unit was changed."
ALL_REWORK = "All of it is rework: the unit is as drawn again."
SOME_REPAIR = "A repair makes the unit fit for use, but not as drawn; all other work is rework, as drawn again."
PARTS_SHOWN, PARTS_ROOM, WHY_ROOM, BLOCK_ROOM = 6, 34, 56, 32


def plain_work(job: Job, most: int) -> tuple[str, ...]:
    """At most so many entries, what mended the unit first, and a line on the rest and on what all of it was."""
    mended = [one for one in job.reworks if one.action in MENDING]
    every = (*mended, *(one for one in job.reworks if one.action not in MENDING))
    shown = tuple(_entry(job, one) for one in every[:most])
    return (*shown, " ".join(_rest(job, len(every) - len(shown))))


def _entry(job: Job, rework: ReworkLogged) -> str:
    blocks = job.sequence.blocks
    first = next(iter(rework.blocks), "")
    where = cut(blocks[first].title if first in blocks else first, BLOCK_ROOM)
    others = f" and {many(len(rework.blocks) - 1, 'other area')}" if len(rework.blocks) > 1 else ""
    parts = listed(rework.parts, PARTS_SHOWN, PARTS_ROOM, more="")
    what = f"{PLAIN[rework.action]}{f': {parts}' if parts else ''} ({where or 'the unit'}{others})"
    return f"{what}{f', {REPAIR}' if rework.repair else ''}. Why: {cut(rework.reason, WHY_ROOM).rstrip('.')}."


def _rest(job: Job, left: int) -> tuple[str, ...]:
    """How many entries more there are, what kind of work it was, what of a group was left, what went wrong."""
    if not job.reworks:
        return (NOTHING_DONE, *_mishaps(job))
    old = sum(len(one.left_old) for one in job.reworks)
    return (
        *((f"And {left} more, {MORE}.",) if left else ()),
        SOME_REPAIR if any(one.repair for one in job.reworks) else ALL_REWORK,
        *((f"{many(old, 'part')} of a group left old.",) if old else ()),
        *_mishaps(job),
    )


def _mishaps(job: Job) -> tuple[str, ...]:
    found = sum(change.kind == "incident" for change in job.changes)
    return (f"{many(found, 'mishap')} on the bench, looked into: {MORE}.",) if found else ()
