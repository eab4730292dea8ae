"""What share of units passes at the first try, and how surely is that known?"""

import math
from dataclasses import dataclass

from passcheck.judge.normal import normal_quantile


@dataclass(frozen=True, slots=True)
class Share:
    """A share of units with its interval, all within 0 .. 1."""

    share: float
    low: float
    high: float


def first_pass_yield(k: int, n: int, level: float = 0.95) -> Share:
    """Return k of n with Wilson's score interval, which holds for small n and shares near 0 or 1.

    (p + z^2/2n +- z sqrt(p(1-p)/n + z^2/4n^2)) / (1 + z^2/n) (Wilson 1927; Newcombe 1998, method 3). Raises ValueError
    for more passes than units, no units, or a level outside 0 .. 1.
    """
    if n < 1 or not 0 <= k <= n:
        raise ValueError(f"{k} of {n} is no share")
    if not 0 < level < 1:
        raise ValueError(f"the level lies between 0 and 1, not at {level}")
    z = normal_quantile((1 + level) / 2)
    p, square = k / n, z * z
    middle = (p + square / (2 * n)) / (1 + square / n)
    half = z * math.sqrt(p * (1 - p) / n + square / (4 * n * n)) / (1 + square / n)
    # At the ends the formula gives 0 and 1 exactly; rounding must not.
    return Share(p, 0.0 if k == 0 else max(0.0, middle - half), 1.0 if k == n else min(1.0, middle + half))
