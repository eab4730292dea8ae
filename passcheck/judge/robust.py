"""What is the middle, the shift and the scale of values among which some are wild?"""

import math
from collections.abc import Sequence
from statistics import median

WINSORISED_SHARE = 0.2
"""Share of the values that is drawn in on either side."""


def hodges_lehmann(values: Sequence[float], others: Sequence[float]) -> float:
    """Return the median of all differences value - other, the shift between two samples (Hodges and Lehmann 1963)."""
    return median([value - other for value in values for other in others])


def winsorised_scale(values: Sequence[float]) -> tuple[float, int]:
    """Return a standard deviation that a fifth of wild values on either side doesn't move, with its degrees of freedom.

    The g = floor(0.2 n) smallest and largest become their inner neighbours; s_w is the standard deviation of that over
    0.6, and n - 2 g - 1 its degrees of freedom (Tukey and McLaughlin 1963). Raises ValueError for fewer than three.
    """
    count = len(values)
    if count < 3:
        raise ValueError(f"a scale needs at least 3 values, not {count}")
    drawn_in = math.floor(WINSORISED_SHARE * count)
    ordered = sorted(values)
    low, high = ordered[drawn_in], ordered[count - 1 - drawn_in]
    kept = [min(max(value, low), high) for value in ordered]
    mean = math.fsum(kept) / count
    spread = math.sqrt(math.fsum((value - mean) ** 2 for value in kept) / (count - 1))
    return spread / (1 - 2 * WINSORISED_SHARE), count - 2 * drawn_in - 1
