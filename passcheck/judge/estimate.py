"""What do readings of one instrument say together, and how surely?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from passcheck.judge.accuracy import Accuracy, largest_error
from passcheck.judge.quantity import Quantity

FEWEST_FOR_SCATTER: Final = 2


FEW: Final = 4
"""Below so many readings their own scatter says too little: Student's factor is 12.7 for two, 4.3 for three."""

UNLIKE: Final = 3


@dataclass(frozen=True, slots=True)
class KnownScatter:
    """The standard deviation of one reading, pooled over earlier series: in the base unit, with its degrees of freedom.

    Raises ValueError for a deviation below 0 or no degree of freedom.
    """

    s: float
    nu: float

    def __post_init__(self) -> None:
        if not (self.s >= 0 and self.nu >= 1):
            raise ValueError(f"a standard deviation of 0 or more and 1 degree of freedom or more, not {self}")


@dataclass(frozen=True, slots=True)
class Estimate:
    """The mean in the base unit with what stands behind it.

    `digit` is the coarsest last digit of the readings, `error` the largest error that the instrument's maker states,
    `u_a` the standard uncertainty from scatter (0 for one reading), `u_b` that of the instrument, `u` both together,
    `nu` the effective degrees of freedom of `u` (infinite for one reading).
    """

    value: Decimal
    digit: Decimal
    count: int
    error: float
    u_a: float
    u_b: float
    u: float
    nu: float


def pool(
    readings: Sequence[Quantity],
    accuracy: Accuracy,
    ambient_c: float | None = None,
    band_c: tuple[float, float] | None = None,
    known: KnownScatter | None = None,
) -> Estimate:
    """Pool one or more readings of the same instrument (GUM 4.2.3, 4.2.4, 4.3.7, G.4.1).

    Only scatter averages out; the instrument's own error is the same in every reading and is never reduced. `known`
    takes the place of the scatter of fewer than four readings, unless theirs is more than three times as large: such a
    series is not like the earlier ones (by chance 3 in 1000 pairs are).
    """
    values = [reading.value for reading in readings]
    mean = sum(values, Decimal(0)) / len(values)
    digit = max(reading.digit for reading in readings)
    error = largest_error(accuracy, mean, digit, ambient_c, band_c)
    u_b = error / math.sqrt(3)
    u_a, nu_a = _scatter(values, mean, digit), len(values) - 1.0
    if known is not None and len(values) < FEW:
        u_known = max(known.s / math.sqrt(len(values)), float(digit) / math.sqrt(12))
        if u_a <= UNLIKE * u_known:
            u_a, nu_a = u_known, known.nu
    u = math.hypot(u_a, u_b)
    nu = nu_a * (u / u_a) ** 4 if u_a else math.inf
    return Estimate(mean, digit, len(values), error, u_a, u_b, u, nu)


def _scatter(values: Sequence[Decimal], mean: Decimal, digit: Decimal) -> float:
    """Standard uncertainty of the mean; equal readings still hide half a digit either way."""
    count = len(values)
    if count < FEWEST_FOR_SCATTER:
        return 0.0
    spread = math.fsum(float(value - mean) ** 2 for value in values)
    return max(math.sqrt(spread / (count - 1) / count), float(digit) / math.sqrt(12))
