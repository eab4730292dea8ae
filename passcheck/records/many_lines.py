"""How are a hundred thousand lines read in a second, when nothing is wrong with any of them?

What a line is, `line_codec.decode_line` says. Here the same is asked of many lines at once, with a faster reader of
JSON (`json_values.py`). The answer is that all of the lines hold or that somebody has to look at them one by one, which
a stretch of a sound journal hardly ever needs.
"""

from dataclasses import dataclass

from passcheck.job.journal_line import Line
from passcheck.records.json_values import values, values_vouched_for
from passcheck.records.line_codec import HASH_END, HASH_MEMBER, LINE_BYTES, TAIL, Digest, line_of


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
        return Decoded([line_of(members) for members in values(bodies)], ends, running)
    except (ValueError, RecursionError):
        return None


def lines_vouched_for(data: bytes) -> tuple[Line, ...] | None:
    """The lines of a whole journal whose every byte somebody vouches for, so that no hash is looked at.

    None where one of them is no line, as a crash leaves it and a `mended` line names it.
    """
    texts = [line[:-TAIL] + b"}" for line in data.split(b"\n")[:-1]]
    try:
        lines = tuple(map(line_of, values_vouched_for(texts)))
    except (ValueError, RecursionError):
        return None
    return lines if [line.number for line in lines] == list(range(len(lines))) else None
