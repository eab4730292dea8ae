"""What do a shop's own soaks say about hidden defects?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from passcheck.judge.chi_square import chi_square_quantile

FEWEST_FAILURES: Final = 5
"""With fewer failures on soak the mean time and its share are assumptions, and have to be called that."""


@dataclass(frozen=True, slots=True)
class TimeToShow:
    """Mean soak time until a hidden defect shows, with its interval; None where nothing limits it.

    `is_assumption` is True while the shop has seen too few failures to replace the default.
    """

    mean_h: float | None
    low_h: float
    high_h: float | None
    is_assumption: bool


def latent_share(found: int, repairs: int) -> float:
    """Return the share of repairs that hide a defect, smoothed by one of each: (found + 1) / (repairs + 2).

    The mean of Beta(1, 1) after the counts. Raises ValueError for more defects than repairs.
    """
    if not 0 <= found <= repairs:
        raise ValueError(f"{found} defects in {repairs} repairs can't be")
    return (found + 1) / (repairs + 2)


def time_to_show(hours: Sequence[float], failures: int, level: float = 0.95) -> TimeToShow:
    """Estimate the mean of an exponential from soak hours of all units, of which `failures` ended in a failure.

    Sum of hours over failures (maximum likelihood with censoring); interval by chi-square with 2r + 2 and 2r degrees
    of freedom. Raises ValueError for no hours, or more failures than units.
    """
    total = math.fsum(hours)
    if not 0 <= failures <= len(hours) or not total > 0 or min(hours) < 0 or not 0 < level < 1:
        raise ValueError(f"{failures} failures in {len(hours)} soaks of {total} h say nothing")
    tail = (1 - level) / 2
    low = 2 * total / chi_square_quantile(1 - tail, 2 * failures + 2)
    few = failures < FEWEST_FAILURES
    if failures == 0:
        return TimeToShow(None, low, None, few)
    return TimeToShow(total / failures, low, 2 * total / chi_square_quantile(tail, 2 * failures), few)


def weibull_shape(failed_h: Sequence[float], clean_h: Sequence[float] = ()) -> float:
    """Return the Weibull shape of soak failures; only a shape below 1 (early failures) is what a soak can screen.

    Maximum likelihood with censoring: 1/k = sum t^k ln t / sum t^k - mean of ln t of the failed, solved by halving.
    Raises ValueError for fewer than two different failure times.
    """
    if len(set(failed_h)) < 2 or min((*failed_h, *clean_h)) <= 0:
        raise ValueError("at least two different failure times above 0 are needed")
    longest = max((*failed_h, *clean_h))
    logs = [math.log(each / longest) for each in (*failed_h, *clean_h)]
    mean = math.fsum(logs[: len(failed_h)]) / len(failed_h)

    def is_below(shape: float) -> bool:
        weights = [math.exp(shape * each) for each in logs]
        weighted = math.fsum(w * each for w, each in zip(weights, logs, strict=True)) / math.fsum(weights)
        return 1 / shape > weighted - mean

    low, high = 0.0, 1.0
    while is_below(high) and high < 1e6:
        low, high = high, 2 * high
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if is_below(middle) else (low, middle)
    return (low + high) / 2
