"""Do readings creep toward a limit, month by month?"""

from collections import defaultdict
from collections.abc import Sequence
from typing import Final

from passcheck.job.counts import Counts, MonthMargins
from passcheck.job.figure import Course, Figure, Point
from passcheck.job.figure_creep import FEWEST_MONTHS, FEWEST_UNITS, Creep, creeps
from passcheck.job.figure_months import month_number, month_text
from passcheck.job.figure_words import BOARD, first_of, label, percent, percents
from passcheck.job.margin_month import mean_interval
from passcheck.judge.rounding import counted

TITLE: Final = "Do readings creep toward a limit?"
HEADS: Final = (BOARD, "STEP", "MONTH", "UNITS", "MARGIN", "LEAST, %", "A MONTH")
NUMBERS: Final = (False, False, False, True, False, True, False)
WORDS: Final = (
    "Margin: how far inside the nearer limit the pass lies that counts for a unit's release; 100 % is the middle "
    "between two limits, 0 % the limit itself. Of a one-sided limit it is the share of the limit.",
    "Month, units and margin are of the newest month: the mean over its units with the 95 % interval of that mean "
    "(Student's t); the least is of all months. What lies nearest to its limit is on top. A month: the slope, in "
    "percentage points, where one is shown.",
    "Units differ from each other, and a step may have asked something else in an earlier revision of its sequence. A "
    "trend is not a cause.",
)


def margins_figure(counts: Counts, board: str | None, most: int | None) -> Figure:
    """A row a step, the one nearest to its limit on top; a course each, on axes of its own."""
    steps = _by_step(counts.margins)
    found = creeps(steps)
    order = sorted(steps, key=lambda key: (steps[key][-1].mean, key))
    shown, more = first_of(order, most)
    rows = tuple((key[0], *_row(steps[key], found.get(key))) for key in shown)
    told = [
        f"{label(key[0], steps[key][-1].title, board)}: {found[key].sentence}"
        for key in order
        if key in found and found[key].sentence
    ]
    rest = (f"{more} more steps lie farther from their limits.",) if more else ()
    words = (*told, _looked_at(len(steps), len(found)), *WORDS, *rest)
    plots = tuple(_course(label(key[0], steps[key][-1].title, board), steps[key]) for key in shown)
    empty = ("No reading with a margin counts for a release yet.",)
    return Figure("margins", TITLE, HEADS, NUMBERS, rows, words if rows else empty, plots, long=("STEP",), apart=True)


def _by_step(margins: Sequence[MonthMargins]) -> dict[tuple[str, str], list[MonthMargins]]:
    steps: dict[tuple[str, str], list[MonthMargins]] = defaultdict(list)
    for one in sorted(margins, key=lambda one: one.month):
        if one.units:
            steps[one.board, one.step].append(one)
    return dict(steps)


def _row(months: Sequence[MonthMargins], creep: Creep | None) -> tuple[str, ...]:
    newest = months[-1]
    trend = "too few" if creep is None else creep.word
    least = percent(min(one.least for one in months), 0)
    return newest.title, newest.month, str(newest.units), _mean(newest), least, trend


def _mean(one: MonthMargins) -> str:
    interval = mean_interval(one)
    mean = f"{percent(one.mean, 0)} %"
    return mean if interval is None else f"{mean} ({percents(*interval)})"


def _looked_at(steps: int, judged: int) -> str:
    asked = f"a trend asks for {FEWEST_MONTHS} months with {FEWEST_UNITS} units each"
    if not judged:
        return f"No statement on trends yet: {asked}, and none of {counted(steps, 'step')} has them."
    return (
        f"Looked at: {judged} of {counted(steps, 'step')}; {asked}. A trend is told where the slope differs from 0 at "
        f"95 % for all of them together (Sidak's correction)."
    )


def _course(name: str, months: Sequence[MonthMargins]) -> Course:
    points = []
    for one in months:
        interval = mean_interval(one)
        low, high = (None, None) if interval is None else (100 * interval[0], 100 * interval[1])
        points.append(Point(month_number(one.month), 100 * one.mean, low, high))
    every = range(int(points[0].x), int(points[-1].x) + 1)
    labels = tuple((float(month), month_text(month)) for month in every)
    return Course(name, "month", "margin, %", tuple(points), x_labels=labels, line=0.0)
