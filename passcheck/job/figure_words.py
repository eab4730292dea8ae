"""How do shares, intervals and rows that aren't shown read in a figure?"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final, TypeVar

from passcheck.job.figure import Bar, Figure
from passcheck.judge.first_pass_yield import first_pass_yield

LEVEL: Final = 0.95
FEW: Final = 10
"""Below so many an interval is so wide that the figure says it."""
BOARD: Final = "BOARD"
INTERVAL: Final = "In brackets: the 95 % interval of the share (Wilson's); the fewer were counted, the wider it is."

T = TypeVar("T")


def share_words(k: int, n: int) -> str:
    """`7 of 9 (45 to 94 %)`; of none there is no share."""
    if n == 0:
        return "none yet"
    found = first_pass_yield(k, n, LEVEL)
    return f"{k} of {n} ({percents(found.low, found.high)})"


def percents(low: float, high: float) -> str:
    """Two shares as `45 to 94 %`."""
    places = places_for(low, high)
    return f"{percent(low, places)} to {percent(high, places)} %"


def percent(share: float, places: int) -> str:
    """A share times a hundred, without its sign; a zero is never negative."""
    return f"{round(100 * share, places) + 0.0:.{places}f}"


def places_for(low: float, high: float) -> int:
    """How many decimals of a percentage an interval is worth: none while it is wider than two."""
    half = 50 * (high - low)
    return 0 if half >= 1 else 1 if half >= 0.1 else 2


def at_least(k: int, n: int) -> float:
    """The lower end of the share's interval, by which rows are put in order: 1 of 1 shows less than 40 of 50."""
    return first_pass_yield(k, n, LEVEL).low if n else 0.0


def share_bar(label: str, k: int, n: int) -> Bar:
    """A share with its interval; `n` is above 0."""
    found = first_pass_yield(k, n, LEVEL)
    return Bar(label, found.share, found.low, found.high)


def few_words(counted_in_rows: Sequence[tuple[int, int]], thing: str) -> tuple[str, ...]:
    """What few judgements are worth, by the first row that has so few; nothing where none has."""
    few = [(k, n) for k, n in counted_in_rows if 0 < n < FEW]
    if not few:
        return ()
    k, n = few[0]
    found = first_pass_yield(k, n, LEVEL)
    between = percents(found.low, found.high).replace(" to ", " and ")
    return (f"Shares from fewer than {FEW} {thing} say little: {k} of {n} is anything between {between}.",)


def first_of(rows: Sequence[T], most: int | None) -> tuple[Sequence[T], int]:
    """The rows that are shown, and how many more there are."""
    shown = rows if most is None else rows[:most]
    return shown, len(rows) - len(shown)


def rest_words(more: int, never: int, thing: str) -> tuple[str, ...]:
    """How many rows aren't shown, for want of room or because nothing of the kind happened there."""
    told = [f"{more} more with fewer of them"] if more else []
    told += [f"{never} with none"] if never else []
    return (f"{thing} not shown: {', '.join(told)}.",) if told else ()


def of_board(figure: Figure, board: str | None) -> Figure:
    """The figure without its column of boards, where one board was chosen."""
    if board is None or figure.heads[:1] != (BOARD,):
        return figure
    rows = tuple(row[1:] for row in figure.rows)
    return replace(figure, heads=figure.heads[1:], numbers=figure.numbers[1:], rows=rows)


def label(board: str, of: str, chosen: str | None) -> str:
    """What a bar is called: with its board, unless one was chosen."""
    return of if chosen is not None else f"{board} {of}"
