"""How does a cell of the terminal hold eight dots, so that a curve can be drawn among letters?

Pure: dots in, rows of signs out. Which of several drawings owns a cell's colour follows one order; the dots of all of
them stay, so that nothing is told by colour alone.
"""

from collections.abc import Iterable, Sequence
from itertools import groupby, pairwise
from typing import Final, Literal

Ink = Literal["text", "axis", "band", "line", "other", "curve"]
Run = tuple[str, Ink]
Row = tuple[Run, ...]
"""One line of a plot: pieces of text, each in one ink."""

ORDER: Final[Sequence[Ink]] = ("text", "axis", "band", "line", "other", "curve")
"""The later one colours a cell that several drew in."""
ACROSS, DOWN = 2, 4
_BLANK: Final = 0x2800
_BITS: Final = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""Of a braille cell, by row and column."""


class Canvas:
    """Dots in a field of cells; x counts from the left, y from the top. What lies beside the field isn't drawn."""

    def __init__(self, width: int, height: int) -> None:
        """Args: width, height: in cells."""
        self.width, self.height = width, height
        self._bits: dict[tuple[int, int], int] = {}
        self._ink: dict[tuple[int, int], Ink] = {}

    @property
    def size(self) -> tuple[int, int]:
        """Dots across and down."""
        return self.width * ACROSS, self.height * DOWN

    def dot(self, x: int, y: int, ink: Ink) -> None:
        """One dot."""
        cell = x // ACROSS, y // DOWN
        if 0 <= cell[0] < self.width and 0 <= cell[1] < self.height:
            self._bits[cell] = self._bits.get(cell, 0) | _BITS[y % DOWN][x % ACROSS]
            self._ink[cell] = max(self._ink.get(cell, ink), ink, key=ORDER.index)

    def scatter(self, x: int, y: int, ink: Ink) -> None:
        """One dot, unless something else is drawn in its cell: a field leaves the curves alone."""
        if self._ink.get((x // ACROSS, y // DOWN), ink) == ink:
            self.dot(x, y, ink)

    def way(self, points: Sequence[tuple[int, int]], ink: Ink, *, dotted: bool = False) -> None:
        """Straight lines from point to point; a dotted one leaves every second pair of dots out."""
        for at, (x, y) in enumerate(dots_between(points)):
            if not dotted or at % 4 < 2:
                self.dot(x, y, ink)

    def rows(self) -> tuple[Row, ...]:
        """The field, line by line."""
        return tuple(self._row(y) for y in range(self.height))

    def _row(self, y: int) -> Row:
        cells = ((self._sign(x, y), self._ink.get((x, y), "text")) for x in range(self.width))
        return joined_runs(cells)

    def _sign(self, x: int, y: int) -> str:
        bits = self._bits.get((x, y), 0)
        return chr(_BLANK + bits) if bits else " "


def joined_runs(signs: Iterable[Run]) -> Row:
    """Neighbours of one ink as one piece."""
    return tuple(("".join(sign for sign, _ink in run), ink) for ink, run in groupby(signs, key=lambda one: one[1]))


def dots_between(points: Sequence[tuple[int, int]]) -> Iterable[tuple[int, int]]:
    """Every dot on the way, each once where the way turns."""
    if points:
        yield points[0]
    for (x0, y0), (x1, y1) in pairwise(points):
        steps = max(abs(x1 - x0), abs(y1 - y0))
        for step in range(1, steps + 1):
            yield x0 + round((x1 - x0) * step / steps), y0 + round((y1 - y0) * step / steps)
