"""Does anything show that the probe touched?"""

from collections.abc import Sequence
from typing import Final

from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity, show

_ZERO_IS_A_VALUE: Final = frozenset({"", "%", "°C", "deg"})
"""Units in which a probe that hangs in the air doesn't read zero."""


def no_contact(reading: Quantity | OverRange, limits: Limits, seen: Limits | None) -> str | None:
    """Return the reason why a reading shows no contact, or None when it may be judged.

    `seen` is where a real reading lies. Outside it nothing counts; inside it zero counts. Over range is larger than
    anything, so it lies inside `seen` only when that has no high end. Without `seen` over range never counts, and
    with a one-sided limit neither does zero, nor less than zero where the limit is a positive `at most`.
    """
    if isinstance(reading, OverRange):
        if reading.below or seen is None or seen.high is not None:
            return "over range is what an open probe shows too"
        return None
    if seen is not None:
        return None if seen.holds(reading.value) else f"a real reading lies at {seen.words()}"
    if limits.unit in _ZERO_IS_A_VALUE or (limits.low is not None and limits.high is not None):
        return None
    if reading.value == 0:
        return "zero is what a probe in the air shows too"
    if reading.value < 0 and limits.high is not None and limits.high.value > 0:
        return "less than zero means swapped leads or no contact"
    return None


def first_without_contact(
    readings: Sequence[Quantity | OverRange], limits: Limits, seen: Limits | None
) -> tuple[str, str] | None:
    """Return the first reading without contact as text and its reason; None when all may be judged."""
    for reading in sorted(readings, key=lambda each: each.text):
        reason = no_contact(reading, limits, seen)
        if reason is not None:
            return as_read(reading), reason
    return None


def as_read(reading: Quantity | OverRange) -> str:
    """Return the reading for a sentence: over range as written, a number with its unit."""
    return reading.text if isinstance(reading, OverRange) else show(reading.value, reading.unit, reading.digit)
