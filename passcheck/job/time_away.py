"""How long was a unit away between two visits, and how long has it been here or gone?"""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from passcheck.job.archive_rows import JobRow

RELEASED: Final = "signed off"
_DAY_S: Final = 24 * 60 * 60


@dataclass(frozen=True, slots=True)
class Away:
    """The time between two visits.

    Attributes:
        days: whole days since the unit left, rounded down; None where it never left by the record, or left later.
        in_service: True where it left released.
        words: one clause.
    """

    days: int | None
    in_service: bool
    words: str


def away_before(last: JobRow, job: JobRow) -> Away:
    """The time between a visit and the next one."""
    if not last.ended:
        return Away(None, False, f"{last.job}, the visit before, has no ending on record")
    days, released = _days(last.ended_at, datetime.fromisoformat(job.opened_at)), last.ended == RELEASED
    if days is None:
        return Away(None, released, "by the times on record it came back before it left")
    how = "" if released else f"; it had been {last.ended}"
    return Away(days, released, f"back after {days_words(days)}{how}")


def so_far(last: JobRow, now: datetime) -> str:
    """How long the latest visit lasts, or how long ago it ended."""
    ended, at = last.ended, last.ended_at or last.opened_at
    days = _days(at, now)
    if days is None:
        return f"{ended or 'taken in'} on {at[:10]}, which is still to come by this clock"
    return f"{ended} {days_words(days)} ago, not back since" if ended else f"here for {days_words(days)}"


def days_words(days: int) -> str:
    """`41 days`, `1 day`, `less than a day`."""
    return "less than a day" if not days else "1 day" if days == 1 else f"{days} days"


def _days(earlier: str, later: datetime) -> int | None:
    gone = (later - datetime.fromisoformat(earlier)).total_seconds()
    return int(gone // _DAY_S) if gone >= 0 else None
