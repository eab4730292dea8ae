"""How is a text kept to the room that it has on a page?

Room is counted in characters of ordinary width, so that a page's bound holds in any script: a wide character or a
capital takes two, a line break the rest of its line, and one that is written out in brackets as many as it then has.
"""

import unicodedata
from collections.abc import Iterable
from typing import Final

from passcheck.sequence.show_text import CUT, show_text

LINE: Final = 90
"""About so many characters stand on a line of a page."""
MORE: Final = "see the test record"
_WIDE: Final = "@%mw\N{EM DASH}\N{HORIZONTAL ELLIPSIS}"


def room(text: str) -> int:
    """How many ordinary characters the text takes the place of."""
    return sum(map(_room, text))


def cut(text: str, most: int) -> str:
    """The text where it has room, else what has room of it, with a sign that more was there."""
    whole = text.strip()
    if room(whole) <= most:
        return whole
    kept, left = [], most - room(CUT)
    for character in whole:
        left -= _room(character)
        if left < 0:
            break
        kept.append(character)
    return "".join(kept).rstrip() + CUT


def listed(texts: Iterable[str], most: int, room_for: int, more: str = MORE) -> str:
    """`a, b, c`, and where more than so many or than have room are there `a, b and 7 more, see the test record`."""
    every = tuple(dict.fromkeys(text.strip() for text in texts if text.strip()))
    for count in range(min(most, len(every)), 0, -1):
        words = ", ".join(every[:count]) + left_out(len(every) - count, more)
        if room(words) <= room_for:
            return words
    rest = left_out(len(every) - 1, more)
    return cut(every[0], room_for - room(rest)) + rest if every else ""


def left_out(count: int, more: str = MORE) -> str:
    """What is said where a list was cut short; "" where it wasn't."""
    where = f", {more}" if more else ""
    return f" and {count} more{where}" if count else ""


def _room(character: str) -> int:
    if character in "\n\r\v\f\u2028\u2029":
        return LINE
    wide = character.isupper() or character in _WIDE or unicodedata.east_asian_width(character) in ("W", "F")
    return 2 if wide else len(show_text(character))
