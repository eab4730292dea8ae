"""What does an instrument show of a true value?

Each instrument of a bench has an error of its own, anywhere inside what its maker states, and keeps it: that is what
the judge assumes of it (a rectangle, GUM 4.3.7). What the maker states holds for the figure shown, so the last digit's
rounding and flicker are inside it, not on top.
"""

from collections.abc import Iterable
from decimal import ROUND_FLOOR, Decimal
from random import Random

from passcheck.judge.accuracy import Accuracy, largest_error
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import show, unit_part
from passcheck.judge.units import named_unit

FLICKER = 0.3  # of the last digit, one standard deviation
LEAST_OWN = 0.5  # of the stated error is the instrument's own even where a digit is most of it
FIGURES = 4
FINEST_OHM = Decimal("0.01")


class Meters:
    """The instruments of one bench, each with its own error as a share of the largest that is stated."""

    def __init__(self, names: Iterable[str], draw: Random) -> None:
        self._shares = {name: draw.uniform(-1.0, 1.0) for name in sorted(names)}

    def shown(self, name: str, accuracy: Accuracy, value: float, digit: Decimal, draw: Random) -> Decimal:
        """The figure on the display, in the base unit, to its last digit."""
        largest = largest_error(accuracy, Decimal(repr(value)), digit)
        error = self._shares.get(name, 0.0) * max(largest - float(digit), largest * LEAST_OWN)
        figure = value + error + draw.gauss(0, FLICKER) * float(digit)
        steps = (Decimal(repr(figure)) / digit + Decimal("0.5")).to_integral_value(ROUND_FLOOR)
        return steps * digit


def digit_for(limits: Limits, value: float) -> Decimal:
    """The weight of the last digit on the range that a technician takes.

    At least as fine as the limits are written, finer up to four figures, as hand-held meters show them, and never finer
    than a hundredth of the limits' last digit: near zero a meter has no finer range. Ohms alone reach from megohms to
    hundredths on one knob, so a contact that should be open and has welded reads 0.20 Ω.
    """
    written = min(end.digit for end in (limits.low, limits.high) if end is not None)
    coarsest = Decimal(1).scaleb(written.adjusted())
    first = Decimal(1).scaleb(Decimal(repr(value)).adjusted()) if value else coarsest
    finest = min(coarsest / 100, FINEST_OHM) if limits.unit == "Ω" else coarsest / 100
    return max(min(coarsest, first.scaleb(1 - FIGURES)), finest)


def display(figure: Decimal, unit: str, digit: Decimal) -> str:
    """The figure as people write it down, such as `5.01 V` or `142 mVpp`."""
    return show(figure, unit, digit)


def display_for(figure: Decimal, limits: Limits, digit: Decimal) -> str:
    """The figure in the unit that the limits are written in, such as `0.165 A` for limits in amperes.

    An entry takes a bare number in that unit, so a newcomer who types the figures alone is understood.
    """
    written = next((end.text for end in (limits.high, limits.low) if end is not None and end.text), "")
    written = unit_part(written) if written else ""
    known = named_unit(written)
    if known is None or known[0] != limits.unit or (known[1] > 1 and limits.unit == "s"):
        return display(figure, limits.unit, digit)
    last = Decimal(1).scaleb(min(0, (digit / known[1]).adjusted()))
    shown = (figure / known[1]).quantize(last)
    return f"{shown if shown else abs(shown)} {written}"
