"""Does the ledger still begin with what somebody outside the bench noted of it?

A ledger is only added to, so whatever it once was it begins with for ever; where a damaged one was closed, that one is
kept as it was, and may be the one that was noted. Its head is a number of bytes and their
SHA-256; papers bear the first eight digits. Whoever kept one can ask, and a ledger that was cut, put back to an older
state or written anew can't answer. Eight digits stand against an editor and against chance. Whoever has a machine try
some four thousand million ledgers finds one that fits them, so where that matters more digits are noted.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from passcheck.records.agreement import LedgerRead, Prefixes, line_at
from passcheck.records.journal_file import State

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
    """How many of its first bytes, or of a closed ledger's, are the ones that were noted; None when none are."""
    sentence: str


def read_noted_head(text: str) -> NotedHead:
    """Take `2381:5f3a9c01`, or `5f3a9c01` alone, apart. Raises ValueError for any other text."""
    found = _FORM.fullmatch(text.strip().lower())
    if found is None:
        raise ValueError("a noted head is 8 to 64 hexadecimal digits, with the number of bytes and a colon before them")
    return NotedHead(found["digits"], int(found["bytes"]) if found["bytes"] is not None else None)


def ask_ledgers(ledgers: Sequence[LedgerRead], head: NotedHead) -> Asked:
    """Whether one of the ledgers once was what was noted.

    Args:
        ledgers: those that were closed, the oldest first, then the present one; none before the first job.
        head: what was noted.
    """
    now = ledgers[-1].data if ledgers else b""
    if (size := _held(now, head)) is not None:
        where = f"up to line {line_at(now, size)}" if size else "none, as before the first job"
        return Asked(head, size, f"It holds the noted head {head}: its first {size} bytes, {where}.")
    for one in ledgers[:-1]:
        if (size := _held(one.data, head)) is not None:
            where = f"the first {size} bytes of {one.name}, up to line {line_at(one.data, size)}"
            return Asked(head, size, f"The ledger that was closed before it holds the noted head {head}: {where}.")
    return Asked(head, None, _gone(ledgers, head))


def _held(data: bytes, head: NotedHead) -> int | None:
    """How many of a ledger's first bytes are the ones that were noted."""
    prefixes = Prefixes(data)
    for size in _ends(data) if head.size is None else (head.size,):
        digest = prefixes.digest(size)
        if digest is not None and digest.startswith(head.digits):
            return size
    return None


def _gone(ledgers: Sequence[LedgerRead], head: NotedHead) -> str:
    closed = ledgers[:-1]
    which = f"Neither it nor {' or '.join(one.name for one in closed)} holds" if closed else "It does not hold"
    most = max((len(one.data) for one in ledgers), default=0)
    fewer = head.size is not None and head.size > most
    has = f"none has more than {most} bytes" if closed else f"it has only {most} bytes"
    damaged = [one.name for one in closed if one.file.state is not State.WHOLE]
    lost = f", or what was noted is what was damaged in {' or '.join(damaged)}" if damaged else ""
    return (
        f"{which} the noted head {head}: {has if fewer else 'it never was what somebody noted'}. It was cut, put back "
        f"to an older state or written anew since, or the note is another bench's{lost}. Look for the ledger in a "
        "backup."
    )


def _ends(data: bytes) -> Iterator[int]:
    """Every size at which the ledger may have been looked at: the end of a line, with its line feed or lacking it."""
    yield 0
    feed = data.find(b"\n")
    while feed >= 0:
        yield from (feed, feed + 1)
        feed = data.find(b"\n", feed + 1)
    yield len(data)
