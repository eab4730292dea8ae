"""What the records and a bench say beside a job, for papers in tests, and how a paper's words are read.

paper = findings(story.job, source_of(story.job))
assert "142 mV" in said(paper)
"""

from dataclasses import replace
from typing import Any

from rig import settings

from passcheck.job.outside import Outside
from passcheck.job.record_head import RecordHead
from passcheck.job.settings import BenchSettings
from passcheck.job.state import Job
from passcheck.report.document import Cell, Paper, Table, texts
from passcheck.report.source import Source

HEAD = RecordHead(size=20417, digest="ab" * 32, sealed=True, ledger_bytes=4711, ledger_digest="cd" * 32)


def source_of(job: Job, settings_now: BenchSettings | None = None, **members: Any) -> Source:
    """A shop of two technicians and a lead; its journal is sealed where the job has ended."""
    now = settings_now or settings()
    one = Source(
        head=replace(HEAD, sealed=job.ended is not None),
        outside=Outside(now, todays_digest=job.sequence_digest),
        shop="Bench of the examples",
        place="Harbour Lane 3",
        people=tuple((name, person.name) for name, person in now.people.items()),
        instruments=tuple((name, it.serial or "") for name, it in now.instruments.items()),
        warranty_months=now.warranty_months,
        journal=None,
        tool="passcheck test",
    )
    return replace(one, **members)


def said(paper: Paper) -> str:
    """Everything that somebody reads on a paper, one text below the other."""
    return "\n".join((paper.title, *texts(paper.parts), paper.footer))


def tables(paper: Paper) -> tuple[Table, ...]:
    """The tables of a paper, in order."""
    return tuple(part for part in paper.parts if isinstance(part, Table))


def cells(table: Table) -> list[list[str]]:
    """A table's rows as texts; the names of groups are left out."""
    return [
        [one if isinstance(one, str) else one.text if isinstance(one, Cell) else one.words for one in row]
        for row in table.rows
        if not isinstance(row, str)
    ]
