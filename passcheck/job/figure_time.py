"""How long does a step take, and a whole walk?"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Final

from passcheck.job.counts import Counts
from passcheck.job.figure import Bar, Bars, Figure
from passcheck.job.figure_words import BOARD, first_of, label
from passcheck.judge.rounding import counted

TITLE: Final = "How long does a step take?"
BOARDS_NAMED: Final = 5
WORDS: Final = (
    "Seconds of work from the line before to the entry, rounded to five. Left out: what came after an absence, soaks, "
    "and late entries.",
    "Half of the attempts took the median or less. Whoever was called away for some minutes is in it, so that a mean "
    "would say less.",
)


@dataclass(frozen=True, slots=True)
class _Taken:
    """Seconds that attempts of a step took; how many took each, in order."""

    board: str
    title: str
    histogram: tuple[tuple[int, int], ...]

    @property
    def attempts(self) -> int:
        return sum(attempts for _seconds, attempts in self.histogram)

    def within(self, tenths: int) -> int:
        """The seconds in which so many tenths of the attempts were done."""
        done = accumulate(attempts for _seconds, attempts in self.histogram)
        took = (seconds for seconds, _attempts in self.histogram)
        return next(
            seconds for seconds, so_far in zip(took, done, strict=True) if 10 * so_far >= tenths * self.attempts
        )


def time_figure(counts: Counts, board: str | None, most: int | None) -> Figure:
    """A row a step, the longest on top; the sum of a board's medians in words."""
    every = sorted(_steps(counts), key=lambda one: (-one.within(5), one.board, one.title))
    shown, more = first_of(every, most)
    rows = tuple((one.board, one.title, str(one.attempts), str(one.within(5)), str(one.within(9))) for one in shown)
    rest = (f"{more} more steps take less.",) if more else ()
    words = (*_walks(every), *WORDS, *rest) if rows else ("No attempt has a time yet.",)
    heads = (BOARD, "STEP", "ATTEMPTS", "MEDIAN, s", "9 OF 10 WITHIN, s")
    plots = (_bars(shown, board),) if rows else ()
    return Figure("time", TITLE, heads, (False, False, True, True, True), rows, words, plots, long=("STEP",))


def _steps(counts: Counts) -> list[_Taken]:
    histograms: dict[tuple[str, str], dict[int, int]] = defaultdict(lambda: defaultdict(int))
    titles: dict[tuple[str, str], str] = {}
    for one in counts.seconds:
        if one.attempts:
            titles[one.board, one.step] = one.title
            histograms[one.board, one.step][one.seconds] += one.attempts
    return [_Taken(key[0], titles[key], tuple(sorted(found.items()))) for key, found in histograms.items()]


def _walks(every: Sequence[_Taken]) -> tuple[str, ...]:
    """For each board the sum of medians: what one attempt at each step takes."""
    boards: dict[str, list[_Taken]] = defaultdict(list)
    for one in every:
        boards[one.board].append(one)
    told = [
        f"{board}: {counted(len(boards[board]), 'step')} once each, "
        f"{duration(sum(one.within(5) for one in boards[board]))} as the sum of medians."
        for board in sorted(boards)
    ]
    more = len(told) - BOARDS_NAMED
    return (*told[:BOARDS_NAMED], *((f"{more} more boards: choose one to see its sum.",) if more > 0 else ()))


def duration(seconds: int) -> str:
    """`45 s`, `12 min`, `1 h 05 min`."""
    minutes = round(seconds / 60)
    if minutes < 2:
        return f"{seconds} s"
    return f"{minutes} min" if minutes < 60 else f"{minutes // 60} h {minutes % 60:02d} min"


def _bars(shown: Sequence[_Taken], board: str | None) -> Bars:
    bars = tuple(Bar(label(one.board, one.title, board), one.within(5), one.within(1), one.within(9)) for one in shown)
    return Bars(bars, max(bar.high or bar.value for bar in bars), "s", "median, and where 8 of 10 attempts lie")
