"""In which state does a unit leave that was not released?

Whoever opens it next has to know: what was touched, what is still fitted, and whether it was proved dead.
"""

from passcheck.job.power import all_off, proved_dead
from passcheck.job.renewed import explained, left_old, renewed
from passcheck.job.state import Job
from passcheck.job.traveller import BLANK
from passcheck.job.work_done import work_done
from passcheck.report.document import Column, Facts, Heading, Part, Table, Words
from passcheck.report.on_every_paper import local, person
from passcheck.report.source import Source

WORK = (Column("When", 1.6), Column("By", 1.2), Column("What", 5.0))
LATER = "That holds for that moment and says nothing of later."


def state_parts(job: Job, source: Source) -> tuple[Part, ...]:
    """Opened or not, what was done, what is fitted, what it was when power was last told."""
    return (Heading("The state it is in"), Facts(_facts(job)), *work_parts(job, source))


def work_parts(job: Job, source: Source) -> tuple[Part, ...]:
    """Everything that was done to the unit, in the words of the record."""
    rows = tuple((local(one.moment), person(one.by, source), one.words) for one in work_done(job))
    return (Table(WORK, rows),) if rows else (Words("Nothing was done to it."),)


def _facts(job: Job) -> tuple[tuple[str, str], ...]:
    return (
        ("Opened", _opened(job)),
        ("Parts fitted that stay in it", ", ".join(sorted(renewed(job))) or "none"),
        *((("Left old of a group", words),) if (words := _left_old(job)) else ()),
        ("Still to be put back", "; ".join(it.words for it in job.fitted) or "nothing"),
        ("Mishaps without an answer", ", ".join(map(str, job.open_incidents)) or "none"),
        ("Power", _power(job)),
    )


def _opened(job: Job) -> str:
    opened = [change for change in job.changes if change.kind == "case opened"]
    if opened:
        return f"yes, {local(opened[0].moment)}: {opened[0].words}"
    return "work was done on it, as it is listed here" if job.reworks else "no opening was noted"


def _left_old(job: Job) -> str:
    why = explained(job)
    left = (f"{part}{'' if part in why else ' (no reason given)'}" for group in left_old(job) for part in group)
    return ", ".join(left)


def _power(job: Job) -> str:
    """What was told and measured; passcheck sees no supply."""
    if not all_off(job, job.last):
        return "not told off: take it for powered or charged until it is measured"
    if not proved_dead(job):
        return "told off, and not proved dead since it was last powered"
    if job.made_safe_line == 0:
        return "no supply was told on, and the sequence names no stored energy"
    when = next((local(change.moment) for change in job.power if change.line == job.made_safe_line), BLANK)
    points = ", ".join(place.at for place in job.sequence.stored_energy) or "the supply's terminals"
    return f"told off, and proved dead {when} at {points}. {LATER}"
