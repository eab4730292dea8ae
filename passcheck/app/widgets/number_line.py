"""Where does a reading lie between its limits, and how far may the instrument be wrong?

One row of signs and one row of figures. `┃` is a limit, `═` the band of twice the standard uncertainty, `●` the
reading, `─` inside, `·` outside. A reading far away is an arrow at the edge. No sign depends on colour; no figure is
finer than the uncertainty.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from passcheck.job.traveller import figure
from passcheck.judge.judgement import Judgement
from passcheck.judge.quantity import show_limit

NARROWEST: Final = 20
LIMIT, BAND, READING, INSIDE, OUTSIDE, LEFT, RIGHT = "┃", "═", "●", "─", "·", "◄", "►"
_BESIDE: Final = Decimal("0.25")  # of the width between the limits that is drawn beyond them
_FARTHEST: Final = Decimal(3)  # so many widths away a reading still gets its place; beyond it, an arrow

Scale = tuple[Decimal, Decimal]
"""The values at the first and at the last column."""


@dataclass(frozen=True, slots=True)
class NumberLine:
    """Two rows of equal width: the signs, and the figures that stand under them."""

    signs: str
    figures: str


def number_line(judgement: Judgement, width: int) -> NumberLine | None:
    """Draw a judgement `width` columns wide; None where it has no limits on a scale, or there is no room."""
    if width < NARROWEST or not judgement.unit:
        return None
    low, high = _number(judgement.low), _number(judgement.high)
    value, u = _number(judgement.value), _number(judgement.u) or Decimal(0)
    scale = scale_of(low, high, value, u)
    if scale is None:
        return None
    reading = [] if value is None else [(value, figure(judgement))]
    figures = figures_on(scale, width, [*reading, *limit_figures(low, high, judgement.unit)])
    return NumberLine(signs_on(scale, width, low, high, value, u), figures)


def signs_on(
    scale: Scale, width: int, low: Decimal | None, high: Decimal | None, value: Decimal | None, u: Decimal
) -> str:
    """Draw limits and a reading with its band on a given scale, so that several lines can be compared."""
    at = _Columns(*scale, width)
    signs = [_side(at.middle(column), low, high) for column in range(width)]
    for limit in (low, high):
        if limit is not None:
            signs[at.column(limit)] = LIMIT
    if value is not None:
        _draw_reading(signs, at, value, u)
    return "".join(signs)


@dataclass(frozen=True, slots=True)
class _Columns:
    """Turns values into columns of a scale."""

    start: Decimal
    end: Decimal
    width: int

    def column(self, value: Decimal) -> int:
        """The column of a value, the nearest one where it lies off the scale."""
        place = (value - self.start) / (self.end - self.start) * (self.width - 1)
        return min(max(int(place.to_integral_value()), 0), self.width - 1)

    def middle(self, column: int) -> Decimal:
        return self.start + (self.end - self.start) * column / (self.width - 1)

    def holds(self, value: Decimal) -> bool:
        return self.start <= value <= self.end


def _number(text: str | None) -> Decimal | None:
    return None if text is None else Decimal(text)


def scale_of(low: Decimal | None, high: Decimal | None, value: Decimal | None, u: Decimal) -> Scale | None:
    """The ends of the scale: the limits with some room, and the reading with its band where it isn't too far."""
    if low is not None and high is not None:
        span = high - low
        start, end = low - _BESIDE * span, high + _BESIDE * span
    elif high is not None:
        span = abs(high) or abs(value or Decimal(0)) or Decimal(1)
        start, end = high - span, high + _BESIDE * span
    elif low is not None:
        span = abs(low) or abs(value or Decimal(0)) or Decimal(1)
        start, end = low - _BESIDE * span, low + span
    else:
        return None
    if span == 0:
        return None
    if value is not None and start - _FARTHEST * span <= value <= end + _FARTHEST * span:
        start, end = min(start, value - 3 * u), max(end, value + 3 * u)
    return start, end


def _side(value: Decimal, low: Decimal | None, high: Decimal | None) -> str:
    inside = (low is None or low <= value) and (high is None or value <= high)
    return INSIDE if inside else OUTSIDE


def _draw_reading(signs: list[str], at: _Columns, value: Decimal, u: Decimal) -> None:
    if not at.holds(value):
        signs[at.column(value)] = LEFT if value < at.start else RIGHT
        return
    for column in range(at.column(value - 2 * u), at.column(value + 2 * u) + 1):
        if signs[column] != LIMIT:
            signs[column] = BAND
    # On a limit's own column the reading is drawn: what was read is never hidden by what was asked for.
    signs[at.column(value)] = READING


def figures_on(scale: Scale, width: int, wanted: Sequence[tuple[Decimal, str]]) -> str:
    """Figures under their values' columns; the first come first, each of the others where it still finds room."""
    at, row = _Columns(*scale, width), [" "] * width
    taken: list[range] = []
    for value, text in wanted:
        first = min(max(at.column(value) - len(text) // 2, 0), width - len(text))
        place = range(first - 1, first + len(text) + 1)
        if first < 0 or any(set(place) & set(other) for other in taken):
            continue
        row[first : first + len(text)] = text
        taken.append(range(first, first + len(text)))
    return "".join(row)


def limit_figures(low: Decimal | None, high: Decimal | None, unit: str) -> list[tuple[Decimal, str]]:
    """The limits that there are, each with its figure."""
    return [(limit, show_limit(limit, unit)) for limit in (low, high) if limit is not None]


class NumberLineView(Widget):
    """The number line of the latest judgement; nothing is drawn before there is one."""

    DEFAULT_CSS = """
    NumberLineView { height: 2; width: 1fr; }
    """

    judgement: reactive[Judgement | None] = reactive(None)

    def render(self) -> Content:
        """The signs in the colour of the verdict, the figures under them."""
        drawn = None if self.judgement is None else number_line(self.judgement, self.size.width)
        if drawn is None or self.judgement is None:
            return Content("")
        style = {"pass": "$success", "fail": "$error"}.get(self.judgement.verdict, "$warning")
        coloured = Content.assemble(*((sign, _style_of(sign, style)) for sign in drawn.signs))
        return Content("\n").join([coloured, Content(drawn.figures)])


def _style_of(sign: str, verdict_style: str) -> str:
    match sign:
        case "●" | "◄" | "►" | "═":
            return f"bold {verdict_style}"
        case "┃":
            return "bold"
        case _:
            return ""
