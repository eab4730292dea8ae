"""How does a table fit so many columns of a terminal?"""

from collections.abc import Sequence
from typing import Final

from passcheck.job.figure import Figure
from passcheck.sequence.faults import cells
from passcheck.sequence.show_text import CUT, show_text

BETWEEN: Final = "  "
LEAST_OF_LONG: Final = 8
"""Cells of a long column while others may still be cut."""
NARROWEST: Final = 4
"""Of any column that is cut: a letter or two and the sign that more was there."""
LEAST_WITH_END: Final = 12
"""Cells from which a text that is cut keeps its end."""
LONGEST_CELL: Final = 200


def table_lines(figure: Figure, width: int) -> tuple[str, ...]:
    """The heads and then a line a row, cleaned, numbers to the right; long columns are cut until all fit."""
    if not figure.rows:
        return ()
    cleaned = [[show_text(cell, LONGEST_CELL) for cell in row] for row in (figure.heads, *figure.rows)]
    long = [head in figure.long for head in figure.heads]
    widths = _fitted([max(map(cells, column)) for column in zip(*cleaned, strict=True)], long, width)
    return tuple(_line(row, widths, figure.numbers) for row in cleaned)


def _fitted(widths: Sequence[int], long: Sequence[bool], width: int) -> list[int]:
    """The widths, made less where all of them need more room than there is: first of what is long, then of any."""
    fitted, room = list(widths), width - len(BETWEEN) * (len(widths) - 1)
    for cuttable, least in ((long, LEAST_OF_LONG), ([True] * len(fitted), NARROWEST)):
        while sum(fitted) > room:
            wide = [at for at, may in enumerate(cuttable) if may and fitted[at] > least]
            if not wide:
                break
            fitted[max(wide, key=fitted.__getitem__)] -= 1
    return fitted


def _line(row: Sequence[str], widths: Sequence[int], numbers: Sequence[bool]) -> str:
    padded = (_cell(text, width, right) for text, width, right in zip(row, widths, numbers, strict=True))
    return BETWEEN.join(padded).rstrip()


def _cell(text: str, width: int, right: bool) -> str:
    shown = cut(text, width)
    blank = " " * (width - cells(shown))
    return blank + shown if right else shown + blank


def cut(text: str, width: int) -> str:
    """What of a cleaned text finds room in so many cells; what is cut out leaves a sign.

    The end stays too where there is room for it: titles of steps often differ in their last word alone.
    """
    if cells(text) <= width:
        return text
    if width < 1:
        return ""
    tail = width // 3 if width >= LEAST_WITH_END else 0
    return _as_fits(text, width - 1 - tail) + CUT + _as_fits(text[::-1], tail)[::-1]


def _as_fits(text: str, width: int) -> str:
    """The first characters that find room in so many cells."""
    shown = ""
    for character in text:
        if cells(shown + character) > width:
            break
        shown += character
    return shown
