"""When do the records themselves write a line?

A person's event brings its own moment. The lines that nobody asked for (`mended`, `moved`, the ledger's own) need one.
"""

import time
from dataclasses import dataclass

RECORDS = "passcheck"
"""`by` of a line that the records write themselves."""


@dataclass(frozen=True, slots=True)
class Stamp:
    """The members `at` and `clock` of a line."""

    at: str
    clock: int


def machine_stamp() -> Stamp:
    """This moment by the machine's clocks: UTC, and milliseconds since it was started."""
    now_ms = time.time_ns() // 1_000_000
    seconds = time.strftime("%Y-%m-%dT%H:%M:%S", time.gmtime(now_ms // 1000))
    return Stamp(f"{seconds}.{now_ms % 1000:03d}Z", _boot_ms())


def _boot_ms() -> int:
    boottime = getattr(time, "CLOCK_BOOTTIME", None)
    if boottime is None:  # Windows and macOS: their monotonic clock is the nearest
        return time.monotonic_ns() // 1_000_000
    return time.clock_gettime_ns(boottime) // 1_000_000
