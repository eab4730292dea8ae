"""Which round numbers stand on an axis, and where?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from passcheck.judge.rounding import rounded

ROUND: Final = (1, 2, 5, 10)
SHARES: Final = (2, 3, 4, 5)
"""Lines from one number at a vertical axis to the next."""


@dataclass(frozen=True, slots=True)
class Scale:
    """An axis from `start` to `end`, with its round numbers."""

    start: float
    end: float
    ticks: tuple[float, ...]

    def place(self, value: float, dots: int) -> int:
        """The dot of a value, of so many from the start to the end; the nearest end where it lies beside them."""
        share = (value - self.start) / (self.end - self.start)
        return round(min(max(share, 0.0), 1.0) * (dots - 1))


def round_scale(low: float, high: float, most_ticks: int, *, whole: bool = False) -> Scale:
    """An axis that holds both values and begins and ends at round numbers: 1, 2 or 5 times a power of ten apart.

    `whole` keeps the ticks apart by 1 at least, where half a job means nothing.
    """
    if high <= low:
        low, high = (low, low + 1) if low >= 0 else (low - 1, 0.0)
    step = _round_up((high - low) / max(most_ticks - 1, 1))
    step = max(step, 1.0) if whole else step
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return Scale(first * step, last * step, tuple(at * step for at in range(first, last + 1)))


def line_scale(low: float, high: float, most_lines: int, *, whole: bool = False) -> tuple[int, Scale]:
    """An axis that holds both values in at most so many lines (3 or more), and how many lines it takes.

    From line to line is always a share of the round number by which the ticks are apart, so that they stand equally
    far apart; of all such axes it is the one with the finest lines, with three numbers where there is room for them.
    """
    if high <= low:
        low, high = (low, low + 1) if low >= 0 else (low - 1, 0.0)
    power = 10.0 ** math.floor(math.log10((high - low) / most_lines))
    steps = [one * power * scale for scale in (1, 10, 100) for one in ROUND[:-1]]
    for shares, fewest in ((SHARES, 3), (SHARES, 2), ((1,), 2)):
        lines = sorted((step / share, share) for step in steps for share in shares if step >= 1 or not whole)
        for line, share in lines:
            first, last = math.floor(low / line + 1e-9), math.ceil(high / line - 1e-9)
            ticks = tuple(at * line for at in range(first, last + 1) if at % share == 0)
            if last - first < most_lines and len(ticks) >= fewest:
                return last - first + 1, Scale(first * line, last * line, ticks)
    return most_lines, round_scale(low, high, 2, whole=whole)


def _round_up(step: float) -> float:
    power = 10.0 ** math.floor(math.log10(step))
    return next(one * power for one in ROUND if one * power >= step * (1 - 1e-9))


def tick_text(value: float) -> str:
    """The number as it is written at the axis."""
    return rounded(value, 6) if value else "0"


def spread(places: Sequence[tuple[int, str]], width: int) -> tuple[tuple[int, str], ...]:
    """The labels that find room, evenly thinned: each with the column of its middle and a blank on either side."""
    for every in range(1, len(places) + 1):
        kept = places[::every]
        begun = [(_begin(column, text, width), text) for column, text in kept]
        if all(begin + len(text) < after for (begin, text), (after, _text) in pairwise(begun)):
            return tuple(kept)
    return ()


def label_row(labels: Sequence[tuple[int, str]], width: int) -> str:
    """The labels under their columns, in a line of that width."""
    line = [" "] * width
    for column, text in labels:
        begin = _begin(column, text, width)
        line[begin : begin + len(text)] = text
    return "".join(line)[:width]


def _begin(column: int, text: str, width: int) -> int:
    return max(0, min(column - len(text) // 2, width - len(text)))
