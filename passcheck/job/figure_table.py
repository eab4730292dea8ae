"""How does a table fit so many columns of a terminal?"""

from collections.abc import Sequence
from typing import Final

from passcheck.job.figure import Figure
from passcheck.sequence.faults import cells
from passcheck.sequence.show_text import CUT, show_text

BETWEEN: Final = "  "
NARROWEST: Final = 4
"""Of a column that is cut: a letter or two and the sign that more was there."""
LONGEST_CELL: Final = 200


def table_lines(figure: Figure, width: int) -> tuple[str, ...]:
    """The heads and then a line a row, cleaned, numbers to the right; the widest columns are cut until all fit."""
    if not figure.rows:
        return ()
    cleaned = [[show_text(cell, LONGEST_CELL) for cell in row] for row in (figure.heads, *figure.rows)]
    widths = _fitted([max(map(cells, column)) for column in zip(*cleaned, strict=True)], width)
    return tuple(_line(row, widths, figure.numbers) for row in cleaned)


def _fitted(widths: list[int], width: int) -> list[int]:
    """The widths, made less where all of them together are more than there is room for."""
    room = width - len(BETWEEN) * (len(widths) - 1)
    while sum(widths) > room and max(widths) > NARROWEST:
        widths[widths.index(max(widths))] -= 1
    return widths


def _line(row: Sequence[str], widths: Sequence[int], numbers: Sequence[bool]) -> str:
    padded = (_cell(text, width, right) for text, width, right in zip(row, widths, numbers, strict=True))
    return BETWEEN.join(padded).rstrip()


def _cell(text: str, width: int, right: bool) -> str:
    shown = cut(text, width)
    blank = " " * (width - cells(shown))
    return blank + shown if right else shown + blank


def cut(text: str, width: int) -> str:
    """What of a cleaned text finds room in so many cells; what is cut off leaves a sign."""
    if cells(text) <= width:
        return text
    shown = ""
    for character in text:
        if cells(shown + character) > width - 1:
            break
        shown += character
    return shown + CUT if width > 0 else ""
