"""What is wrong with a file, where does it stand, and how is it shown to its author?"""

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from passcheck.errors import FileFault
from passcheck.sequence.show_text import show_text

Severity = Literal["error", "warning"]

WIDEST_SOURCE = 160  # characters of a source line that are shown; a longer line is cut around the fault
MOST_SHOWN = 100  # faults that one report prints; a file with more has one cause that makes the rest


@dataclass(frozen=True, slots=True)
class Fault:
    """One complaint about one place of a file; line and column count from 1, `source` is the line as written."""

    line: int
    column: int
    severity: Severity
    sentence: str
    source: str

    def show(self, name: str) -> str:
        """`file:line:column: sentence`, the source line, and a caret under the place."""
        said = f"{'warning: ' if self.severity == 'warning' else ''}{self.sentence}"
        head = f"{show_text(name, 400)}:{self.line}:{self.column}: {show_text(said)}"
        if not self.source.strip():
            return head
        before, after = self._window()
        return f"{head}\n    {before}{after}\n    {' ' * cells(before)}^"

    def _window(self) -> tuple[str, str]:
        """The shown source before the place and from it on, both cleaned; a long line loses its far ends."""
        place = self.column - 1
        start = max(0, place - WIDEST_SOURCE // 2) if len(self.source) > WIDEST_SOURCE else 0
        before = ("…" if start else "") + show_text(self.source[start:place])
        return before, show_text(self.source[place : start + WIDEST_SOURCE])


class SequenceFaults(FileFault):
    """A sequence file can't be used; `faults` holds everything found in it, in the order of the file."""

    def __init__(self, name: str, faults: tuple[Fault, ...]) -> None:
        super().__init__(name, faults)
        self.name = name
        self.faults = faults

    def __str__(self) -> str:
        return show_faults(self.name, self.faults)


def show_faults(name: str, faults: Iterable[Fault]) -> str:
    """All faults of a file, one below the other."""
    every = tuple(faults)
    lines = [fault.show(name) for fault in every[:MOST_SHOWN]]
    if len(every) > MOST_SHOWN:
        lines.append(f"{show_text(name, 400)}: and {len(every) - MOST_SHOWN} more; mend these first")
    return "\n".join(lines)


def cells(text: str) -> int:
    """How many terminal cells a cleaned text takes: East Asian wide characters take two, combining marks none."""
    return sum(_width(character) for character in text)


def _width(character: str) -> int:
    if unicodedata.combining(character):
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1
