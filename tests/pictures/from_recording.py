"""How does a moment of a recording become a picture?

    .venv/bin/python tests/pictures/from_recording.py RECORDING NAME=WORDS…

Plays an asciicast (`tests/benchmarks/practice_in_tmux.py --record`), packed by xz or not, stops at the last screen of
the first stretch on which the words stand, and draws its cells; `NAME=WORDS@3` takes the third stretch. Needs pyte,
chromium and Fira Code.
"""

import json
import lzma
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from xml.sax.saxutils import escape

import pyte
from drawn import HERE, as_png, browser

CELL_W, CELL_H, SIZE_PX = 12.2, 24.4, 20
MARGIN = 8
HARD_SPACE = "\N{NO-BREAK SPACE}"  # a browser makes one of several blanks
PAPER, INK = "#1e1e1e", "#d8d8d8"
NAMED = {
    "black": "#000000",
    "red": "#cd3131",
    "green": "#0dbc79",
    "brown": "#e5e510",
    "blue": "#2472c8",
    "magenta": "#bc3fbc",
    "cyan": "#11a8cd",
    "white": "#e5e5e5",
}
Line = tuple[pyte.screens.Char, ...]


@dataclass(frozen=True, slots=True)
class Moment:
    """A picture's name, the words that have to stand on the screen, and which stretch of screens with them."""

    name: str
    words: str
    nth: int

    @classmethod
    def of(cls, text: str) -> "Moment":
        """From `NAME=WORDS` or `NAME=WORDS@N`."""
        name, _, words = text.partition("=")
        wanted, at, nth = words.rpartition("@")
        return cls(name, wanted, int(nth)) if at and nth.isdigit() else cls(name, words, 1)


def screens(recording: Path) -> Iterator[pyte.Screen]:
    """The screen after each change."""
    kept = recording.read_bytes()
    text = lzma.decompress(kept) if recording.suffix == ".xz" else kept
    head, *changes = text.decode("utf-8").splitlines()
    size = json.loads(head)
    screen = pyte.Screen(size["width"], size["height"])
    screen.reset_mode(pyte.modes.DECAWM)  # a full last row must not scroll
    stream = pyte.Stream(screen)
    for change in changes:
        _at_s, kind, drawn = json.loads(change)
        if kind == "o":
            stream.feed(drawn)
            yield screen


def lines_at(recording: Path, moment: Moment) -> list[Line]:
    """The cells of the moment.

    Raises:
        SystemExit: the words never stand there as often.
    """
    kept: list[Line] = []
    stretch, inside = 0, False
    for screen in screens(recording):
        there = moment.words in "\n".join(screen.display)
        if there and not inside:
            stretch += 1
        if there and stretch == moment.nth:
            kept = [
                tuple(screen.buffer[row][column] for column in range(screen.columns)) for row in range(screen.lines)
            ]
        elif kept:
            return kept
        inside = there
    if not kept:
        raise SystemExit(f"'{moment.words}' doesn't stand on the screen {moment.nth} time(s) in {recording}")
    return kept


def colour(name: str, default: str) -> str:
    """A cell's colour as CSS has it."""
    if name == "default":
        return default
    return NAMED.get(name.removeprefix("bright"), f"#{name}")


def drawing(lines: list[Line]) -> str:
    """The screen as SVG: a rectangle a run of one background, a text a run of one style, each cell at its place."""
    width, height = len(lines[0]) * CELL_W + 2 * MARGIN, len(lines) * CELL_H + 2 * MARGIN
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}" '
        f'font-family="Fira Code" font-size="{SIZE_PX}" font-variant-ligatures="none" xml:space="preserve">',
        f'<rect width="100%" height="100%" fill="{PAPER}"/>',
    ]
    for row, line in enumerate(lines):
        parts += _backgrounds(row, line)
        parts += _texts(row, line)
    return "\n".join([*parts, "</svg>"])


def _ink_and_paper(cell: pyte.screens.Char) -> tuple[str, str]:
    ink, paper = colour(cell.fg, INK), colour(cell.bg, PAPER)
    return (paper, ink) if cell.reverse else (ink, paper)


def _backgrounds(row: int, line: Line) -> Iterator[str]:
    first = 0
    for column in range(1, len(line) + 1):
        paper = _ink_and_paper(line[first])[1]
        if column < len(line) and _ink_and_paper(line[column])[1] == paper:
            continue
        if paper != PAPER:
            x, y = MARGIN + first * CELL_W, MARGIN + row * CELL_H
            wide, high = (column - first) * CELL_W + 0.4, CELL_H + 0.4  # no hair of the paper between two
            place = f'x="{x:.1f}" y="{y:.1f}" width="{wide:.1f}" height="{high:.1f}"'
            yield f'<rect {place} fill="{paper}" shape-rendering="crispEdges"/>'
        first = column


def _texts(row: int, line: Line) -> Iterator[str]:
    base = MARGIN + row * CELL_H + CELL_H * 0.76
    first = 0
    for column in range(1, len(line) + 1):
        if column < len(line) and _style(line[column]) == _style(line[first]):
            continue
        run = "".join(cell.data or " " for cell in line[first:column])
        if run.strip():
            left = len(run) - len(run.lstrip(" "))
            places = " ".join(f"{MARGIN + (first + left + nth) * CELL_W:.1f}" for nth in range(len(run.strip(" "))))
            ink, _paper, weight, slant, line_through = _style(line[first])
            extra = f' font-weight="{weight}"{slant}{line_through}'
            said = escape(run.strip(" ").replace(" ", HARD_SPACE))
            yield f'<text x="{places}" y="{base:.1f}" fill="{ink}"{extra}>{said}</text>'
        first = column


def _style(cell: pyte.screens.Char) -> tuple[str, str, str, str, str]:
    ink, paper = _ink_and_paper(cell)
    slant = ' font-style="italic"' if cell.italics else ""
    through = ' text-decoration="line-through"' if cell.strikethrough else ""
    under = ' text-decoration="underline"' if cell.underscore and not cell.strikethrough else ""
    return ink, paper, "700" if cell.bold else "400", slant, through + under


def main() -> None:
    """Draw what was asked for beside this file."""
    drawn_by = browser()
    recording, *moments = sys.argv[1:]
    with tempfile.TemporaryDirectory() as folder:
        for moment in map(Moment.of, moments):
            file = Path(folder) / f"{moment.name}.svg"
            file.write_text(drawing(lines_at(Path(recording), moment)), encoding="utf-8")
            as_png(file, HERE / f"{moment.name}.png", drawn_by)
            print(f"tests/pictures/{moment.name}.png")


if __name__ == "__main__":
    main()
