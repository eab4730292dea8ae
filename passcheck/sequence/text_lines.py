"""How is text from a file or a person laid out in lines that are no wider than so many cells?"""

from collections.abc import Iterator

from passcheck.sequence.faults import cells
from passcheck.sequence.show_text import show_text

LONGEST = 20_000


def text_lines(text: str, width: int) -> tuple[str, ...]:
    """The text, cleaned, its own line breaks kept; a word that is wider than a line is parted. One line at least."""
    return tuple(line for own in text[:LONGEST].split("\n") for line in _folded(show_text(own, LONGEST), width)) or (
        "",
    )


def _folded(line: str, width: int) -> Iterator[str]:
    held = ""
    for word in line.split(" "):
        for piece in _parted(word, max(width, 2)):
            longer = f"{held} {piece}" if held else piece
            if held and cells(longer) > width:
                yield held
                held = piece
            else:
                held = longer
    yield held


def _parted(word: str, width: int) -> Iterator[str]:
    held = ""
    for sign in word:
        if held and cells(held + sign) > width:
            yield held
            held = ""
        held += sign
    yield held
