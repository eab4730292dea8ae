"""With which instruments was the unit tested, and were they in date when they were used?"""

from dataclasses import dataclass

from passcheck.job.events import InstrumentInUse
from passcheck.job.instruments import overdue
from passcheck.job.late_entry import day_read
from passcheck.job.state import Job
from passcheck.judge.rounding import counted
from passcheck.report.document import Cell, Column, Heading, Part, Table, Words
from passcheck.report.source import Source

TITLE = "Instruments"
NONE = "No instrument was taken up."
COLUMNS = (
    Column("Own id", 0.9),
    Column("Instrument", 2.0),
    Column("Serial", 1.3),
    Column("Role", 1.3),
    Column("Accuracy", 1.8),
    Column("Calibration due", 1.3),
    Column("In runs", 1.0),
    Column("Readings", 1.6),
)
TOLD = "As they stood when they were taken up. The due date is the one in the bench's register on that day."
NO_SERIAL = "not in the register"


@dataclass(frozen=True, slots=True)
class _Used:
    """An instrument in one role as it was taken up, the runs it was taken up in, and its attempts' days."""

    it: InstrumentInUse
    runs: tuple[int, ...]
    readings: int
    late: bool


def instruments(job: Job, source: Source) -> tuple[Part, ...]:
    """A row for each instrument in each role, with the accuracy and due date that it was used with."""
    used = _used(job)
    if not used:
        return Heading(TITLE), Words(NONE)
    return Heading(TITLE), Words(TOLD, "small"), Table(COLUMNS, tuple(_row(one, source) for one in used))


def _used(job: Job) -> tuple[_Used, ...]:
    taken = [it for run in job.runs for it in run.facts.instruments]
    read = [one.instrument for one in job.attempts if one.instrument is not None]
    return tuple(_of(job, it) for it in dict.fromkeys((*taken, *read)))


def _of(job: Job, it: InstrumentInUse) -> _Used:
    made = [one for one in job.attempts if one.instrument == it]
    runs = {run.number for run in job.runs if it in run.facts.instruments} | {one.run for one in made}
    late = any(overdue(it, day_read(one.measured_at, one.moment)) for one in made)
    return _Used(it, tuple(sorted(runs)), len(made), late)


def _row(used: _Used, source: Source) -> tuple[Cell | str, ...]:
    it = used.it
    serial = dict(source.instruments).get(it.instrument) or NO_SERIAL
    known = source.outside.settings.instruments.get(it.instrument)
    since = known.doubtful_since if known is not None else None
    marks = ("overdue when it was read" if used.late else "", f"doubtful since {since}" if since else "")
    due = "; ".join(filter(None, (it.due, *marks)))
    readings = counted(used.readings, "reading")
    runs = ", ".join(str(number) for number in used.runs)
    return it.instrument, it.title, serial, it.role, it.accuracy, Cell(due, strong=due != it.due), runs, readings
