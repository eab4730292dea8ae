"""Did the same things read differently after the rework than before?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from passcheck.judge.student import student_cdf


@dataclass(frozen=True, slots=True)
class PairedDifference:
    """The mean of after minus before, in the readings' unit, with Student's test against none; `p` is two-sided.

    `t` is infinite where every pair differs by the same amount.
    """

    mean_difference: float
    se: float
    t: float
    df: int
    p: float


def paired_difference(before: Sequence[float], after: Sequence[float]) -> PairedDifference:
    """Compare readings pair by pair: t = mean / (s / sqrt(n)) with n - 1 degrees of freedom (Student 1908).

    Raises ValueError for fewer than two pairs or rows that don't match.
    """
    differences = paired(before, after)
    n = len(differences)
    if n < 2:
        raise ValueError("at least two pairs are needed; one pair shows no scatter")
    mean = math.fsum(differences) / n
    squares = math.fsum((each - mean) ** 2 for each in differences)
    # Equal differences of decimal readings are not quite equal as doubles.
    rounding = 8 * 2.0**-52 * max(map(abs, (*before, *after)))
    se = math.sqrt(squares / (n - 1) / n) if math.sqrt(squares / n) > rounding else 0.0
    mean = mean if abs(mean) > rounding else 0.0
    t = mean / se if se else math.copysign(math.inf, mean) if mean else 0.0
    return PairedDifference(mean, se, t, n - 1, min(1.0, 2 * student_cdf(-abs(t), n - 1)))


def paired(before: Sequence[float], after: Sequence[float]) -> list[float]:
    """Return after minus before, pair by pair."""
    if len(before) != len(after):
        raise ValueError(f"{len(before)} readings before and {len(after)} after; every one needs its pair")
    if not all(map(math.isfinite, (*before, *after))):
        raise ValueError("readings have to be finite")
    return [b - a for a, b in zip(before, after, strict=True)]
