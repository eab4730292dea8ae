"""How far is a scale off, in percent of its span, and how straight is it?

Terms after IEC 61298-2. Errors at the ends are given apart, because they hide inside a terminal-based linearity.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from passcheck.judge.line_fit import least_squares, narrowest_band

MOST_MARKS: Final = 200
DIVISION_SHARE: Final = 5
"""An eye reads a scale to a fifth of a division either way."""


@dataclass(frozen=True, slots=True)
class Linearity:
    """All in percent of span; errors carry their sign, everything else is a size.

    `errors` and the linearities are those of the rising readings, `max_error` looks at both directions. `errors_down`
    and `hysteresis` are None where only one direction was walked.
    """

    errors: tuple[float, ...]
    errors_down: tuple[float, ...] | None
    max_error: float
    terminal_based: float
    least_squares: float
    independent: float
    hysteresis: float | None
    end_low: float
    end_high: float


def linearity(
    expected: Sequence[float], up: Sequence[float], down: Sequence[float] | None = None, span: float | None = None
) -> Linearity:
    """Compare readings with what the marks should show, in one unit; without `span` it is that of `expected`.

    e = 100 (reading - expected)/span. Terminal-based: largest distance from the line through both end points.
    Independent: half the narrowest band that holds all points. Raises ValueError for rows that don't match, fewer than
    three marks, or no span.
    """
    if len(up) != len(expected) or (down is not None and len(down) != len(expected)):
        raise ValueError("marks need as many readings as expected values, in each direction")
    if not 3 <= len(expected) <= MOST_MARKS:
        raise ValueError(f"linearity needs 3 to {MOST_MARKS} marks, not {len(expected)}")
    width = max(expected) - min(expected) if span is None else span
    if not 0 < width < math.inf:
        raise ValueError("a scale needs a span above 0")
    scale = 100 / width
    errors = tuple(scale * (read - mark) for mark, read in zip(expected, up, strict=True))
    falling = None if down is None else tuple(scale * (read - mark) for mark, read in zip(expected, down, strict=True))
    fit = least_squares(expected, up)
    low, high = (pick(range(len(expected)), key=lambda place: expected[place]) for pick in (min, max))
    return Linearity(
        errors=errors,
        errors_down=falling,
        max_error=max(abs(each) for each in (*errors, *(falling or ()))),
        terminal_based=scale * _terminal_based(expected, up, low, high),
        least_squares=scale
        * max(abs(read - fit.intercept - fit.slope * mark) for mark, read in zip(expected, up, strict=True)),
        independent=scale * narrowest_band(expected, up),
        hysteresis=None if down is None else scale * hysteresis(up, down),
        end_low=errors[low],
        end_high=errors[high],
    )


def hysteresis(up: Sequence[float], down: Sequence[float]) -> float:
    """Return the largest difference between rising and falling at one mark, in the readings' unit."""
    return max(abs(rising - falling) for rising, falling in zip(up, down, strict=True))


def half_width_of_a_division(division: float) -> float:
    """Return how far an eye reads a scale off either way: a fifth of a division, in its unit."""
    return division / DIVISION_SHARE


def scale_reading_u(half_width: float) -> float:
    """Return the standard uncertainty of a reading by eye with that half-width, as a rectangle (GUM 4.3.7)."""
    return half_width / math.sqrt(3)


def _terminal_based(expected: Sequence[float], up: Sequence[float], low: int, high: int) -> float:
    slope = (up[high] - up[low]) / (expected[high] - expected[low])
    return max(abs(read - up[low] - slope * (mark - expected[low])) for mark, read in zip(expected, up, strict=True))
