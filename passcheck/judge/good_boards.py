"""Between which values does a node read on good boards of its type?"""

import math
from collections.abc import Sequence

from passcheck.judge.student import student_quantile

COVERED = 0.975
"""The two-sided 95 % limits leave 2.5 % of good boards on either side."""


def good_board_range(
    values: Sequence[float], digit: float, declared_spread: float | None = None
) -> tuple[float, float]:
    """Return low and high of the next good board's reading, in the unit of `values`: m ± t s sqrt(1 + 1/n).

    t has n - 1 degrees of freedom (prediction interval of a normal sample; Hahn and Meeker 4.8). Equal readings still
    hide half of the last digit `digit`, so s is at least digit/sqrt(12). One board tells no spread: there
    `declared_spread`, a half-width, is used as it is. Raises ValueError without values, or without a spread for one.
    """
    count = len(values)
    if count < 1 or not all(map(math.isfinite, values)):
        raise ValueError("limits from good boards need the reading of at least one")
    mean = math.fsum(values) / count
    if count == 1:
        if declared_spread is None or not 0 < declared_spread < math.inf:
            raise ValueError("one good board tells no spread: declare one above 0")
        return mean - declared_spread, mean + declared_spread
    s = math.sqrt(math.fsum((value - mean) ** 2 for value in values) / (count - 1))
    half = student_quantile(COVERED, count - 1) * max(s, digit / math.sqrt(12)) * math.sqrt(1 + 1 / count)
    return mean - half, mean + half
