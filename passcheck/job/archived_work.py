"""What was done to the unit, block by block and part by part, and which of it was the fault?"""

from collections.abc import Iterable, Iterator, Mapping

from passcheck.job.archive_rows import PartRow, TouchRow
from passcheck.job.archived_time import utc_text
from passcheck.job.confirmed import confirmed_by
from passcheck.job.events import ReworkLogged
from passcheck.job.state import Change, Job

_WORK = frozenset({"rework", "incident", "case opened"})


def touch_rows(job: Job) -> tuple[TouchRow, ...]:
    """A row for each block that each entry of work touched; of an entry without one, a row without a block."""
    if not job.changes:
        return ()
    reworks = {one.rework: one for one in job.reworks}
    shown = {repair.block: " ".join(sorted(repair.failed)) for repair in confirmed_by(job).repairs}
    return tuple(
        row
        for change in job.changes
        if change.kind in _WORK
        for row in _rows(job, change, reworks.get(change.number) if change.kind == "rework" else None, shown)
    )


def _rows(job: Job, change: Change, rework: ReworkLogged | None, shown: Mapping[str, str]) -> Iterator[TouchRow]:
    # Practice confirms nothing (`confirmed.py`), so of it nothing is known either.
    told = job.ended == "signed off" and not job.facts.practice
    for block in _once(change.blocks) or ("",):
        yield TouchRow(
            job=job.id,
            board=job.sequence.sequence,
            line=change.line,
            kind=change.kind,
            number=change.number,
            block=block,
            at=utc_text(change.moment.utc),
            by=change.by,
            action=rework.action if rework is not None else "",
            reason=change.words,
            confirmed=int(block in shown) if told else None,
            shown_by=shown.get(block, ""),
        )


def part_rows(job: Job) -> tuple[PartRow, ...]:
    """A row for each part that a rework replaced."""
    if not job.reworks:
        return ()
    when = {change.number: utc_text(change.moment.utc) for change in job.changes if change.kind == "rework"}
    return tuple(
        PartRow(job.id, job.sequence.sequence, one.rework, part, one.part_number, when[one.rework])
        for one in job.reworks
        if one.action == "replaced"
        for part in _once(one.parts)
    )


def _once(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))
