"""How do people write quantities, and which of those writings can be read in one way only?"""

from dataclasses import dataclass
from decimal import Decimal


class QuantityError(ValueError):
    """The text can't be read as a quantity in exactly one way; the message says why and what to write."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number in the SI base unit; `digit` is the weight of the last digit that was written, in the same unit."""

    value: Decimal
    unit: str
    digit: Decimal
    text: str


@dataclass(frozen=True, slots=True)
class OverRange:
    """The instrument showed over range. `bound` is the number after `>` in the base unit, None where none was given.

    `below` is True for a negative over range: smaller than anything, not larger.
    """

    unit: str
    text: str
    bound: Decimal | None = None
    below: bool = False


def parse_quantity(text: str, unit: str | None = None) -> Quantity:
    """Read a number with its unit; a bare number takes `unit`, another unit than `unit` is refused."""


def parse_reading(text: str, unit: str | None = None) -> Quantity | OverRange:
    """Read what an instrument shows: a quantity, or `OL`, `> 20 MΩ`, 9.9E+37 as over range."""


def show(value: Decimal | float, unit: str, digit: Decimal | None = None) -> str:
    """Write a value with its engineering prefix, no finer than `digit`: `24 mV`, `4.7 kΩ`."""


def six(value: Decimal | float) -> str:
    """Write a value as a plain decimal string of at most six significant digits."""
