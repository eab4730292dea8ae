"""When did something happen, by clocks that a person can't set back unnoticed?"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

ABSENCE: Final = timedelta(minutes=15)
"""From here on nobody is taken to have stayed at the bench."""
_ABSENCE_MS: Final = ABSENCE // timedelta(milliseconds=1)


@dataclass(frozen=True, slots=True)
class Moment:
    """One instant as the bench saw it.

    Attributes:
        utc: wall-clock time, timezone-aware, in UTC.
        offset_min: the bench's local offset from UTC, in minutes, for showing.
        boottime_ms: milliseconds since the machine started, counting suspend; it can't be set back.
        boot_id: names the start of the machine that `boottime_ms` counts from.
    """

    utc: datetime
    offset_min: int
    boottime_ms: int
    boot_id: str

    def since(self, earlier: "Moment") -> timedelta | None:
        """Time passed since an earlier moment, or None when the machine was restarted: no clock bridges that."""
        if self.boot_id != earlier.boot_id:
            return None
        return timedelta(milliseconds=self.boottime_ms - earlier.boottime_ms)

    def absent_since(self, earlier: "Moment") -> bool:
        """True where nobody can be taken to have stayed at the bench since then: too long, or nobody knows how long."""
        return self.boot_id != earlier.boot_id or self.boottime_ms - earlier.boottime_ms >= _ABSENCE_MS

    def local(self) -> datetime:
        """The wall-clock time as the bench's own clock on the wall shows it (no time zone attached)."""
        return (self.utc + timedelta(minutes=self.offset_min)).replace(tzinfo=None)


@dataclass(frozen=True, slots=True)
class Measured:
    """Time that was measured since a job began: it never goes back and counts nothing twice.

    The clock of one start of the machine bridges suspend and a program that was closed; nothing bridges a new start,
    so the time between is left out and counted as a gap.

    Attributes:
        at_ms, boot_id: the latest reading of the clock that was seen.
        total_ms: measured so far.
        gaps: how many times the machine was started anew.
    """

    at_ms: int
    boot_id: str
    total_ms: int = 0
    gaps: int = 0

    def on(self, moment: Moment) -> "Measured":
        """The same after one more event."""
        if moment.boot_id != self.boot_id:
            return Measured(moment.boottime_ms, moment.boot_id, self.total_ms, self.gaps + 1)
        gone = max(0, moment.boottime_ms - self.at_ms)  # make safe is stamped at its key: it may overtake an event
        return Measured(self.at_ms + gone, self.boot_id, self.total_ms + gone, self.gaps)
