"""What share of a gamma distribution lies below a value?"""

import math
from typing import Final

SERIES_FROM: Final = 20.0
"""From this shape on Stirling's series is exact to sixteen places, and keeps digits that a difference of logs loses."""
MOST_STEPS: Final = 100_000
"""Far more than the fraction takes: about ten times the root of the shape."""


def gamma_shares(a: float, x: float) -> tuple[float, float]:
    """Return P(a, x) and Q(a, x) = 1 - P, the regularised incomplete gamma functions; each keeps its own small digits.

    Series below the mean, continued fraction above it (Abramowitz and Stegun 6.5.29 and 6.5.31). The relative error of
    either is below 2e-12 for shapes 0.5 .. 1e6 (held by a table of reference values in the tests). Raises
    ValueError unless a > 0 and x >= 0.
    """
    if not (a > 0 and x >= 0) or math.isinf(a):
        raise ValueError(f"a shape above 0 and a value of 0 or more are needed, not {a} and {x}")
    if x == 0:
        return 0.0, 1.0
    if math.isinf(x):
        return 1.0, 0.0
    if x < a + 1:
        lower = min(1.0, _density(a, x) * _series(a, x))
        return lower, 1 - lower
    upper = min(1.0, _density(a, x) * _fraction(a, x))
    return 1 - upper, upper


def _density(a: float, x: float) -> float:
    """x^a e^-x / Gamma(a): by logarithms for small shapes, by the distance from the mean for large ones."""
    if a < SERIES_FROM:
        return math.exp(a * math.log(x) - x - math.lgamma(a))
    off = (x - a) / a
    logarithm = math.log1p(off) if off > -0.5 else math.log(x) - math.log(a)
    return math.sqrt(a / (2 * math.pi)) * math.exp(a * (logarithm - off) - _stirling_rest(a))


def _stirling_rest(a: float) -> float:
    """What Stirling's formula for ln Gamma(a) leaves (Abramowitz and Stegun 6.1.41)."""
    square = a * a
    return (1 / 12 - (1 / 360 - (1 / 1260 - (1 / 1680 - 1 / (1188 * square)) / square) / square) / square) / a


def _series(a: float, x: float) -> float:
    """Sum x^n / (a (a+1) .. (a+n)); every term is positive, so nothing cancels."""
    term = total = 1 / a
    n = a
    while term > total * 1e-17:
        n += 1
        term *= x / n
        total += term
    return total


def _fraction(a: float, x: float) -> float:
    """Evaluate 1/(x+1-a- 1(1-a)/(x+3-a- ...)) from the front (the modified method of Lentz); x is above a."""
    tiny = 1e-300
    b = x + 1 - a
    c, d = 1 / tiny, 1 / b
    value = d
    for step in range(1, MOST_STEPS):
        factor = -step * (step - a)
        b += 2
        d = 1 / ((factor * d + b) or tiny)
        c = (b + factor / c) or tiny
        value *= c * d
        if abs(c * d - 1) < 1e-15:
            break
    return value
