"""Between which limits must a value lie?"""

from dataclasses import dataclass
from decimal import Decimal

from passcheck.judge.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Limits:
    """A low limit, a high limit or both, in one unit; the limits themselves are inside."""

    low: Quantity | None
    high: Quantity | None
    nominal: Quantity | None
    unit: str
    text: str

    def holds(self, value: Decimal) -> bool:
        """Is the value, in the base unit, inside?"""

    def words(self) -> str:
        """Return the limits as written, with spaces and signs made regular."""


def parse_limits(text: str, unit: str | None = None) -> Limits:
    """Read `4.85 V .. 5.15 V`, `5.00 V ± 3 %`, `at most 60 mV`, `at least 150 Ω`."""
