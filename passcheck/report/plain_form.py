"""How do the lines and boxes for a pen stand in plain text?"""

from collections.abc import Iterable, Iterator
from typing import Final

from passcheck.report.document import Box, Said
from passcheck.report.fill import filled, padded
from passcheck.report.shown import shown
from passcheck.sequence.faults import cells
from passcheck.sequence.show_text import show_text

GAP: Final = 2
LEAST: Final = 8
"""So many characters of room for a pen there are at least."""


def lines_to_write(fields: tuple[tuple[str, float], ...], width: int) -> tuple[str, ...]:
    """Fields side by side as far as a line has room, with an empty line between two lines for the pen."""
    lines = list(_side_by_side((_field(name, share, width) for name, share in fields), width))
    return tuple(line for one in lines for line in (one, ""))[:-1]


def box_lines(items: tuple[Said | Box, ...], width: int) -> tuple[str, ...]:
    """A form's boxes, each behind the words that it is of, or below them where they leave it no room."""
    groups: list[list[str]] = []
    for item in items:
        if not groups or isinstance(item, Said):
            groups.append([])
        groups[-1].append(_item(item, width))
    return tuple(line for group in groups for line in _side_by_side(group, width))


def _side_by_side(pieces: Iterable[str], width: int) -> Iterator[str]:
    line = ""
    for piece in pieces:
        if line and cells(line) + GAP + cells(piece) > width:
            yield line
            line = ""
        if cells(piece) > width:
            yield from filled(piece, width)
        else:
            line = f"{line}{' ' * GAP}{piece}" if line else piece
    if line:
        yield line


def _item(item: Said | Box, width: int) -> str:
    if isinstance(item, Box):
        return _field(item.name, item.share, width)
    words = shown(item.text).replace("\n", " ")
    return padded(words, max(_room(item.share, width), cells(words)))


def _field(name: str, share: float, width: int) -> str:
    """A line for a pen after its name."""
    said = f"{show_text(name, width)}: " if name else ""
    return said + "_" * max(_room(share, width) - cells(said), LEAST)


def _room(share: float, width: int) -> int:
    return int(min(share, 1.0) * (width + GAP)) - GAP
