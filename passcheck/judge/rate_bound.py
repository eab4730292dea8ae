"""Between which failure rates do so many failures in so many hours leave us?"""

import math
from dataclasses import dataclass
from typing import Final

from passcheck.judge.chi_square import chi_square_quantile
from passcheck.judge.rounding import counted, rounded

MOST_FAILURES: Final = 1_000_000
"""Up to here the quantiles are held by a table of reference values."""


@dataclass(frozen=True, slots=True)
class RateBound:
    """A constant failure rate per unit-hour with its bounds; each bound holds alone at `confidence`.

    `lower_per_h` is 0 without a failure. `factor` is the number of failures that the upper bound allows for.
    """

    failures: int
    hours: float
    confidence: float
    rate_per_h: float
    lower_per_h: float
    upper_per_h: float
    factor: float


def rate_bound(failures: int, hours: float, confidence: float) -> RateBound:
    """Bound a failure rate from a test that ended by the clock.

    lambda_U = chi2_C(2r + 2) / 2T and lambda_L = chi2_{1-C}(2r) / 2T (NIST/SEMATECH e-Handbook, chapter 8; exact for
    Poisson counts). For a two-sided interval of 90 % ask for a confidence of 0.95. Raises ValueError for failures below
    0, hours that are not above 0 or a confidence outside 0 .. 1.
    """
    if not 0 <= failures <= MOST_FAILURES:
        raise ValueError(f"{failures} failures are not counted here; 0 to {MOST_FAILURES} are")
    if not 0 < hours < math.inf:
        raise ValueError(f"unit-hours above 0 are needed, not {hours}")
    if not 0 < confidence < 1:
        raise ValueError(f"the confidence lies between 0 and 1, not at {confidence}")
    factor = chi_square_quantile(confidence, 2 * failures + 2) / 2
    lower = chi_square_quantile(1 - confidence, 2 * failures) / 2 if failures else 0.0
    return RateBound(failures, hours, confidence, failures / hours, min(lower, factor) / hours, factor / hours, factor)


def rate_sentence(bound: RateBound) -> str:
    """Return failures, hours and the upper bound; a rate is a statement on the kind of unit, never on this one."""
    found = counted(bound.failures, "failure")
    return (
        f"{found} in {rounded(bound.hours, 3)} unit-hours: at most {rounded(1000 * bound.upper_per_h)} per 1000 h "
        f"at {rounded(100 * bound.confidence, 3)} % confidence, if the rate doesn't change with age."
    )
