"""What time is it on this machine, by a clock that can be set and by one that can't?

The only place that asks the machine for the time of an event; everything else is handed a `Moment`.
"""

import time
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from passcheck.job.moment import Moment

BOOT_ID = Path("/proc/sys/kernel/random/boot_id")
SAME_BOOT_S = 60
"""A start of the machine that is worked out from two clocks is only known this well."""


def now() -> Moment:
    """This moment, as events are stamped with it."""
    utc = datetime.now(UTC)  # noqa: TID251 - the clock itself, which everything else is handed
    offset = utc.astimezone().utcoffset()
    return Moment(utc, int(offset.total_seconds()) // 60 if offset else 0, boottime_ms(), boot_id())


def boottime_ms() -> int:
    """Milliseconds since the machine was started, time asleep included."""
    # Linux has the first; macOS the second, which goes on while the machine sleeps; on Windows time.monotonic does.
    for name in ("CLOCK_BOOTTIME", "CLOCK_MONOTONIC"):
        which = getattr(time, name, None)
        if which is not None:
            return time.clock_gettime_ns(which) // 1_000_000
    return time.monotonic_ns() // 1_000_000


@cache
def boot_id() -> str:
    """A name for this start of the machine.

    Linux gives one. Elsewhere it is the minute of the start: when the wall clock was set in between, the next program
    takes it for a restart, and a restart is the careful reading, because power is unknown after it.
    """
    try:
        return BOOT_ID.read_text(encoding="ascii").strip()
    except OSError:
        started_s = time.time() - boottime_ms() / 1000
        return f"started-{round(started_s / SAME_BOOT_S)}"
