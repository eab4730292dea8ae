"""Which runs were made, for what purpose, by whom, on which unit, and how did each end?"""

from passcheck.job.state import Job, Run
from passcheck.report.document import Cell, Column, Heading, Part, Table, Words
from passcheck.report.on_every_paper import person
from passcheck.report.record_words import when
from passcheck.report.source import Source

TITLE = "Runs"
COLUMNS = (
    Column("Run", 0.5, right=True),
    Column("Purpose", 1.6),
    Column("Begun", 1.7),
    Column("By", 2.2),
    Column("Ambient", 1.2),
    Column("Serial scanned", 1.4),
    Column("Revision", 1.6),
    Column("Outcome", 2.6),
)
NONE = "No run was made."


def runs(job: Job, source: Source) -> tuple[Part, ...]:
    """A row a run, in order."""
    if not job.runs:
        return Heading(TITLE), Words(NONE)
    return Heading(TITLE), Table(COLUMNS, tuple(_row(job, run, source) for run in job.runs))


def _row(job: Job, run: Run, source: Source) -> tuple[Cell | str, ...]:
    facts = run.facts
    return (
        str(run.number),
        f"{run.purpose}{', the symptom again' if facts.again else ''}",
        when(job, run.started),
        person(run.by, source) + (f"; within call: {person(facts.second, source)}" if facts.second else ""),
        _ambient(facts.ambient_c),
        _serial(job, run),
        f"{facts.revision} ({facts.sequence_digest[:8]})",
        run.outcome or "open",
    )


def _ambient(said: str | None) -> str:
    """As it was typed; the field asks for °C."""
    if said is None:
        return "not noted"
    return said if said.endswith("C") else f"{said} °C"


def _serial(job: Job, run: Run) -> Cell:
    """Another serial than the unit's is another unit, or a mistake."""
    scanned = run.facts.serial_scanned
    if scanned == job.serial:
        return Cell(scanned)
    return Cell(f"{scanned}, {'a good unit' if run.purpose == 'good-unit' else 'not this unit'}", strong=True)
