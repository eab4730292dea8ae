"""How is a text broken into lines of so many terminal cells?"""

import re
from collections.abc import Iterator
from typing import Final

from passcheck.sequence.faults import cells

_TOGETHER: Final = re.compile(
    r"\S*(?:± )?[-−]?\d[\d.,]* (?:°C|%|[kMGmµnp]?(?:Vpp|V|A|Ω|W|Hz|F|s|J|H|m|K)|min|h|d)(?!\w)\S*|\S+"
)
"""A number with its unit is one word, where a line has room for it."""


def filled(text: str, width: int) -> tuple[str, ...]:
    """The text in lines that are no wider than that, at least one; words stay whole where they fit on a line."""
    return tuple(line for one in text.split("\n") for line in _filled(one, max(width, 2)))


def padded(text: str, width: int, *, right: bool = False) -> str:
    """The text in a field of that width."""
    gap = " " * (width - cells(text))
    return f"{gap}{text}" if right else f"{text}{gap}"


def _filled(text: str, width: int) -> Iterator[str]:
    line = ""
    for word in _words(text, width):
        longer = f"{line} {word}" if line else word
        if cells(longer) <= width:
            line = longer
            continue
        if line:
            yield line
        *whole, line = _cut(word, width)
        yield from whole
    yield line


def _words(text: str, width: int) -> Iterator[str]:
    for word in _TOGETHER.findall(text):
        yield from (word,) if cells(word) <= width else word.split()


def _cut(word: str, width: int) -> Iterator[str]:
    """A word in pieces that fit; a mark stays with its letter."""
    piece, taken = "", 0
    for character in word:
        wide = cells(character)
        if taken + wide > width:
            yield piece
            piece, taken = "", 0
        piece += character
        taken += wide
    yield piece
