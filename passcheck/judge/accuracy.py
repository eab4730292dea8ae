"""How far off may an instrument be, and is it good enough for these limits?"""

import math
import re
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache
from typing import Final

from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity, QuantityError, parse_quantity, quoted
from passcheck.judge.units import tidy

LONGEST_TEXT: Final = 80
USUAL_BAND_C: Final = (18.0, 28.0)
"""Ambient temperatures in which a stated accuracy holds, where the instrument's own are not known."""
SPEC_PER_DEGREE: Final = 0.1
"""Share of the stated error that each degree outside the band adds; the usual figure of handheld meters."""
COVERAGE: Final = 1.96  # expanded uncertainty, 95 %, infinite degrees of freedom (GUM G.4)

_REMEMBERED: Final = 128  # texts: a bench has some tens of instruments

_PERCENT: Final = re.compile(r"([0-9.,]+) ?%(?: (?:of reading|rdg))?", re.IGNORECASE)
_COUNTS: Final = re.compile(r"([0-9]{1,4}) ?(?:digits?|counts?|dgts?)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Accuracy:
    """Largest error as the maker states it: percent of the reading, counts of the last digit and a fixed part.

    The three add up. `absolute` is None where no fixed part is stated.
    """

    percent: Decimal
    counts: Decimal
    text: str
    absolute: Quantity | None = None


def parse_accuracy(text: str) -> Accuracy:
    """Read `0.5 % + 3 digits`, `1 %`, `2 digits`, `± 17 ms`, `1 % + 2 mV`. Raises QuantityError."""
    return _parsed(text)  # every reading is judged by what its instrument's text says


@lru_cache(maxsize=_REMEMBERED)
def _parsed(text: str) -> Accuracy:
    if len(text) > LONGEST_TEXT:
        raise QuantityError(f"{quoted(text)} is longer than {LONGEST_TEXT} characters; write 0.5 % + 3 digits")
    written = tidy(text)
    inner = re.sub(r"^(?:±|\+/-|\+-) ?", "", written)
    if inner.startswith("(") and inner.endswith(")"):
        inner = inner[1:-1]
    percent, counts, absolute = None, None, None
    for part in re.split(r" ?\+ ?", inner.strip()):
        if percent is None and (match := _PERCENT.fullmatch(part)):
            percent = parse_quantity(match[1], "").value
        elif counts is None and (match := _COUNTS.fullmatch(part)):
            counts = Decimal(match[1])
        elif absolute is None:
            absolute = _fixed_part(part, text)
        else:
            raise QuantityError(f"{quoted(text)} states the same kind of error twice; write 0.5 % + 3 digits")
    if not (percent or counts or absolute):
        raise QuantityError(
            f"{quoted(text)} claims no error at all; write the maker's figure, such as 0.5 % + 3 digits"
        )
    return Accuracy(percent or Decimal(0), counts or Decimal(0), written, absolute)


def _fixed_part(part: str, text: str) -> Quantity:
    try:
        fixed = parse_quantity(part)
    except QuantityError as fault:
        raise QuantityError(f"{quoted(text)} is not an accuracy; write 0.5 % + 3 digits ({fault})") from None
    if not fixed.unit or fixed.unit == "%":
        raise QuantityError(f"{quoted(text)}: {quoted(part)} of what? Write digits or a unit, such as 0.5 % + 3 digits")
    if fixed.value <= 0:
        raise QuantityError(f"{quoted(text)}: an error is larger than nothing; write ± 17 ms")
    return fixed


def largest_error(
    accuracy: Accuracy,
    value: Decimal,
    digit: Decimal,
    ambient_c: float | None = None,
    band_c: tuple[float, float] | None = None,
) -> float:
    """Return the largest stated error a in the base unit: |x| p/100 + N digits + fixed part.

    Outside the band the error grows by a tenth of itself a degree; without `band_c` the band is 18 to 28 °C, without
    `ambient_c` the bench is taken to be inside it. `digit` is the last digit's weight on the range used.
    """
    fixed = accuracy.absolute.value if accuracy.absolute is not None else Decimal(0)
    stated = float(abs(value)) * float(accuracy.percent) / 100 + float(accuracy.counts * digit + fixed)
    return stated * ambient_factor(ambient_c, band_c)


def ambient_factor(ambient_c: float | None, band_c: tuple[float, float] | None = None) -> float:
    """Return by what an error grows at this temperature: 1 inside the band and where the temperature isn't known."""
    if ambient_c is None:
        return 1.0
    low, high = band_c or USUAL_BAND_C
    return 1 + SPEC_PER_DEGREE * max(0.0, ambient_c - high, low - ambient_c)


def at_ambient(accuracy: Accuracy, ambient_c: float | None, band_c: tuple[float, float] | None = None) -> Accuracy:
    """Return the accuracy as it is at this temperature, every part of it grown alike."""
    factor = ambient_factor(ambient_c, band_c)
    if factor == 1:
        return accuracy
    grown = Decimal(repr(factor))
    fixed = accuracy.absolute
    return Accuracy(
        accuracy.percent * grown,
        accuracy.counts * grown,
        f"{accuracy.text}, {factor:.3g} times that at {ambient_c:g} °C",
        None if fixed is None else replace(fixed, value=fixed.value * grown),
    )


def standard_uncertainty(
    accuracy: Accuracy,
    value: Decimal,
    digit: Decimal,
    ambient_c: float | None = None,
    band_c: tuple[float, float] | None = None,
) -> float:
    """Return u_B in the base unit: the largest stated error as a rectangle, so divided by root three (GUM 4.3.7)."""
    return largest_error(accuracy, value, digit, ambient_c, band_c) / math.sqrt(3)


def capability(limits: Limits, accuracy: Accuracy, digit: Decimal) -> float | None:
    """Return (high - low) / (2 U) with U = 1.96 u at the middle of the limits; None for a one-sided limit.

    Under 4 is worth a warning; under 1 no reading can reach a probability of conformity of 0.95.
    """
    if limits.low is None or limits.high is None:
        return None
    middle = (limits.low.value + limits.high.value) / 2
    expanded = COVERAGE * standard_uncertainty(accuracy, middle, digit)
    return float(limits.high.value - limits.low.value) / (2 * expanded) if expanded else math.inf


def no_worse(candidate: Accuracy, required: Accuracy) -> bool:
    """Is the candidate at least as good as the required accuracy in every part?

    Parts are compared one by one: more counts are worse even with fewer percent, because the range decides which of
    the two weighs more. A fixed part counts as worse where none is allowed, or in another unit.
    """
    if candidate.percent > required.percent or candidate.counts > required.counts:
        return False
    if candidate.absolute is None:
        return True
    allowed = required.absolute
    return allowed is not None and allowed.unit == candidate.absolute.unit and candidate.absolute.value <= allowed.value
