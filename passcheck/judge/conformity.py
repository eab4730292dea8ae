"""How probable is it that the true value lies inside the limits, and is that enough to decide?"""

import math
from decimal import Decimal
from typing import Final

from passcheck.judge.judgement import Verdict
from passcheck.judge.limits import Limits
from passcheck.judge.student import student_cdf

ENOUGH: Final = 0.95
NARROWEST: Final = 3.92
"""Limits closer together than this many u: even a reading in their middle stays under a probability of 0.95."""


def probability_inside(value: Decimal, u: float, limits: Limits, nu: float = math.inf) -> float:
    """Return p_c = F((high - y)/u) - F((low - y)/u) with Student's F (JCGM 106 clause 7); a missing limit is infinite.

    `value` and `u` are in the base unit of the limits; `nu` infinite makes F the normal distribution.
    """
    above, below = _shares(value, u, limits, nu)
    return max(0.0, 1.0 - above - below)


def guarded(value: Decimal, u: float, limits: Limits, nu: float = math.inf) -> Verdict:
    """Pass at p_c of 0.95 or more; fail at 0.05 or less with the value outside; else in doubt.

    Where limits are narrower than 3.92 u, p_c is small everywhere and proves nothing: there a fail also needs 0.95
    for the value lying beyond the nearer limit.
    """
    inside = probability_inside(value, u, limits, nu)
    if limits.holds(value):
        return "pass" if inside >= ENOUGH else "in doubt"
    if inside > 1 - ENOUGH:
        return "in doubt"
    beyond = max(_shares(value, u, limits, nu))
    return "in doubt" if is_narrow(u, limits) and beyond < ENOUGH else "fail"


def is_narrow(u: float, limits: Limits) -> bool:
    """Are the limits closer together than an instrument with this uncertainty can decide?"""
    if limits.low is None or limits.high is None:
        return False
    return float(limits.high.value - limits.low.value) < NARROWEST * u


def _shares(value: Decimal, u: float, limits: Limits, nu: float) -> tuple[float, float]:
    """Return the probabilities of lying above the high and below the low limit."""
    above = 0.0 if limits.high is None else _beyond(value - limits.high.value, u, nu)
    below = 0.0 if limits.low is None else _beyond(limits.low.value - value, u, nu)
    return above, below


def _beyond(excess: Decimal, u: float, nu: float) -> float:
    if u == 0:
        return 1.0 if excess > 0 else 0.0
    return student_cdf(float(excess) / u, nu)
