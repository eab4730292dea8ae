"""How far off may an instrument be, and is it good enough for these limits?"""

from dataclasses import dataclass
from decimal import Decimal

from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Accuracy:
    """Largest error as the maker states it: percent of the reading, plus counts of the last digit, plus a fixed part."""

    percent: Decimal
    counts: Decimal
    text: str
    absolute: Quantity | None = None


def parse_accuracy(text: str) -> Accuracy:
    """Read `0.5 % + 3 digits`, `1 %`, `2 digits`, `± 17 ms`."""


def standard_uncertainty(
    accuracy: Accuracy,
    value: Decimal,
    digit: Decimal,
    ambient_c: float | None = None,
    band_c: tuple[float, float] | None = None,
) -> float:
    """Return u_B in the base unit: the stated error as a rectangle, divided by the root of three (GUM 4.3.7)."""


def capability(limits: Limits, accuracy: Accuracy, digit: Decimal) -> float | None:
    """Return tolerance over expanded uncertainty; None for a one-sided limit."""


def no_worse(candidate: Accuracy, required: Accuracy) -> bool:
    """Is the candidate at least as good as the required accuracy in every part?"""
