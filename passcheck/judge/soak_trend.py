"""What may be said about the course of a value over a soak?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from passcheck.judge.drift import FEWEST_FOR_A_STATEMENT, SIGNIFICANT, Drift, drift
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import show
from passcheck.judge.rounding import rounded
from passcheck.judge.sentence import decade

SHARE_OF_MARGIN: Final = 0.25
"""A slope matters when it would use up this share of the distance to the limit until the next service."""


@dataclass(frozen=True, slots=True)
class SoakTrend:
    """The course of a value; `change` with its standard uncertainty and `distance` to the limit are in the base unit.

    `drifts` is None where nothing may be said on drift: too few readings. `distance` is from the last reading to the
    limit that the change heads for (the nearer one while it has no direction), negative beyond it, None without one.
    """

    count: int
    first: Decimal
    last: Decimal
    change: Decimal
    u_change: float
    distance: Decimal | None
    drifts: bool | None
    line: Drift | None
    sentence: str


def soak_trend(
    hours: Sequence[float],
    values: Sequence[Decimal],
    u: float,
    limits: Limits,
    service_h: float,
    warm_up_h: float = 0.0,
) -> SoakTrend:
    """Tell the course of readings taken at `hours` after the start, those of the first `warm_up_h` left out.

    `u` is the standard uncertainty of one reading, `service_h` the hours until the unit is looked at again. It drifts
    when the corrected slope is significant at 0.05 and would use more than a quarter of the way to its limit in that
    time. Raises ValueError when fewer than two readings are left.
    """
    kept = sorted((hour, value) for hour, value in zip(hours, values, strict=True) if hour >= warm_up_h)
    if len(kept) < 2:
        raise ValueError(f"{len(kept)} readings after warm-up; a course has a first and a last one")
    first, last = kept[0][1], kept[-1][1]
    change, u_change = last - first, math.sqrt(2) * u
    if len(kept) < FEWEST_FOR_A_STATEMENT:
        distance = _distance(last, limits, float(change))
        facts = _facts(len(kept), first, last, u, limits, distance)
        sentence = f"{facts} Too few readings to say whether it drifts."
        return SoakTrend(len(kept), first, last, change, u_change, distance, None, None, sentence)
    line = drift([hour for hour, _value in kept], [float(value) for _hour, value in kept])
    distance = _distance(last, limits, line.slope_per_h)
    drifts = line.p_corrected < SIGNIFICANT and _matters(line.slope_per_h * service_h, distance)
    facts = _facts(len(kept), first, last, u, limits, distance)
    told = _statement(line, drifts, distance is not None, service_h, limits.unit)
    return SoakTrend(len(kept), first, last, change, u_change, distance, drifts, line, f"{facts} {told}")


def _distance(last: Decimal, limits: Limits, heading: float) -> Decimal | None:
    """From the last reading to the limit that it heads for; while it stands still, to the nearer one."""
    up = None if limits.high is None else limits.high.value - last
    down = None if limits.low is None else last - limits.low.value
    if heading > 0 or down is None:
        return up if heading >= 0 else None
    if heading < 0 or up is None:
        return down if heading <= 0 else None
    return min(up, down)


def _matters(change_to_service: float, distance: Decimal | None) -> bool:
    return distance is not None and abs(change_to_service) > SHARE_OF_MARGIN * float(distance)


def _facts(count: int, first: Decimal, last: Decimal, u: float, limits: Limits, distance: Decimal | None) -> str:
    digit = decade(u) if u > 0 else None
    unit = limits.unit
    spread = show(2 * math.sqrt(2) * u, unit, digit)
    end = "no limit on that side"
    if distance is not None:
        end = f"{show(abs(distance), unit, digit)} {'from' if distance >= 0 else 'beyond'} the limit"
    return (
        f"{count} readings after warm-up: first {show(first, unit, digit)}, last {show(last, unit, digit)}, "
        f"change {show(last - first, unit, digit)} ± {spread}, {end} of {limits.words()}."
    )


def _statement(line: Drift, drifts: bool, limited: bool, service_h: float, unit: str) -> str:
    until = f"within {rounded(service_h, 4)} h"
    if drifts:
        way = show(abs(line.slope_per_h) * service_h, unit, decade(line.slope_per_h * service_h))
        return f"It drifts: {way} {until} at this slope, more than a quarter of the way to its limit."
    if line.p_corrected < SIGNIFICANT and not limited:
        return "It moves, away from its only limit."
    if line.p_corrected < SIGNIFICANT:
        return f"It moves, but by less than a quarter of the way to its limit {until}."
    return "No drift stands out from the scatter of these readings."
