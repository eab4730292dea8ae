"""How do the list of figures, a figure's table and its words read on the screen?"""

import textwrap
from collections.abc import Sequence
from typing import Final

from textual.content import Content

from passcheck.app.plain import joined, plain
from passcheck.job.figure import Figure
from passcheck.job.figure_table import table_lines

MOST_ROWS: Final = 300
"""A list of thousands of readings is read on paper or in a spreadsheet, not here."""
MARK: Final = "> "


def figure_list(names: Sequence[str], at: int, *, down: bool) -> Content:
    """The names of all figures, the one that lies open in brackets as well as in another colour."""
    pieces = [plain(f"[{one}]", "bold reverse") if place == at else plain(one) for place, one in enumerate(names)]
    return Content("\n" if down else " ").join(pieces)


def figure_table(figure: Figure, width: int, at: int | None) -> Content:
    """The table, its heads in bold; `at` marks the row of the course that is drawn."""
    blank = "" if at is None else " " * len(MARK)
    lines = table_lines(figure, width - len(blank))
    shown, more = lines[: MOST_ROWS + 1], len(lines) - MOST_ROWS - 1
    pieces = [
        plain(f"{MARK if row == at else blank}{text}", "bold" if row in (-1, at) else "", limit=400)
        for row, text in enumerate(shown, start=-1)
    ]
    if more > 0:
        pieces.append(plain(f"and {more} more: passcheck figures --only {figure.name}"))
    return Content("\n").join(pieces)


def figure_words(figure: Figure, width: int) -> Content:
    """Its sentences, one below the other; a percentage stays with its sign."""
    told = []
    for sentence in figure.words:
        kept = sentence.replace(" %", "\N{NO-BREAK SPACE}%")
        first, *others = textwrap.wrap(kept, max(width - len(MARK), 20))
        told += [joined(("- ", "bold"), first), *(plain(f"  {line}") for line in others)]
    return Content("\n").join(told)
