"""What do readings that were taken together say about a value that is worked out from them?

Voltage, current and phase read at the same instant move together, so their errors are no longer independent.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Together:
    """Means of the quantities and the covariances of these means, in the products of their units (GUM 4.2, 5.2.3)."""

    means: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]

    def correlation(self, i: int, j: int) -> float:
        """Return r of two quantities, -1 .. 1; 0 where one of them never moved."""
        scale = math.sqrt(self.covariance[i][i] * self.covariance[j][j])
        return self.covariance[i][j] / scale if scale else 0.0


def read_together(columns: Sequence[Sequence[float]]) -> Together:
    """Return means and covariances of quantities of which each column holds all readings, in the same order.

    cov(i, j) = sum (x_i - mean_i)(x_j - mean_j) / (n (n - 1)). Raises ValueError unless there are as many readings of
    each, two at least.
    """
    count = len(columns[0]) if columns else 0
    if count < 2 or any(len(column) != count for column in columns):
        raise ValueError("readings taken together need as many of each quantity, at least 2")
    means = tuple(math.fsum(column) / count for column in columns)
    away = [[value - mean for value in column] for column, mean in zip(columns, means, strict=True)]
    covariance = tuple(
        tuple(math.fsum(x * y for x, y in zip(one, other, strict=True)) / (count * (count - 1)) for other in away)
        for one in away
    )
    return Together(means, covariance)


def combined_u(sensitivities: Sequence[float], covariance: Sequence[Sequence[float]]) -> float:
    """Return u with u² = sum over i, j of c_i c_j cov_ij (GUM 5.2.2); `sensitivities` are the c_i = df/dx_i."""
    if len(sensitivities) != len(covariance):
        raise ValueError(f"{len(sensitivities)} sensitivities for {len(covariance)} quantities")
    variance = math.fsum(
        c_i * c_j * cov
        for c_i, row in zip(sensitivities, covariance, strict=True)
        for c_j, cov in zip(sensitivities, row, strict=True)
    )
    return math.sqrt(max(0.0, variance))
