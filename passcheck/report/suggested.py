"""What does the sequence itself say of where the fault may be, and of what is renewed together?

A suggestion out of the author's own words; nobody proposed it, and whoever does the work decides.
"""

from collections.abc import Iterable
from typing import Final

from passcheck.job.state import Job
from passcheck.report.bounded import MORE, listed
from passcheck.report.document import Column, Heading, Part, Table, Words
from passcheck.sequence.model import ALL_BLOCKS, Step

TITLE: Final = "Where the sequence points"
MARKED: Final = "A suggestion of the test sequence, not a proposal; what most of the failed steps prove comes first."
COLUMNS: Final = (
    Column("Area of the unit", 1.5),
    Column("Failed steps that prove it", 2.6),
    Column("Renewed together", 2),
)
ROWS: Final = 8
TITLES_SHOWN, TITLES_ROOM = 12, 240


def suggestions(job: Job, failed: Iterable[Step]) -> tuple[tuple[str, str, str], ...]:
    """A row for each block that these steps prove, the most supported first; one that proves all points at none."""
    pointed: dict[str, list[str]] = {}
    for step in failed:
        for name in step.proves if ALL_BLOCKS not in step.proves else ():
            if name in job.sequence.blocks:
                pointed.setdefault(name, []).append(step.title)
    ordered = sorted(pointed.items(), key=lambda one: -len(one[1]))
    return tuple(_row(job, name, titles) for name, titles in ordered)


def suggested_parts(job: Job, failed: Iterable[Step]) -> tuple[Part, ...]:
    """The same as a table, marked as what it is."""
    rows = suggestions(job, failed)
    if not rows:
        return ()
    left = len(rows) - ROWS
    more = (Words(f"And {left} more, {MORE}.", "small"),) if left > 0 else ()
    return (Heading(TITLE, 2), Words(MARKED, "small"), Table(COLUMNS, rows[:ROWS]), *more)


def _row(job: Job, name: str, titles: list[str]) -> tuple[str, str, str]:
    block = job.sequence.blocks[name]
    groups = "; ".join(", ".join(group) for group in block.renew_together)
    return f"{block.title} ({name})", listed(titles, TITLES_SHOWN, TITLES_ROOM), groups
