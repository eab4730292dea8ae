"""How many tries without a failure show a reliability, or what do so many show?"""

import math
from typing import Final

from passcheck.judge.rounding import rounded

ROUNDING: Final = 1e-9
"""ln 0.1 / ln 0.1 has to stay 1 when 0.1 came out of 1 - 0.9."""


def tries_needed(confidence: float, reliability: float) -> int:
    """Return the smallest n with reliability^n at most 1 - confidence: n = ln(1 - C) / ln R, rounded up.

    Both are shares strictly between 0 and 1, else ValueError. Success-run theorem (the zero-failure case of the
    binomial); 0.90 at 0.95 asks 29.
    """
    _refuse_no_share("the confidence", confidence)
    _refuse_no_share("the reliability", reliability)
    exact = math.log1p(-confidence) / math.log(reliability)
    return max(1, math.ceil(exact * (1 - ROUNDING)))


def reliability_shown(confidence: float, n: int) -> float:
    """Return the reliability that n tries of n show: (1 - C)^(1/n). Raises ValueError for no tries."""
    _refuse_no_share("the confidence", confidence)
    if n < 1:
        raise ValueError(f"{n} tries show nothing; at least 1 is needed")
    return math.exp(math.log1p(-confidence) / n)


def zero_failure_sentence(confidence: float, n: int) -> str:
    """Return what n tries without a failure show, and for which units."""
    shown = rounded(math.floor(1000 * reliability_shown(confidence, n)) / 10, 3)
    level = rounded(100 * confidence, 3)
    return f"{n} of {n} without a failure: at least {shown} % of such tries succeed, at {level} % confidence."


def _refuse_no_share(what: str, share: float) -> None:
    if not 0 < share < 1:
        raise ValueError(f"{what} lies between 0 and 1, not at {share}")
