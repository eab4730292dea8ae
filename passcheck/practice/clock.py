"""What time is it where time may be made to go by?

`SteppedClock` stands still until it is moved, for a robot; `ForwardClock` goes with the clock it is given and can be
put ahead of it, for a person who won't wait for a soak. Neither goes back: what was stamped stays in order.
"""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final

from passcheck.bench.ports import Clock
from passcheck.errors import OurBug
from passcheck.job.moment import Moment

_MS: Final = timedelta(milliseconds=1)
UP_FOR_MS: Final = 1_000_000
"""How long the simulated machine has been up when its clock begins."""


class SteppedClock:
    """A simulated bench's clocks, of wall and machine; both stand still until they are moved."""

    def __init__(self, start: datetime, offset_min: int = 0) -> None:
        """Begin at a moment of wall time, timezone-aware in UTC; `offset_min` is the bench's offset, for showing."""
        self._utc = start
        self._offset_min = offset_min
        self._boottime_ms = UP_FOR_MS
        self._boots = 1

    def __call__(self) -> Moment:
        """The present moment."""
        return Moment(self._utc, self._offset_min, self._boottime_ms, f"boot-{self._boots}")

    def pass_time(self, *, hours: float = 0, minutes: float = 0, seconds: float = 0) -> None:
        """Let time go by on every clock, to the nearest millisecond."""
        gone_ms = _whole_ms(hours, minutes, seconds)
        self._utc += gone_ms * _MS
        self._boottime_ms += gone_ms


class ForwardClock:
    """Another clock, put ahead of itself by all the time that was let go by; wall and machine stay together."""

    def __init__(self, clock: Clock) -> None:
        """Go with `clock`, ahead by nothing yet."""
        self._clock = clock
        self._ahead_ms = 0

    def __call__(self) -> Moment:
        """The present moment."""
        now = self._clock()
        return replace(now, utc=now.utc + self._ahead_ms * _MS, boottime_ms=now.boottime_ms + self._ahead_ms)

    def pass_time(self, *, hours: float = 0, minutes: float = 0, seconds: float = 0) -> None:
        """Let time go by at once, to the nearest millisecond."""
        self._ahead_ms += _whole_ms(hours, minutes, seconds)


def _whole_ms(hours: float, minutes: float, seconds: float) -> int:
    """Rounded once for both clocks, so that they don't drift apart over a thousand steps."""
    gone_ms = round(timedelta(hours=hours, minutes=minutes, seconds=seconds) / _MS)
    if gone_ms < 0:
        raise OurBug(f"a clock of practice was to go back by {-gone_ms} ms; time only goes on")
    return gone_ms
