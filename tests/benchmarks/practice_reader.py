"""How much does somebody read who looks at a screen of practice?

Words are counted once: a pair of words that stood beside each other before is known, however a line breaks or is
covered. What the line of practice leads to is told from what only stands on the screen as well.
"""

import re
from itertools import pairwise
from typing import Final

LETTER: Final = re.compile(r"[^\W\d_]")
WORD: Final = re.compile(r"[\w.,:;%/'°Ω-]*\w[\w.,:;%/'°Ω-]*")
ADVICE: Final = " PRACTICE  "
SHEET_LEFT, SHEET_RIGHT, SHEET_TOP = "▌", "▐", "▛"
OVERVIEW: Final = ("TRAVELLER", "PRACTICE SHELF", "PRACTICE RACK")
FOOTER: Final = re.compile(r"\b(f8 Make safe|f1 Keys)\b")
PLATE: Final = "╭─"
BESIDE: Final = 10  # columns; a plate that begins further left lies below


def without_front(rows: list[str]) -> list[str]:
    """What belongs to the step: the unit's front is a plate beside it, or below where there is no room."""
    at = next((nth for nth, row in enumerate(rows) if PLATE in row), None)
    if at is None:
        return rows
    column = rows[at].index(PLATE)
    return [row[:column] for row in rows] if rows[at][:column].strip() or column > BESIDE else rows[:at]


class Read:
    """Words that somebody has read, each once where it stands beside the same word; figures are typed, not counted."""

    def __init__(self) -> None:
        """Nothing is read yet."""
        self.words = 0
        self._pairs: set[tuple[str, str]] = set()

    def take(self, rows: list[str]) -> None:
        """Read these rows; however a line breaks or is covered, most of its pairs of words stay known."""
        for row in rows:
            words = [word for word in WORD.findall(re.sub(r"\d", "0", row)) if LETTER.search(word)]
            pairs = set(pairwise(["", *words])) - self._pairs
            self._pairs |= pairs
            self.words += len(pairs)


def the_line(rows: list[str]) -> list[str]:
    """The line that says what to do, and the figure below it."""
    nth = next((nth for nth, row in enumerate(rows) if row.startswith(ADVICE)), len(rows))
    line = rows[nth : nth + 2]
    return line[:1] if line and FOOTER.search(line[-1]) else line


def led_to(rows: list[str]) -> list[str]:
    """What the line leads to: itself and the figure below; then the sheet that lies there, or else the bench's step.

    Of the overviews (shelf, traveller) only the line is wanted; the unit's plate repeats what the figure says.
    """
    line = the_line(rows)
    above = rows[1 : rows.index(line[0])] if line else rows[1:]
    if any(SHEET_TOP in row for row in above):
        sheet = (row[: row.rindex(SHEET_RIGHT)] for row in above if SHEET_RIGHT in row)
        return [*(row[row.rindex(SHEET_LEFT) + 1 :] for row in sheet if SHEET_LEFT in row), *line]
    if any(words in row for row in rows for words in OVERVIEW):
        return line
    return [*without_front(above), *line]
