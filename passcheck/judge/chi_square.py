"""What does the chi-square distribution say?"""

from typing import Final

from passcheck.judge.gamma import gamma_shares

HALVINGS: Final = 60
"""A bracket of one doubling, halved so often, is as narrow as a double can hold."""


def chi_square_cdf(x: float, nu: float) -> float:
    """Return the probability that a chi-square value with `nu` degrees of freedom is at most `x` (A&S 26.4.19)."""
    return gamma_shares(nu / 2, x / 2)[0]


def chi_square_tail(x: float, nu: float) -> float:
    """Return the probability that a chi-square value with `nu` degrees of freedom is above `x`; small ones exactly."""
    return gamma_shares(nu / 2, x / 2)[1]


def chi_square_quantile(p: float, nu: float) -> float:
    """Return x with a probability of `p` below it; `p` lies strictly between 0 and 1 and `nu` is above 0.

    A quantile under 1e-300 is given as 0. Raises ValueError for anything else.
    """
    if not 0.0 < p < 1.0:
        raise ValueError(f"a probability between 0 and 1 is needed, not {p}")
    high = float(nu)
    while _is_below(high, p, nu):
        high *= 2
    low = high / 2
    while not _is_below(low, p, nu):
        low, high = low / 2, low
        if low < 1e-300:
            return 0.0
    for _ in range(HALVINGS):  # halving: one function, no derivative to get wrong
        middle = (low + high) / 2
        low, high = (middle, high) if _is_below(middle, p, nu) else (low, middle)
    return (low + high) / 2


def _is_below(x: float, p: float, nu: float) -> bool:
    """Is x below the quantile? The smaller of the two shares is compared, because it keeps its digits."""
    lower, upper = gamma_shares(nu / 2, x / 2)
    return lower < p if p < 0.5 else upper > 1 - p
