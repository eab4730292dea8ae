"""Which parts are used up, and how many a month?"""

from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import Final

from passcheck.job.counts import Counts
from passcheck.job.figure import Bar, Bars, Course, Figure, Point
from passcheck.job.figure_months import every_month, month_number, month_text
from passcheck.job.figure_words import BOARD, first_of, label
from passcheck.judge.rounding import counted, rounded

TITLE: Final = "Which parts are used, and how many a month?"
WORDS: Final = (
    "Counted are designators whose rework replaced them, by the month of the rework; a part number stands as it was "
    "typed, so two ways to write it are two rows.",
    "A job that replaced a part in two months counts in both.",
)


@dataclass(frozen=True, slots=True)
class _Used:
    board: str
    part: str
    number: str
    used: int
    jobs: int
    months: tuple[int, ...]


def parts_figure(counts: Counts, board: str | None, most: int | None) -> Figure:
    """A row a part, the most used on top; the parts of each month as a course."""
    every = sorted(_summed(counts), key=lambda one: (-one.used, one.board, one.part, one.number))
    shown, more = first_of(every, most)
    rows = tuple(
        (one.board, one.part, one.number, str(one.used), str(one.jobs), month_text(one.months[0]),
         month_text(one.months[-1]))
        for one in shown
    )  # fmt: skip
    rest = (f"{more} more parts were used less often.",) if more else ()
    words = (_in_all(counts), *WORDS, *rest) if rows else ("No part was replaced yet.",)
    bars = tuple(
        Bar(label(one.board, f"{one.part} {one.number}".rstrip(), board), one.used, None, None) for one in shown
    )
    plots = (Bars(bars, max(bar.value for bar in bars), "parts", "parts used"), _course(counts)) if bars else ()
    heads = (BOARD, "PART", "PART NUMBER", "USED", "JOBS", "FIRST", "LAST")
    return Figure(
        "parts",
        TITLE,
        heads,
        (False, False, False, True, True, False, False),
        rows,
        words,
        plots,
        long=("PART NUMBER",),
    )


def _summed(counts: Counts) -> list[_Used]:
    """Each part over all its months."""
    months = defaultdict(list)
    for one in counts.parts:
        months[one.board, one.part, one.part_number].append(one)
    return [
        _Used(
            *key,
            sum(one.used for one in found),
            sum(one.jobs for one in found),
            tuple(sorted(month_number(one.month) for one in found)),
        )
        for key, found in months.items()
    ]


def _in_all(counts: Counts) -> str:
    used, months = sum(one.used for one in counts.parts), len(_months(counts))
    each = f"{rounded(used / counts.jobs, 2)} a job, " if counts.jobs else ""
    said = f"{counted(used, 'part')} in {counted(counts.jobs, 'job')} and {counted(months, 'month')}"
    return f"{said.capitalize()}: {each}{rounded(used / months, 2)} a month on the average."


def _months(counts: Counts) -> range:
    """From the first month with a job or a part to the last."""
    named = [one.month for one in counts.parts] + [one.month for one in counts.months]
    return every_month(map(month_number, named))


def _course(counts: Counts) -> Course:
    used: Counter[int] = Counter()
    for one in counts.parts:
        used[month_number(one.month)] += one.used
    points = tuple(Point(month, used[month]) for month in _months(counts))
    return Course("parts used", "month", "parts", points, x_labels=_labels(counts))


def _labels(counts: Counts) -> tuple[tuple[float, str], ...]:
    return tuple((month, month_text(month)) for month in _months(counts))
