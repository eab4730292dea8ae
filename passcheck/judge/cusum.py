"""Has a value moved away from where it began, by little but for good?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from passcheck.judge.drift import FEWEST_FOR_A_STATEMENT

SLACK_SIGMAS: Final = 0.5
DECISION_SIGMAS: Final = 5.0
"""With these two a steady value signals once in 465 readings, and a step of one sigma is seen after 10 (`run_length`).
"""
FEWEST_IN_BASE: Final = 12
"""Of steady values 3 % signal within five readings after a base of twelve, 24 % after one of three (measured)."""


@dataclass(frozen=True, slots=True)
class Cusum:
    """The two sums after each value, in the values' own unit; `first_signal` counts from 1, None for none."""

    up: tuple[float, ...]
    down: tuple[float, ...]
    first_signal: int | None


@dataclass(frozen=True, slots=True)
class CusumBase:
    """Where a value began: its mean, its scatter, and the slack and decision value made from them."""

    target: float
    sigma: float
    k: float
    h: float


def cusum(values: Sequence[float], target: float, k: float, h: float) -> Cusum:
    """Sum what exceeds the target by more than `k`, upward and downward; above `h` it signals.

    C+ = max(0, C+ + x - target - k), C- = max(0, C- + target - k - x) (Page; NIST/SEMATECH e-Handbook 6.3.2.3). Values
    are in the order of time. Raises ValueError for no values, a negative slack or a decision value that is not above 0.
    """
    if not values or not all(map(math.isfinite, (*values, target, k, h))):
        raise ValueError("at least one value is needed, and all have to be finite")
    if k < 0 or h <= 0:
        raise ValueError(f"the slack is 0 or more and the decision value above 0, not {k} and {h}")
    up, down = _sums([each - target - k for each in values]), _sums([target - k - each for each in values])
    signals = (place for place, sums in enumerate(zip(up, down, strict=True), start=1) if max(sums) > h)
    return Cusum(up, down, next(signals, None))


def cusum_base(values: Sequence[float], digit: float) -> CusumBase:
    """Take target and scatter from the first steady readings, of which twelve are the least.

    sigma is their standard deviation, never below 2 * digit / sqrt(12): readings that all show the same figure would
    otherwise alarm at the next one. Raises ValueError for a shorter base.
    """
    if len(values) < FEWEST_IN_BASE:
        raise ValueError(f"{len(values)} readings are no base; {FEWEST_IN_BASE} are the least")
    target = math.fsum(values) / len(values)
    squares = math.fsum((each - target) ** 2 for each in values)
    sigma = max(math.sqrt(squares / (len(values) - 1)), 2 * digit / math.sqrt(12))
    return CusumBase(target, sigma, SLACK_SIGMAS * sigma, DECISION_SIGMAS * sigma)


def cusum_sentence(found: Cusum) -> str:
    """Return whether and where the value moved; nothing is said under twelve readings."""
    count = len(found.up)
    if count < FEWEST_FOR_A_STATEMENT:
        return f"{count} readings: too few to say whether the value has moved."
    if found.first_signal is None:
        return f"{count} readings: no lasting move is seen."
    at = found.first_signal - 1
    way = "upward" if found.up[at] >= found.down[at] else "downward"
    return f"{count} readings: the value has moved {way}, first seen at reading {found.first_signal}."


def _sums(excesses: Sequence[float]) -> tuple[float, ...]:
    total, sums = 0.0, []
    for excess in excesses:
        total = max(0.0, total + excess)
        sums.append(total)
    return tuple(sums)
