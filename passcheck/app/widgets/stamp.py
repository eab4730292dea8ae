"""How does a stamp look in its box: word, figure, initials, and what struck it?

The look never rests on colour: a pass stands in a frame, a fail is printed as a block, a doubt between dotted lines, a
struck stamp is struck through and says by what; a blank box holds dashes.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from rich.cells import cell_len, set_cell_size

from passcheck.job.traveller import BLANK, Stamp
from passcheck.sequence.show_text import CUT, show_text

Piece = tuple[str, str]
"""Text and the name of its ink, a component class of the card without the prefix."""
INKS = {"PASS": "pass", "FAIL": "fail", "DOUBT": "doubt", "NOT MEASURED": "unmeasured", BLANK: "blank"}
FRAMES = {"pass": ("▌", "▐"), "doubt": ("┊", "┊"), "unmeasured": ("(", ")")}


@dataclass(frozen=True, slots=True)
class Box:
    """A box of the card, drawn: its lines, each a list of pieces exactly as wide as the box."""

    lines: tuple[tuple[Piece, ...], ...]


def box(stamp: Stamp | None, width: int) -> Box:
    """Draw one box; None is a box that this column doesn't have."""
    if stamp is None:
        return Box(((("·".center(width), "none"),),))
    if stamp.word == BLANK:
        return Box((((BLANK.center(width), "blank"),),))
    ink = "struck" if stamp.struck_by else INKS.get(stamp.word, "unmeasured")
    rows = [_row(text, ink, width) for text in _wrapped((stamp.word, stamp.value, stamp.initials), width - 2)]
    below = stamp.struck_by or (f"{stamp.question} repeats" if stamp.question else "")
    if below:
        words = f"struck: {below}" if stamp.struck_by and len(f" struck: {below}") <= width else below
        rows.extend(((fit(f" {text}", width), "why"),) for text in _wrapped((words,), width - 1))
    return Box(tuple(rows))


def fit(text: str, width: int) -> str:
    """The text in exactly so many cells, cut with a sign where it is longer."""
    shown = show_text(text)
    if cell_len(shown) <= width:
        return set_cell_size(shown, width)
    return set_cell_size(shown, max(width - 1, 0)) + CUT if width else ""


def _row(text: str, ink: str, width: int) -> tuple[Piece, ...]:
    left, right = FRAMES.get(ink, (" ", " "))
    inner = fit(text, min(cell_len(text), width - 2))
    rest = width - 2 - cell_len(inner)
    return ((left + inner + right, ink), (" " * rest, "paper"))


def _wrapped(texts: tuple[str, ...], width: int) -> Iterator[str]:
    """The texts on as few lines as they need; one that is too long for a line is parted between its words only."""
    held = ""
    for text in filter(None, map(show_text, texts)):
        for word in [text] if cell_len(text) <= width else text.split():
            joined = f"{held} {word}" if held else word
            if held and cell_len(joined) > width:
                yield held
                held = word
            else:
                held = joined
    if held:
        yield held
