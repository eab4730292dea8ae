"""Does a mean that was taken again and again, of more or of fewer units, rise or fall?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from passcheck.judge.student import student_quantile

FEWEST_POINTS: Final = 3


@dataclass(frozen=True, slots=True)
class WeightedLine:
    """The slope of a line through weighted points, its standard error, and the degrees of freedom that stand behind."""

    slope: float
    se_slope: float
    freedom: int

    def half_width(self, level: float, among: int = 1) -> float:
        """Return half the width of the slope's interval at that level, where it is one of `among` slopes looked at.

        Sidak's correction, 1 - (1 - alpha)^(1/m), so that all the intervals hold together at that level when the slopes
        are independent, and no less surely than that when they move together (Sidak 1967).
        """
        if not 0 < level < 1 or among < 1:
            raise ValueError(f"a level between 0 and 1 and at least 1 slope are needed, not {level} and {among}")
        alpha = -math.expm1(math.log(level) / among)
        return student_quantile(1 - alpha / 2, self.freedom) * self.se_slope


def weighted_line(x: Sequence[float], y: Sequence[float], weights: Sequence[float]) -> WeightedLine:
    """Fit by least squares with weights; only their ratios matter, for the scatter itself is taken from the residuals.

    slope = sum w (x - mx)(y - my) / sum w (x - mx)^2; se^2 = (sum w r^2 / (n - 2)) / sum w (x - mx)^2, with r what the
    line leaves. Raises ValueError for fewer than three points, points of one x, or a weight that isn't above 0.
    """
    count = len(x)
    if count < FEWEST_POINTS or not count == len(y) == len(weights):
        raise ValueError(f"a line needs at least 3 points, not {count}, {len(y)} and {len(weights)}")
    if not all(0 < weight < math.inf for weight in weights):
        raise ValueError("a weight is above 0")
    total = math.fsum(weights)
    mean_x = math.fsum(w * u for w, u in zip(weights, x, strict=True)) / total
    mean_y = math.fsum(w * v for w, v in zip(weights, y, strict=True)) / total
    points = [(w, u - mean_x, v - mean_y) for w, u, v in zip(weights, x, y, strict=True)]
    spread = math.fsum(w * u * u for w, u, _v in points)
    if spread == 0:
        raise ValueError("points that all lie over one x have no line")
    slope = math.fsum(w * u * v for w, u, v in points) / spread
    squares = math.fsum(w * (v - slope * u) ** 2 for w, u, v in points)
    return WeightedLine(slope, math.sqrt(squares / (count - 2) / spread), count - 2)
