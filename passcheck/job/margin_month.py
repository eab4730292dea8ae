"""How surely is the mean margin of one month's units known?"""

import math

from passcheck.job.counts import MonthMargins
from passcheck.job.figure_words import LEVEL
from passcheck.judge.student import student_quantile


def mean_interval(one: MonthMargins) -> tuple[float, float] | None:
    """The 95 % interval of the mean, mean +- t s / sqrt(n); None of one unit, whose scatter isn't known."""
    n = one.units
    if n < 2:
        return None
    # Rounding of the stored sums may leave a scatter of 0 a hair below it.
    variance = max(0.0, one.square_mean - one.mean**2) * n / (n - 1)
    half = student_quantile((1 + LEVEL) / 2, n - 1) * math.sqrt(variance / n)
    return one.mean - half, one.mean + half
