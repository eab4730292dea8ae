"""Did more things go from fail to pass than from pass to fail?"""

import math
from dataclasses import dataclass
from typing import Final

MOST_PAIRS: Final = 10_000_000
"""Beyond, the logarithms of factorials lose too many digits."""


@dataclass(frozen=True, slots=True)
class Changes:
    """The exact two-sided p of the changed pairs, and chi-square without and with correction for continuity."""

    p_exact: float
    chi2: float
    chi2_corrected: float


def mcnemar(b: int, c: int) -> Changes:
    """Compare `b` pairs that changed one way with `c` that changed the other; pairs that stayed say nothing.

    p = min(1, 2 P(X <= min(b, c))) with X binomial of b + c and one half; chi2 = (b - c)^2 / (b + c) (McNemar 1947).
    The exact p is the one to use. No change at all gives 1 and 0. Raises ValueError for counts below 0.
    """
    n = b + c
    if b < 0 or c < 0 or n > MOST_PAIRS:
        raise ValueError(f"{b} and {c} can't be counts of up to {MOST_PAIRS} pairs")
    if n == 0:
        return Changes(1.0, 0.0, 0.0)
    corrected = max(0, abs(b - c) - 1) ** 2 / n
    return Changes(_two_sided(min(b, c), n), (b - c) ** 2 / n, corrected)


def _two_sided(fewer: int, n: int) -> float:
    """2 P(X <= fewer), from the largest term down, so that only small ones are dropped."""
    term = total = 1.0
    for count in range(fewer, 0, -1):
        term *= count / (n - count + 1)
        total += term
        if term < total * 1e-17:
            break
    first = math.lgamma(n + 1) - math.lgamma(fewer + 1) - math.lgamma(n - fewer + 1) - n * math.log(2)
    return min(1.0, 2 * total * math.exp(first))
