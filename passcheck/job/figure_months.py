"""How many jobs came in and went out, month by month?"""

from collections.abc import Iterable
from typing import Final

from passcheck.job.counts import Counts, JobsMonth
from passcheck.job.figure import Course, Figure, Point

TITLE: Final = "How many jobs came in and went out in each month?"
WORDS: Final = (
    "Opened: jobs by the month in which the unit came in. Released: jobs signed off in that month, whenever they came.",
    "Units that went back unrepaired or repaired in part are no release. The newest month may not be over.",
)


def months_figure(counts: Counts) -> Figure:
    """A row a month, those without any job too; two courses on the same axes."""
    known = _by_month(counts.months)
    every = every_month(known)
    rows = tuple((month_text(one), *(str(number) for number in known.get(one, (0, 0)))) for one in every)
    plots = tuple(
        Course(
            name,
            "month",
            "jobs",
            tuple(Point(one, known.get(one, (0, 0))[place]) for one in every),
            x_labels=tuple((one, month_text(one)) for one in every),
        )
        for place, name in enumerate(("opened", "released"))
    )
    words = WORDS if rows else ("No job was opened yet.",)
    heads = ("MONTH", "OPENED", "RELEASED")
    return Figure("months", TITLE, heads, (False, True, True), rows, words, plots if rows else ())


def _by_month(months: Iterable[JobsMonth]) -> dict[int, tuple[int, int]]:
    """Opened and released in each month, of all boards together."""
    known: dict[int, tuple[int, int]] = {}
    for one in months:
        opened, released = known.get(month_number(one.month), (0, 0))
        known[month_number(one.month)] = (opened + one.opened, released + one.released)
    return known


def month_number(month: str) -> int:
    """`2031-04` as a number that grows by 1 a month."""
    return int(month[:4]) * 12 + int(month[5:7]) - 1


def month_text(number: int) -> str:
    """The month of that number, as `2031-04`."""
    return f"{number // 12:04d}-{number % 12 + 1:02d}"


def every_month(known: Iterable[int]) -> range:
    """All months from the first known one to the last, none left out."""
    numbers = sorted(known)
    return range(numbers[0], numbers[-1] + 1) if numbers else range(0)
