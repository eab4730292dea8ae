"""Which round numbers stand along an axis, and where?"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil, floor, isfinite, log10

MOST_TICKS = 6
_STEPS = (Decimal(1), Decimal(2), Decimal(5), Decimal(10))


@dataclass(frozen=True, slots=True)
class Tick:
    """A round number and its place, a share of the axis from 0 to 1."""

    at: float
    text: str


@dataclass(frozen=True, slots=True)
class Axis:
    """An axis from `low` to `high`, both round numbers."""

    low: Decimal
    high: Decimal
    step: Decimal

    def share(self, value: float) -> float:
        """The place of a value, at the ends at the furthest."""
        low, high = float(self.low), float(self.high)
        return round(min(max((value - low) / (high - low), 0.0), 1.0), 4)

    @property
    def ticks(self) -> tuple[Tick, ...]:
        """Every round number from end to end."""
        count = int((self.high - self.low) / self.step)
        values = (self.low + self.step * number for number in range(count + 1))
        return tuple(Tick(self.share(float(value)), shown(value)) for value in values)


def axis(values: Sequence[float]) -> Axis:
    """The axis that holds all values and goes on to the next round number at both ends; endless ones are left out."""
    known = [value for value in values if isfinite(value)] or [0.0]
    low, high = min(known), max(known)
    if high == low:
        around = abs(high) / 10 or 1.0
        low, high = low - around, high + around
    step = _step((high - low) / (MOST_TICKS - 1))
    return Axis(step * floor(low / float(step)), step * ceil(high / float(step)), step)


def shown(value: Decimal) -> str:
    """A round number with no more digits than it has."""
    text = f"{value.normalize():f}"
    return text.replace("-", "\N{MINUS SIGN}") if value else "0"


def _step(least: float) -> Decimal:
    """The first of 1, 2, 5 times a power of ten that isn't below."""
    power = Decimal(1).scaleb(floor(log10(least)))
    return next(power * one for one in _STEPS if float(power * one) >= least * (1 - 1e-9))
