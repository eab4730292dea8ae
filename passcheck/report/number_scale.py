"""Where on its line does a reading stand, beside its limits?

The scale is chosen so that the limits take the middle and a reading near them is seen; what lies further out stands at
the end, with an arrow. Places are shares of the line's length, from 0 on the left to 1 on the right.
"""

from dataclasses import dataclass
from math import isfinite
from typing import Literal

from passcheck.report.document import NumberLine

ROOM = 0.35
"""Beyond each limit there is at least this share of the distance between them."""
FURTHEST = 1.2
"""So many distances beyond a limit a reading is still drawn in its place."""
Beyond = Literal["", "left", "right"]


@dataclass(frozen=True, slots=True)
class Mark:
    """A reading on the line; `beyond` says at which end it lies outside the scale."""

    at: float
    beyond: Beyond


@dataclass(frozen=True, slots=True)
class Scaled:
    """A number line as shares of its length.

    Attributes:
        low, high: the limits; None where there is none on that side.
        bar: from where to where the reading may lie.
        value, before: the readings; `before` is None where there is none.
    """

    low: float | None
    high: float | None
    bar: tuple[float, float]
    value: Mark
    before: Mark | None


def scaled(line: NumberLine) -> Scaled:
    """The line with everything in its place."""
    ends = _ends(line)
    within = abs(line.within) if isfinite(line.within) else 0.0
    return Scaled(
        low=None if line.low is None else _share(line.low, ends),
        high=None if line.high is None else _share(line.high, ends),
        bar=(_share(line.value - within, ends), _share(line.value + within, ends)),
        value=_mark(line.value, ends),
        before=None if line.before is None else _mark(line.before, ends),
    )


def _ends(line: NumberLine) -> tuple[float, float]:
    """What the line's two ends are."""
    if line.low is not None and line.high is not None:
        return _between(line, line.low, line.high)
    limit = line.low if line.high is None else line.high
    if limit is not None:
        return _one_sided(line, limit)
    if not isfinite(line.value):
        return 0.0, 1.0
    far = max(3 * abs(line.within), abs(line.value) / 10) or 1.0
    return line.value - far, line.value + far


def _between(line: NumberLine, low: float, high: float) -> tuple[float, float]:
    distance = (high - low) or max(2 * abs(line.within), abs(high) / 10) or 1.0
    readings = [line.value, *(() if line.before is None else (line.before,))]
    near, far = ROOM * distance, FURTHEST * distance
    return (
        min(low - near, max(low - far, min(readings) - near / 2)),
        max(high + near, min(high + far, max(readings) + near / 2)),
    )


def _one_sided(line: NumberLine, limit: float) -> tuple[float, float]:
    """From nought to beyond the limit, at most to three times of it; the same the other way round below nought."""
    size = abs(limit) or max(abs(line.value), 2 * abs(line.within)) or 1.0
    readings = [line.value, *(() if line.before is None else (line.before,))]
    left = min(0.0, limit - (size / 2 if limit <= 0 else 0), max(min(readings), -2 * size))
    right = max(0.0, limit + size / 2, min(1.1 * max(readings), limit + 2 * size))
    return left, right


def _mark(value: float, ends: tuple[float, float]) -> Mark:
    beyond: Beyond = "left" if value < ends[0] else "right" if value > ends[1] else ""
    return Mark(_share(value, ends), beyond)


def _share(value: float, ends: tuple[float, float]) -> float:
    """Place on the line, at its ends at the furthest; rounded, so that the same reading gives the same page."""
    left, right = ends
    share = (value - left) / (right - left)
    return round(min(max(0.0, share), 1.0), 4)
