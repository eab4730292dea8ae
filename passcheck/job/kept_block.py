"""Which reference trials of today does the bench keep, for a person's later runs?

A block holds for one person, on one terminal, for the day; five trials check it before it is used again.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from passcheck.job.answers import HowStamped
from passcheck.job.events import ReferencePair
from passcheck.judge.reference import serves


@dataclass(frozen=True, slots=True)
class KeptBlock:
    """A block as it was tapped: `at` is when, as the records write a moment; `day` as year-month-day."""

    person: str
    day: str
    at: str
    terminal: str
    middle_s: str
    trials: tuple[ReferencePair, ...]
    how: HowStamped


def block_of_the_day(
    kept: Sequence[KeptBlock], person: str, day: date, terminal: str, *limits_s: float
) -> KeptBlock | None:
    """The latest block of this person today, at this terminal, with all these limits among its delays."""
    for block in reversed(kept):
        mine = block.person == person and block.day == day.isoformat() and block.terminal == terminal
        if mine and all(serves(float(block.middle_s), limit_s) for limit_s in limits_s):
            return block
    return None
