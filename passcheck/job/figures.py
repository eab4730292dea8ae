"""What do the counts of many jobs say?

One module a figure (`figure_*.py`); each makes rows, the words that keep them honest, and something to draw. Pure.
"""

from collections.abc import Callable, Mapping
from typing import Final

from passcheck.job.counts import Counts
from passcheck.job.figure import Figure
from passcheck.job.figure_blocks import blocks_figure
from passcheck.job.figure_doubt import doubt_figure
from passcheck.job.figure_failing import failing_figure
from passcheck.job.figure_first_try import first_try_figure
from passcheck.job.figure_margins import margins_figure
from passcheck.job.figure_months import months_figure
from passcheck.job.figure_parts import parts_figure
from passcheck.job.figure_returns import returns_figure
from passcheck.job.figure_review import review_figure
from passcheck.job.figure_time import time_figure
from passcheck.job.figure_words import of_board

MOST_SHOWN: Final = 15
"""Rows of a figure that has one for each step, block or part, where somebody reads them."""

ITSELF_BY_BOARD: Final = "first-try"
"""The figure whose rows are boards, so that one that was chosen is named all the same."""

_Make = Callable[[Counts, str, str | None, int | None], Figure]
_FIGURES: Final[Mapping[str, _Make]] = {
    "first-try": lambda counts, _until, _board, _most: first_try_figure(counts),
    "failing": lambda counts, _until, board, most: failing_figure(counts, board, most),
    "blocks": lambda counts, _until, board, most: blocks_figure(counts, board, most),
    "returns": lambda counts, until, _board, _most: returns_figure(counts, until),
    "doubt": lambda counts, _until, board, most: doubt_figure(counts, board, most),
    "margins": lambda counts, _until, board, most: margins_figure(counts, board, most),
    "time": lambda counts, _until, board, most: time_figure(counts, board, most),
    "parts": lambda counts, _until, board, most: parts_figure(counts, board, most),
    "months": lambda counts, _until, _board, _most: months_figure(counts),
    "review": lambda counts, _until, _board, _most: review_figure(counts),
}
NAMES: Final = tuple(_FIGURES)
"""Of all figures, in the order in which they are shown."""


def figures(counts: Counts, until: str, board: str | None, most: int | None = MOST_SHOWN) -> tuple[Figure, ...]:
    """All figures, in the order of `NAMES`.

    Args:
        counts: of one board or of all.
        until: the day (or a UTC text that begins with it) up to which units out are followed.
        board: the one that was chosen; the rows don't name it again.
        most: rows at most where there is one for each step, block or part; None shows all.
    """
    made = tuple(make(counts, until, board, most) for make in _FIGURES.values())
    return tuple(one if one.name == ITSELF_BY_BOARD else of_board(one, board) for one in made)


def boards_of(counts: Counts) -> tuple[str, ...]:
    """The boards that these counts speak of, in order."""
    return tuple(sorted({one.board for one in counts.months}))
