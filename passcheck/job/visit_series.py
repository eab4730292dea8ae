"""How did one step of a unit read over its visits, as points to be drawn?"""

from collections.abc import Iterator
from datetime import datetime

from passcheck.job.archive_rows import AttemptRow
from passcheck.job.figure import Course, Point
from passcheck.job.visit_drift import reach
from passcheck.job.visits import StepHistory, UnitHistory

_DAY_S = 24 * 60 * 60


def series(history: UnitHistory, step: StepHistory) -> tuple[Point, ...]:
    """As found, as left, as found and so on: x in days since the first visit, y in the base unit, with 95 %."""
    return tuple(_point(history, row) for row in _numbers(step))


def course(history: UnitHistory, step: StepHistory) -> Course:
    """The same as a course with its axes; a limit is a line where there is one alone."""
    rows = list(_numbers(step))
    unit = rows[-1].unit if rows else ""
    ends = [limit for limit in (rows[-1].low, rows[-1].high) if limit is not None] if rows else []
    labels = tuple(
        (_days(history, told.visit.job.opened_at), told.visit.job.opened_at[:10])
        for told, cell in zip(history.visits, step.visits, strict=True)
        if cell.found is not None or cell.left is not None
    )
    return Course(
        name=step.title,
        x="days since the first visit",
        y=unit,
        points=series(history, step),
        x_labels=labels,
        line=ends[0] if len(ends) == 1 else None,
    )


def _numbers(step: StepHistory) -> Iterator[AttemptRow]:
    """Attempts with a number, in order; those in another unit than the latest belong on no common axis."""
    rows = [row for cell in step.visits for row in (cell.found, cell.left) if row is not None and row.value is not None]
    return (row for row in rows if row.unit == rows[-1].unit)


def _point(history: UnitHistory, row: AttemptRow) -> Point:
    low, high = reach(row) or (None, None)
    assert row.value is not None  # noqa: S101 - only such rows are given here
    return Point(_days(history, row.at), row.value, low, high)


def _days(history: UnitHistory, at: str) -> float:
    first = datetime.fromisoformat(history.visits[0].visit.job.opened_at)
    return (datetime.fromisoformat(at) - first).total_seconds() / _DAY_S
