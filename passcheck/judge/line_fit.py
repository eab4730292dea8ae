"""Which straight line goes through points, and how surely?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from statistics import median


@dataclass(frozen=True, slots=True)
class LineFit:
    """y = intercept + slope x by least squares, with the standard errors of both and of one residual."""

    slope: float
    intercept: float
    se_slope: float
    se_intercept: float
    residual_sd: float


def least_squares(x: Sequence[float], y: Sequence[float]) -> LineFit:
    """Fit by ordinary least squares, sums taken about the means so that no digits are lost.

    Raises ValueError for fewer than three points, or points that all have one x.
    """
    count = len(x)
    if count != len(y) or count < 3:
        raise ValueError(f"a line needs at least 3 points, not {count} and {len(y)}")
    mean_x, mean_y = math.fsum(x) / count, math.fsum(y) / count
    spread = math.fsum((each - mean_x) ** 2 for each in x)
    if spread == 0:
        raise ValueError("points that all lie over one x have no line")
    slope = math.fsum((u - mean_x) * (v - mean_y) for u, v in zip(x, y, strict=True)) / spread
    squares = math.fsum((v - mean_y - slope * (u - mean_x)) ** 2 for u, v in zip(x, y, strict=True))
    sd = math.sqrt(squares / (count - 2))
    se_intercept = sd * math.sqrt(1 / count + mean_x**2 / spread)
    return LineFit(slope, mean_y - slope * mean_x, sd / math.sqrt(spread), se_intercept, sd)


def theil_sen_slope(x: Sequence[float], y: Sequence[float]) -> float:
    """Return the median of the slopes of all pairs with different x (Theil 1950, Sen 1968).

    Raises ValueError where there is no such pair.
    """
    points = zip(x, y, strict=True)
    slopes = [(v2 - v1) / (u2 - u1) for (u1, v1), (u2, v2) in combinations(points, 2) if u1 != u2]
    if not slopes:
        raise ValueError("a slope needs two points with different x")
    return median(slopes)


def narrowest_band(x: Sequence[float], y: Sequence[float]) -> float:
    """Return half the height of the narrowest band between two parallel lines that holds all points, in y's unit.

    The best slope is always that of some pair of points (an edge of the hull), so those are tried, all of them.
    Raises ValueError where no two points have different x.
    """
    points = list(zip(x, y, strict=True))
    heights = []
    for (u1, v1), (u2, v2) in combinations(points, 2):
        if u1 != u2:
            slope = (v2 - v1) / (u2 - u1)
            levels = [v - slope * u for u, v in points]
            heights.append(max(levels) - min(levels))
    if not heights:
        raise ValueError("a band needs two points with different x")
    return min(heights) / 2
