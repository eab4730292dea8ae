"""How is text that came from a file or a person shown without anything in it acting on the screen?

Records keep such text exactly as it came; every exit (screen, terminal, CSV, paper) passes through `show_text`. What
comes out is one line of printable characters: no control byte reaches a terminal, no invisible or direction-changing
code point can make a line read as something else, no pile of accents can cover its neighbours.
"""

import unicodedata

MARKS_SHOWN = 3  # more combining marks than any written language stacks on one letter
CUT = "…"

# Code points that take up room or change shape without a visible form, though Unicode counts them as letters,
# symbols or marks: fillers, the blank braille cell, joiners and variation selectors.
_FILLERS = (0x034F, 0x115F, 0x1160, 0x17B4, 0x17B5, 0x180B, 0x180C, 0x180D, 0x180F, 0x2800, 0x3164, 0xFFA0)
_UNSEEN = frozenset({*_FILLERS, *range(0xFE00, 0xFE10), *range(0xE0100, 0xE01F0)})


def show_text(text: str, limit: int = 2000) -> str:
    """One line of printable characters that shows all that `text` holds, at most `limit` characters long.

    Control characters become their pictures (a line feed becomes U+240A), so text of several lines is split before it
    comes here. Invisible and direction-changing code points are written out as `<202E>`, other blanks become a space,
    a fourth and further combining mark becomes one `…`, and so does what the limit cuts off.
    """
    if len(text) <= limit and text.isascii() and text.isprintable():
        return text
    shown: list[str] = []
    room, marks = limit, 0
    for character in text:
        marks = marks + 1 if unicodedata.combining(character) or unicodedata.category(character) == "Me" else 0
        if marks > MARKS_SHOWN + 1:
            continue
        piece = CUT if marks == MARKS_SHOWN + 1 else _piece(character)
        room -= len(piece)
        shown.append(piece)
        if room < 0:
            return _cut("".join(shown), limit)
    return "".join(shown)


def _piece(character: str) -> str:
    """What one character becomes."""
    code = ord(character)
    if code < 0x20:
        return chr(0x2400 + code)
    if code == 0x7F:
        return "\N{SYMBOL FOR DELETE}"
    if code in _UNSEEN:
        return f"<{code:04X}>"
    if character.isprintable():
        return character
    return " " if unicodedata.category(character) == "Zs" else f"<{code:04X}>"


def _cut(shown: str, limit: int) -> str:
    """The first `limit` characters, the last of them a sign that more was there."""
    return shown[: max(limit - 1, 0)] + CUT if limit > 0 else ""
