"""At which period does a lamp blink, found by one tap a flash?

A reaction that stays the same cancels in the slope of tap times over flash numbers. Taps that follow the rhythm hang
together, so the least-squares error is too small: the end-to-end one is its floor.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median_low
from typing import Final

from passcheck.judge.line_fit import least_squares, theil_sen_slope

FEWEST_TAPS: Final = 8
MOST_TAPS: Final = 400
LOCKING_IN: Final = 2
"""Taps at the beginning that the bench leaves out, while the hand finds the rhythm."""
EXTRA_UNDER: Final = 0.5
"""An interval under this share of the period holds a tap too many."""
IRREGULAR_FROM: Final = 0.3
CLUSTER_SHARE: Final = 0.3
"""Share of intervals from which a second cluster at half or double the usual one is no accident."""
_ROUNDS: Final = 20


@dataclass(frozen=True, slots=True)
class Blink:
    """Period and rate with their standard uncertainties, s and Hz.

    `index` numbers the flash of each tap from 0; None is a tap too many. `missed` counts flashes without a tap,
    `irregular` the intervals that are no whole number of periods. `u_ols_s` is what least squares alone would claim.
    `two_rates` is True where about as many intervals are one period long as two: was every flash tapped, and once?
    """

    period_s: float
    u_period_s: float
    rate_hz: float
    u_rate_hz: float
    u_ols_s: float
    index: tuple[int | None, ...]
    missed: int
    irregular: int
    two_rates: bool


def blink(taps_s: Sequence[float]) -> Blink:
    """Return the period: the Theil-Sen slope over repaired flash numbers; u_T = max(least squares, s sqrt(2)/(n - 1)).

    `taps_s` rise and leave out the first two taps. Raises ValueError for other times, or for fewer than 8 that count.
    """
    if len(taps_s) > MOST_TAPS:
        raise ValueError(f"{len(taps_s)} taps are too many; {MOST_TAPS} at most")
    if not all(math.isfinite(time) for time in taps_s) or any(b <= a for a, b in pairwise(taps_s)):
        raise ValueError("tap times have to rise")
    _refuse_few(len(taps_s))
    period, index = _repaired(taps_s)
    times = [time for time, k in zip(taps_s, index, strict=True) if k is not None]
    flashes = [k for k in index if k is not None]
    fit = least_squares(flashes, times)
    u = max(fit.se_slope, fit.residual_sd * math.sqrt(2) / (len(times) - 1))
    return Blink(
        period_s=period,
        u_period_s=u,
        rate_hz=1 / period,
        u_rate_hz=u / period**2,
        u_ols_s=fit.se_slope,
        index=index,
        missed=sum(after - before - 1 for before, after in pairwise(flashes)),
        irregular=sum(_is_irregular(later - time, period) for time, later in pairwise(taps_s)),
        two_rates=has_two_rates(taps_s),
    )


def has_two_rates(taps_s: Sequence[float]) -> bool:
    """Do the intervals split into two clusters, one at double the other, each at least 30 % of them?"""
    gaps = [later - time for time, later in pairwise(taps_s)]
    usual = median_low(gaps)
    half, one, double = (
        sum(0.8 * multiple < gap / usual < 1.25 * multiple for gap in gaps) / len(gaps) for multiple in (0.5, 1, 2)
    )
    return one >= CLUSTER_SHARE and max(half, double) >= CLUSTER_SHARE


def _repaired(taps_s: Sequence[float]) -> tuple[float, tuple[int | None, ...]]:
    """Number the flashes by the period so far, fit it again, until the numbers stay."""
    period = median_low([later - time for time, later in pairwise(taps_s)])
    index: tuple[int | None, ...] = ()
    for _ in range(_ROUNDS):
        found = _numbered(taps_s, period)
        if found == index:
            break
        index = found
        kept = [(k, time) for k, time in zip(index, taps_s, strict=True) if k is not None]
        _refuse_few(len(kept))
        period = theil_sen_slope(*zip(*kept, strict=True))
    return period, index


def _numbered(taps_s: Sequence[float], period: float) -> tuple[int | None, ...]:
    index: list[int | None] = [0]
    flash, last = 0, taps_s[0]
    for time in taps_s[1:]:
        gap = time - last
        if gap < EXTRA_UNDER * period:
            index.append(None)
            continue
        flash += max(1, round(gap / period))
        last = time
        index.append(flash)
    return tuple(index)


def _is_irregular(gap: float, period: float) -> bool:
    return abs(gap / period - max(1, round(gap / period))) > IRREGULAR_FROM


def _refuse_few(count: int) -> None:
    if count < FEWEST_TAPS:
        raise ValueError(f"a rate needs at least {FEWEST_TAPS} taps that count, not {count}")
