"""How does a reading that was written down on paper come into the record?

The key is named here because the bench has it and a paper tells of it.
"""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Final

from passcheck.job.archived_time import utc_of
from passcheck.job.judging import is_derived
from passcheck.job.moment import Moment
from passcheck.job.settings import BenchSettings
from passcheck.sequence.model import ReadingStep, Step

LATE_ID: Final = "bench.late"
LATE_KEY: Final = "ctrl+s"


def late_key(settings: BenchSettings) -> str:
    """The key as it is written on a keyboard, a user's own where bench.yaml has one: `Ctrl+S`."""
    return "+".join(part.capitalize() for part in settings.keys.get(LATE_ID, LATE_KEY).split("+"))


def can_be_late(step: Step) -> bool:
    """May it be typed in after it was read? A plain reading may; taps, looks and what is worked out may not."""
    return isinstance(step, ReadingStep) and not is_derived(step)


def day_read(measured_at: str | None, entered: Moment) -> date:
    """The day by the bench's clock on the wall on which a try was read: a late entry's own, else that of its entry."""
    return replace(entered, utc=utc_of(measured_at, entered.utc)).local().date()


def when_measured(text: str, now: Moment) -> str | None:
    """The time in UTC as an attempt keeps it; None where the text is none.

    `14:10` is the latest such time by the bench's clock on the wall; `2031-04-02 14:10` is that day's.
    """
    written = text.strip()
    try:
        clock = datetime.strptime(written, "%H:%M").time()  # noqa: DTZ007 - the bench's own time, made UTC below
    except ValueError:
        return _dated(written, now)
    today = datetime.combine(now.local().date(), clock)
    local = today if today <= now.local() else today - timedelta(days=1)
    return _utc(local, now)


def _dated(written: str, now: Moment) -> str | None:
    try:
        local = datetime.fromisoformat(written)
        return _utc(local, now) if local.tzinfo is None else local.astimezone(UTC).isoformat(timespec="seconds")
    except (ValueError, OverflowError):
        return None


def _utc(local: datetime, now: Moment) -> str:
    return (local - timedelta(minutes=now.offset_min)).replace(tzinfo=UTC).isoformat(timespec="seconds")
