"""Where do the dates of a file's lines go back, so that the bench's clock must have been set?

Lines are written one after another. A clock is set back for honest reasons too, and records prove an order and not a
date; so this is told, and takes nothing from the records. A clock that was set back by less than the time since the
line above leaves nothing to see.
"""

import re
from collections.abc import Iterator
from datetime import datetime, timedelta

TOLERANCE = timedelta(seconds=1)
"""A person's line bears the moment of the key, the records' own that of the writing; a time server nudges by less."""
SENTENCES = 5
"""Two machines on one folder, a minute apart, would make one of every other line."""

_AT = re.compile(rb'\{"#":\d+,"at":"(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z)",')


def set_back(name: str, data: bytes) -> tuple[str, ...]:
    """A sentence for each line that is dated before the line above it, the first few of them.

    Args:
        name: the file's, as the sentences begin.
        data: a journal or the ledger, every byte of it; lines that are none are passed over.
    """
    found = list(_backwards(data))
    told = [
        f"{name}, line {number}: it is dated {_span(back)} before the line above it. The bench's clock was set "
        "in between: ask why, and don't go by the dates around it."
        for number, back in found[:SENTENCES]
    ]
    if len(found) > SENTENCES:
        told.append(f"{name}: {len(found) - SENTENCES} more of its lines are dated before the line above them.")
    return tuple(told)


def _backwards(data: bytes) -> Iterator[tuple[int, timedelta]]:
    """The lines, counted from 1 as editors do, and by how much each goes back."""
    before = b""
    for number, text in enumerate(data.split(b"\n"), start=1):
        begin = _AT.match(text)
        if begin is None:
            continue
        # All have one form, so they sort as the moments do; only where they don't is one worked out.
        if begin[1] < before:
            back = _between(begin[1], before)
            if back > TOLERANCE:
                yield number, back
        before = begin[1]


def _between(earlier: bytes, later: bytes) -> timedelta:
    """Nothing where one of them is no date, as only a line has it that nobody's clock wrote."""
    try:
        return datetime.fromisoformat(later.decode("ascii")) - datetime.fromisoformat(earlier.decode("ascii"))
    except ValueError:
        return timedelta()


def _span(back: timedelta) -> str:
    minutes, seconds = divmod(round(back.total_seconds()), 60)
    hours, minutes = divmod(minutes, 60)
    days, hours = divmod(hours, 24)
    if days:
        return f"{days} d {hours} h"
    if hours:
        return f"{hours} h {minutes} min"
    return f"{minutes} min {seconds} s" if minutes else f"{seconds} s"
