"""Does a value drift over the hours of a soak, allowing for readings that hang together?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from passcheck.judge.student import student_cdf

FEWEST_READINGS: Final = 3
MOST_PHI: Final = 0.95
LEAST_DF: Final = 1.5
SIGNIFICANT: Final = 0.05
FEWEST_FOR_A_STATEMENT: Final = 12
"""Readings after warm-up, below which a test for drift cries too often to be told."""
EPSILON: Final = 2.0**-52


@dataclass(frozen=True, slots=True)
class Drift:
    """A straight line through readings, its test as if they were independent, and the corrected one that counts.

    `slope_per_h` and `se` are in the value's unit an hour. `phi` is the autocorrelation of neighbouring residuals after
    its correction for few readings, `n_effective` the number of independent readings that they are worth. `t` is
    infinite for readings on a perfect line. `p` values are two-sided.
    """

    slope_per_h: float
    se: float
    t: float
    df: int
    p: float
    phi: float
    n_effective: float
    se_corrected: float
    t_corrected: float
    df_corrected: float
    p_corrected: float


def drift(hours: Sequence[float], values: Sequence[float]) -> Drift:
    """Fit a line by least squares and test its slope against none, in any order of the readings.

    With r1 the autocorrelation of neighbouring residuals, phi = r1 + (1 + 4 r1)/n within 0 .. 0.95,
    se * sqrt((1 + phi)/(1 - phi)), n_eff = n (1 - phi)/(1 + phi), df = max(1.5, n_eff - 2). The correction takes the
    false alarm of hourly readings with an autocorrelation of 0.6 from 30 % to about 11 % (17 readings); so a slope
    counts only where it matters too (`soak_trend`). Raises ValueError for fewer than three readings or no span of time.
    """
    if len(hours) != len(values) or len(values) < FEWEST_READINGS:
        raise ValueError(f"{len(hours)} times and {len(values)} values; a line needs at least {FEWEST_READINGS} pairs")
    if not all(map(math.isfinite, (*hours, *values))):
        raise ValueError("times and values have to be finite")
    slope, residuals, spread = _line(*zip(*sorted(zip(hours, values, strict=True)), strict=True))
    n = len(values)
    squares = math.fsum(each * each for each in residuals)
    se = math.sqrt(squares / (n - 2) / spread)
    phi = _phi(residuals, squares)
    n_effective = n * (1 - phi) / (1 + phi)
    se_corrected, df_corrected = se * math.sqrt((1 + phi) / (1 - phi)), max(LEAST_DF, n_effective - 2)
    t, t_corrected = _ratio(slope, se), _ratio(slope, se_corrected)
    p, p_corrected = _two_sided(t, n - 2), _two_sided(t_corrected, df_corrected)
    return Drift(slope, se, t, n - 2, p, phi, n_effective, se_corrected, t_corrected, df_corrected, p_corrected)


def drift_sentence(found: Drift) -> str:
    """Return whether the slope stands out; under twelve readings nothing is said, and no slope is called a drift here.

    Whether a slope matters is a question of the limit and of the time until service (`soak_trend`).
    """
    count = found.df + 2
    if count < FEWEST_FOR_A_STATEMENT:
        return f"{count} readings: too few to say whether the value drifts."
    if found.p_corrected < SIGNIFICANT:
        return f"{count} readings: the slope stands out from their scatter; whether it matters depends on the limit."
    return f"{count} readings: no slope stands out from their scatter."


def _line(hours: tuple[float, ...], values: tuple[float, ...]) -> tuple[float, list[float], float]:
    """Slope, residuals in order of time and the sum of squared distances from the mean time.

    What is left of a constant or perfectly straight row by rounding alone counts as nothing.
    """
    middle_h, middle = math.fsum(hours) / len(hours), math.fsum(values) / len(values)
    away_h, away = [each - middle_h for each in hours], [each - middle for each in values]
    spread = math.fsum(each * each for each in away_h)
    if spread <= 0:
        raise ValueError("all readings have the same time; a line needs a span of it")
    slope = math.fsum(a * b for a, b in zip(away_h, away, strict=True)) / spread
    rounding = 8 * EPSILON * max(map(abs, values))
    if abs(slope) * (hours[-1] - hours[0]) <= rounding:
        slope = 0.0
    residuals = [b - slope * a for a, b in zip(away_h, away, strict=True)]
    return slope, residuals if max(map(abs, residuals)) > rounding else [0.0] * len(residuals), spread


def _phi(residuals: Sequence[float], squares: float) -> float:
    """Autocorrelation of neighbours, corrected for the bias that few readings give it."""
    r1 = math.fsum(a * b for a, b in pairwise(residuals)) / squares if squares else 0.0
    return min(MOST_PHI, max(0.0, r1 + (1 + 4 * r1) / len(residuals)))


def _ratio(slope: float, se: float) -> float:
    if se > 0:
        return slope / se
    return math.copysign(math.inf, slope) if slope else 0.0


def _two_sided(t: float, df: float) -> float:
    return min(1.0, 2 * student_cdf(-abs(t), df))
