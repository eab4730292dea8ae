"""How many of the units that went out came back, when most of them are still out there?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from passcheck.judge.chi_square import chi_square_tail
from passcheck.judge.normal import normal_quantile
from passcheck.judge.rounding import finest, rounded

FEWEST_TO_COMPARE: Final = 5
"""Returns in each of two periods, below which a comparison of them says nothing."""


@dataclass(frozen=True, slots=True)
class SurvivalRow:
    """The share of units still out after the returns of one day; `se` is None once no unit is left."""

    day: float
    at_risk: int
    returns: int
    survival: float
    se: float | None


@dataclass(frozen=True, slots=True)
class Survival:
    """Rows of the days on which units came back, in order; `followed_days` is the age of the unit longest out."""

    rows: tuple[SurvivalRow, ...]
    units: int
    followed_days: float


@dataclass(frozen=True, slots=True)
class SurvivalAt:
    """The share still out at an age, with its interval; `low` and `high` are None where none can be stated.

    `is_followed` is False beyond the age of the oldest unit: the share is the last one known, and can only be lower.
    """

    day: float
    survival: float
    se: float | None
    low: float | None
    high: float | None
    is_followed: bool


def survival(days: Sequence[float], returned: Sequence[bool]) -> Survival:
    """Return the Kaplan-Meier curve with Greenwood's error; a unit not returned is censored at its age.

    S = prod (1 - d/n); se = S sqrt(sum d / (n (n - d))) (Kaplan and Meier 1958). At equal ages returns come before
    censorings. Returned over shipped would be too low while units are young. Raises ValueError for no units, rows that
    don't match, or ages below 0.
    """
    if not days or len(days) != len(returned) or not all(0 <= day < math.inf for day in days):
        raise ValueError(f"{len(days)} ages and {len(returned)} fates; each unit has both, and an age of 0 or more")
    share, greenwood, rows, at_risk = 1.0, 0.0, [], len(days)
    for day, fates in groupby(sorted(zip(days, returned, strict=True)), key=lambda unit: unit[0]):
        here = [came_back for _day, came_back in fates]
        back = sum(here)
        if back:
            share *= 1 - back / at_risk
            greenwood += back / (at_risk * (at_risk - back)) if back < at_risk else 0.0
            se = share * math.sqrt(greenwood) if back < at_risk else None
            rows.append(SurvivalRow(day, at_risk, back, share, se))
        at_risk -= len(here)
    return Survival(tuple(rows), len(days), max(days))


def survival_at(curve: Survival, day: float, level: float = 0.95) -> SurvivalAt:
    """Return the share still out at the age `day`; its interval is made on the scale ln(-ln S), so it stays in 0 .. 1.

    Raises ValueError for an age below 0 or a level outside 0 .. 1.
    """
    if not 0 <= day < math.inf or not 0 < level < 1:
        raise ValueError(f"an age of 0 days or more and a level between 0 and 1 are needed, not {day} and {level}")
    rows = [row for row in curve.rows if row.day <= day]
    share, se = (rows[-1].survival, rows[-1].se) if rows else (1.0, 0.0)
    is_followed = day <= curve.followed_days or share == 0
    if not se:
        return SurvivalAt(day, share, se, None, None, is_followed)
    width = normal_quantile((1 + level) / 2) * se / (share * abs(math.log(share)))
    low, high = (share ** math.exp(sign * width) for sign in (1, -1))
    return SurvivalAt(day, share, se, low, high, is_followed)


def returns_sentence(curve: Survival, found: SurvivalAt) -> str:
    """Return how many of 1000 units are back by that age, and how far this is known at all."""
    back = sum(row.returns for row in curve.rows)
    told = f"{back} of {curve.units} units came back; units still out are counted up to their age"
    if not found.is_followed:
        return f"{told}, and none has been out for {rounded(found.day, 4)} days: more may come back by then."
    return f"{told}: by day {rounded(found.day, 4)} about {back_of_1000(found)} of 1000 are back."


def back_of_1000(found: SurvivalAt) -> str:
    """Return how many of 1000 are back, no finer than the standard error and in two digits at most.

    Ten units tell hundreds of 1000, and a hundred units tens.
    """
    back = 1000 * (1 - found.survival)
    return rounded(finest(back, 1000 * found.se) if found.se else back, 2)


def log_rank(days: tuple[Sequence[float], Sequence[float]], came_back: tuple[Sequence[bool], Sequence[bool]]) -> float:
    """Return the two-sided p of the log-rank test that two periods have the same returns (Mantel 1966).

    Raises ValueError with fewer than five returns in either period.
    """
    if min(sum(each) for each in came_back) < FEWEST_TO_COMPARE:
        raise ValueError(f"fewer than {FEWEST_TO_COMPARE} returns in a period; they can't be compared yet")
    fates = [(day, back, group) for group in (0, 1) for day, back in zip(days[group], came_back[group], strict=True)]
    n, first = len(fates), len(days[0])  # at risk, in both periods and in the first of them
    excess = variance = 0.0
    for _day, at_that_age in groupby(sorted(fates), key=lambda fate: fate[0]):
        here = [(back, group) for _day, back, group in at_that_age]
        d = sum(back for back, _group in here)
        if d:
            excess += sum(back and group == 0 for back, group in here) - d * first / n
            variance += d * first * (n - first) * (n - d) / (n * n * (n - 1)) if n > 1 else 0.0
        n, first = n - len(here), first - sum(group == 0 for _back, group in here)
    return chi_square_tail(excess * excess / variance, 1) if variance else 1.0
