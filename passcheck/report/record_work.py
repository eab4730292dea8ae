"""What was done to the unit, what did each act make worthless, and what did the owner agree to?"""

from passcheck.job.staleness import call, stale_by
from passcheck.job.state import Change, Job
from passcheck.job.work_done import REPAIR, Done, work_done
from passcheck.judge.rounding import counted
from passcheck.report.document import Facts, Heading, Part, Words
from passcheck.report.on_every_paper import person
from passcheck.report.record_long_texts import one_line
from passcheck.report.record_words import when
from passcheck.report.source import Source

TITLE = "Work"
NOTHING = "Nothing was done to the unit."


def work(job: Job, source: Source) -> tuple[Part, ...]:
    """Every entry in order, the blocks that hands were on, what was put back, what was proposed and agreed to."""
    entries = zip(job.changes, work_done(job), strict=True)
    done = tuple(part for change, entry in entries for part in _entry(job, change, entry, source))
    return (
        Heading(TITLE),
        *(done or (Words(NOTHING),)),
        *_blocks(job),
        *_put_back(job),
        *_proposed(job),
        *_agreed(job),
    )


def _entry(job: Job, change: Change, entry: Done, source: Source) -> tuple[Part, ...]:
    struck = sum(stale_by(job, attempt) == change for attempt in job.attempts)
    rows = [("When", when(job, entry.moment)), ("By", person(entry.by, source)), ("Blocks", _named(job, change.blocks))]
    if change.kind == "rework":
        rows.append(("Entered as", REPAIR if change.repair else "rework"))
    if change.kind == "incident":
        rows.append(("Answered", _answered(job, change)))
    rows.append(("Made worthless", counted(struck, "result")))
    return Heading(call(change), 2), Words(entry.words), Facts(tuple(rows), wide=True)


def _answered(job: Job, change: Change) -> str:
    """By which rework an incident was answered."""
    by = [one.rework for one in job.reworks if one.incident == change.number]
    return ", ".join(f"rework {number}" for number in by) or "still open"


def _named(job: Job, blocks: tuple[str, ...]) -> str:
    known = job.sequence.blocks
    return ", ".join(f"{name} ({known[name].title})" if name in known else name for name in blocks) or "none"


def _blocks(job: Job) -> tuple[Part, ...]:
    """Which blocks hands were on, and which stayed as they came."""
    touched = {name for change in job.changes for name in change.blocks}
    stayed = tuple(name for name in job.sequence.blocks if name not in touched)
    worked_on = tuple(name for name in job.sequence.blocks if name in touched)
    rows = (("Blocks worked on", _named(job, worked_on)), ("Blocks not worked on", _named(job, stayed)))
    return (Facts(rows),)


def _put_back(job: Job) -> tuple[Part, ...]:
    """What was fitted or set for a test and left the unit again, and what is still on it."""
    back = tuple(
        (f"Put back {when(job, it.moment)}, {it.by}", f"{it.words}: {one_line(it.how)}" if it.how else it.words)
        for it in job.put_back
    )
    still = tuple(("Still to be put back", it.words) for it in job.fitted)
    return (Facts((*back, *still)),) if back or still else ()


def _proposed(job: Job) -> tuple[Part, ...]:
    """Every proposal, those too that a later one replaced: what was agreed to is read beside what was asked."""
    rows = tuple(
        (f"Proposed {when(job, it.moment)}, {it.by}", one_line(line)) for it in job.proposed for line in it.lines
    )
    return (Facts(rows),) if rows else ()


def _agreed(job: Job) -> tuple[Part, ...]:
    if not job.agreed:
        return (Words("Nothing is recorded that the owner agreed to."),)
    rows = tuple(
        (f"Owner agreed {when(job, it.moment)}", f"{it.scope} ({it.who}; entered by {it.by})") for it in job.agreed
    )
    return (Facts(rows),)
