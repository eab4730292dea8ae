"""What is one line of a job's journal, before anyone knows what it means?"""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    """One event as the journal keeps it; `job.events` gives `event` and `data` their meaning.

    `data` holds JSON values only: text, whole numbers below 2^53, true, false, None, lists and mappings with ASCII
    names. A fraction travels as the decimal string that was read, never as a float: encoders differ on floats, and a
    journal has to have the same bytes in every program that writes it again.
    """

    number: int
    """Counts from 0 in each file, without a gap."""
    at: str
    """UTC with milliseconds, `2031-04-02T09:14:03.512Z`."""
    by: str
    """The person's key in the bench settings; `passcheck` where the records speak for themselves."""
    clock: int
    """Milliseconds of the clock that keeps running while the bench sleeps; comparable within one boot only."""
    event: str
    """The event's tag, in the past tense: `rework logged`."""
    data: Mapping[str, object]
