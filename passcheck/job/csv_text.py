"""How does a table become text that a spreadsheet opens as it was meant, with no cell that acts?

RFC 4180: commas, CR LF, quotes where they are needed. A byte order mark stands in front, because a spreadsheet on
Windows reads a file without one in the machine's own eight-bit alphabet and makes another letter of every Ω and °.

A cell that begins with a sign of a formula is run by a spreadsheet when it is opened. Such a text gets an apostrophe
in front; numbers are checked to be numbers and stay as they are, `-12.5` too. So a text here may differ from the
record by one apostrophe, by pictures in place of control characters and by its line breaks; the JSON export doesn't.
"""

import csv
import io
import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from passcheck.sequence.show_text import show_text

BYTE_ORDER_MARK = "\ufeff"
LONGEST_CELL = 32_000
"""Characters; common spreadsheets cut a cell at 32,767."""
LINE_BREAK = " / "

_BREAKS = re.compile(r"\r\n|[\n\r\v\f\x85\u2028\u2029]")
_NUMBER = re.compile(r"-?[0-9]{1,30}(\.[0-9]{1,30})?", re.ASCII)
_FORMULA = frozenset("=+-@|%")
_AFTER_SEMICOLON = re.compile(r"(;\s*)(\S)")


@dataclass(frozen=True, slots=True)
class Head:
    """A column: what its first line says, and whether every cell below is a number or blank."""

    words: str
    number: bool = False


def csv_text(heads: Sequence[Head], rows: Iterable[Sequence[str]]) -> str:
    """The whole file; a number that is none is written as a text, so that it can't act either."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([head.words for head in heads])
    for row in rows:
        writer.writerow([_cell(head, text) for head, text in zip(heads, row, strict=True)])
    return BYTE_ORDER_MARK + out.getvalue()


def _cell(head: Head, text: str) -> str:
    return text if head.number and _NUMBER.fullmatch(text) else text_cell(text)


def text_cell(text: str) -> str:
    """One line that can be shown and that no spreadsheet takes for a formula."""
    line = LINE_BREAK.join(_BREAKS.split(text))
    # Where a comma is the decimal sign, spreadsheets split at semicolons, and a cell may begin behind each of them.
    line = _AFTER_SEMICOLON.sub(lambda found: found[1] + _guard(found[2]) + found[2], line)
    return _guard(_first_seen(text)) + show_text(line, LONGEST_CELL)


def _guard(character: str) -> str:
    """An apostrophe before a sign that begins a formula, its full-width and other forms among them."""
    plain = unicodedata.normalize("NFKC", character)[:1]
    return "'" if plain in _FORMULA else ""


def _first_seen(text: str) -> str:
    """The first character that a spreadsheet sees after dropping what is blank or invisible."""
    return next((one for one in text if not _is_blank(one)), "")


def _is_blank(character: str) -> bool:
    return character.isspace() or unicodedata.category(character) in ("Cc", "Cf", "Zs", "Zl", "Zp")
