"""How do the plain numbers of an object become the quantities, limits and accuracies of the judge?"""

import math
from decimal import Decimal
from typing import Final

from passcheck.cli.door.kinds import NUMBER, Kind, listed
from passcheck.judge.accuracy import Accuracy
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity, six

FINEST: Final = Decimal("1E-15")
"""Stands for the last digit where an object says 0: a value without one."""


def _pair(given: object) -> tuple[float, float]:
    both = listed(NUMBER).read(given)
    if len(both) != 2 or both[0] >= both[1]:
        raise ValueError("has to be [low, high], low below high")
    low, high = both
    return low, high


PAIR: Final = Kind("[low, high]", _pair)


def exact(value: float) -> Decimal:
    """The shortest decimal that is this number."""
    return Decimal(repr(float(value)))


def last_digit(digit: float) -> Decimal:
    """The weight of the last digit of a display."""
    return exact(digit) if digit else FINEST


def quantity(value: float, digit: Decimal = FINEST, unit: str = "") -> Quantity:
    """A quantity; objects bring numbers in SI units, so `unit` is only for what the sentence shows."""
    return Quantity(exact(value), unit, digit, six(exact(value)))


def accuracy(percent: float, counts: float) -> Accuracy:
    """The maker's statement: percent of reading and counts of the last digit."""
    return Accuracy(exact(percent), exact(counts), f"{percent:g} % + {counts:g} digits")


def limits(low: float | None, high: float | None, unit: str = "") -> Limits | None:
    """Limits of one or two sides, None for none. Raises ValueError for a low one that isn't below the high one."""
    if low is None and high is None:
        return None
    ends = [None if end is None else quantity(end, unit=unit) for end in (low, high)]
    if low is not None and high is not None:
        if low >= high:
            raise ValueError(f"low has to be below high, and {low:g} is not below {high:g}")
        return Limits(
            ends[0], ends[1], None, unit, f"{ends[0] and ends[0].text} .. {ends[1] and ends[1].text} {unit}".strip()
        )
    word, end = ("at most", high) if low is None else ("at least", low)
    return Limits(ends[0], ends[1], None, unit, f"{word} {six(exact(end or 0))} {unit}".strip())


def finite(value: float) -> float | None:
    """A number that JSON can say; None for degrees of freedom without end."""
    return value if math.isfinite(value) else None
