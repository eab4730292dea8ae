"""Does the ledger still begin with what somebody outside the bench noted of it?

A ledger is only added to, so whatever it once was it begins with for ever. Its head is a number of bytes and their
SHA-256; papers bear the first eight digits. Whoever kept one can ask, and a ledger that was cut, put back to an older
state or written anew can't answer. Eight digits stand against an editor and against chance. Whoever has a machine try
some four thousand million ledgers finds one that fits them, so where that matters more digits are noted.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from passcheck.records.agreement import Prefixes, line_at

_FORM = re.compile(r"(?:(?P<bytes>\d{1,15}):)?(?P<digits>[0-9a-f]{8,64})", re.ASCII)


@dataclass(frozen=True, slots=True)
class NotedHead:
    """What was noted of a ledger."""

    digits: str
    """The first of its SHA-256 in hexadecimal, eight or more."""
    size: int | None = None
    """How many bytes it had; None where only the digits were noted."""

    def __str__(self) -> str:
        return self.digits if self.size is None else f"{self.size}:{self.digits}"


@dataclass(frozen=True, slots=True)
class Asked:
    """The answer for one noted head."""

    head: NotedHead
    size: int | None
    """How many of the ledger's first bytes are the ones that were noted; None when none are."""
    sentence: str


def read_noted_head(text: str) -> NotedHead:
    """Take `2381:5f3a9c01`, or `5f3a9c01` alone, apart. Raises ValueError for any other text."""
    found = _FORM.fullmatch(text.strip().lower())
    if found is None:
        raise ValueError("a noted head is 8 to 64 hexadecimal digits, with the number of bytes and a colon before them")
    return NotedHead(found["digits"], int(found["bytes"]) if found["bytes"] is not None else None)


def ask_ledger(data: bytes, head: NotedHead) -> Asked:
    """Whether a ledger of these bytes once was what was noted."""
    prefixes = Prefixes(data)
    for size in _ends(data) if head.size is None else (head.size,):
        digest = prefixes.digest(size)
        if digest is not None and digest.startswith(head.digits):
            where = f"up to line {line_at(data, size)}" if size else "none, as before the first job"
            return Asked(head, size, f"It holds the noted head {head}: its first {size} bytes, {where}.")
    fewer = head.size is not None and head.size > len(data)
    why = f"it has only {len(data)} bytes" if fewer else "it never was what somebody noted"
    return Asked(
        head,
        None,
        f"It does not hold the noted head {head}: {why}. It was cut, put back to an older state or written anew since, "
        "or the note is another bench's. Look for the ledger in a backup.",
    )


def _ends(data: bytes) -> Iterator[int]:
    """Every size at which the ledger may have been looked at: the end of a line, with its line feed or lacking it."""
    yield 0
    feed = data.find(b"\n")
    while feed >= 0:
        yield from (feed, feed + 1)
        feed = data.find(b"\n", feed + 1)
    yield len(data)
