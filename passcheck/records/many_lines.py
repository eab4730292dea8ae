"""How are a hundred thousand lines read in a second, when nothing is wrong with any of them?

What a line is, `line_codec.decode_line` says. Here the same is asked of many lines at once, with a reader of JSON that
is faster and takes more than a journal may hold; what it took too much is found afterwards. The answer is that all of
the lines hold or that somebody has to look at them one by one, which a stretch of a sound journal hardly ever needs.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from pydantic_core import from_json, to_json

from passcheck.job.journal_line import Line
from passcheck.records.line_codec import (
    HASH_END,
    HASH_MEMBER,
    LARGEST_WHOLE,
    LINE_BYTES,
    MAX_DEPTH,
    TAIL,
    Digest,
    line_of,
)

_HARMLESS = frozenset({str, bool, type(None)})


@dataclass(frozen=True, slots=True)
class Decoded:
    """Lines that hold, all of them."""

    lines: list[Line]
    ends: list[int]
    """The byte after each, counted from the first byte of the first."""
    running: Digest
    """Has taken every byte before them and theirs."""


def decode_lines(text: bytes, before: Digest) -> Decoded | None:
    """What `decode_line` makes of each of these lines, one after the other.

    Args:
        text: whole lines, the line feed of each included.
        before: has taken every byte of the file before them, and is left as it is.

    Returns None where there is none, where one of them is no line, and where one may be a line but is as long as only
    those with a sequence may be.
    """
    lines = text.split(b"\n")
    if lines.pop() or not lines:
        return None
    running, bodies, ends, end = before.copy(), [], [], 0
    for line in lines:
        body = line[:-TAIL]
        running.update(body)
        tail = HASH_MEMBER + running.hexdigest().encode() + HASH_END
        if line[-TAIL:] != tail or len(line) >= LINE_BYTES:
            return None
        running.update(tail + b"\n")
        bodies.append(body + b"}")
        ends.append(end := end + len(line) + 1)
    try:
        return Decoded([line_of(members) for members in _values(bodies)], ends, running)
    except (ValueError, RecursionError):
        return None


def _values(texts: Sequence[bytes]) -> Sequence[object]:
    """The values of JSON texts; ValueError where one of them isn't in the one form that a line has.

    Each text is read alone, so each is one value. Blanks, other escapes and doubled names show when all of them are
    written again: where the same bytes come out, each was written as it was read.
    """
    values = [from_json(text, allow_inf_nan=False) for text in texts]
    for value in values:
        _check(value, MAX_DEPTH)
    if to_json(values) != b"[" + b",".join(texts) + b"]":
        raise ValueError("a text is not in its one form")
    return values


def _check(value: object, depth: int) -> None:
    """ValueError for what the reader takes and a line can't hold: `line_codec` gives the reasons."""
    if isinstance(value, (dict, list)):
        if depth == 0:
            raise ValueError("nested too deeply")
        if isinstance(value, dict) and not _in_order(tuple(value)):
            raise ValueError("names out of order, or not ASCII")
        for item in value.values() if isinstance(value, dict) else value:
            if item.__class__ not in _HARMLESS:
                _check(item, depth - 1)
    elif isinstance(value, float) or (isinstance(value, int) and abs(value) > LARGEST_WHOLE):
        raise ValueError("a number that is not whole, or too large")


@lru_cache(maxsize=1024)
def _in_order(names: tuple[str, ...]) -> bool:
    return all(map(str.isascii, names)) and all(map(str.__lt__, names, names[1:]))
