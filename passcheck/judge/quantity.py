"""How do people write quantities, and which of those writings can be read in one way only?"""

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Context, Decimal
from functools import lru_cache
from typing import Final

from passcheck.judge.numeral import Numeral, read_numeral
from passcheck.judge.units import PREFIXES, UNITS, named_unit, nearest_spellings, prefix_factor, tidy

LONGEST_TEXT: Final = 64
OVERLOAD: Final = Decimal("9E37")
"""Many instruments send 9.9E+37 for over range, so nothing from here up is a reading."""

_LARGEST: Final = Decimal("1E15")
_REMEMBERED: Final = 1024  # texts: the limits of a few boards and what one job's instruments showed
_FINEST: Final = -24  # power of ten of the last digit
_WIDE: Final = Context(prec=60)
_SIX: Final = Context(prec=6, rounding=ROUND_HALF_EVEN)

_OVER: Final = re.compile(r"([+-]?) ?(?:\.?O\.?L\.?|OVLD|over range)(?:$| (.+))", re.IGNORECASE)
_ZERO_FOR_O: Final = re.compile(r"[+-]?0\.?[LI]", re.IGNORECASE)


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
    """Read a number with its unit, such as `4.85 V`, `465 mV`, `4k7`, `20 min`.

    A bare number takes the base unit `unit`, and a prefix alone (`465m`) goes with it; another unit is refused.
    Without `unit` a bare number has the unit "", and `R`, `k`, `M`, `G` alone are the letter code of resistors.
    Raises QuantityError for everything that could be read in two ways.
    """
    reading = parse_reading(text, unit)
    if isinstance(reading, OverRange):
        raise QuantityError(f"{quoted(text)} is over range, not a value; write a number with its unit")
    return reading


def parse_reading(text: str, unit: str | None = None) -> Quantity | OverRange:
    """Read what an instrument shows: a quantity as in `parse_quantity`, or over range.

    Over range is written `OL`, `O.L`, `OL MΩ`, `> 20 MΩ`, or is a magnitude of 9E37 and more. Raises QuantityError.
    """
    return _parsed(text, unit)  # a text means the same each time it is read: a soak reads all its meters at each look


@lru_cache(maxsize=_REMEMBERED)
def _parsed(text: str, unit: str | None) -> Quantity | OverRange:
    if unit is not None and unit and unit not in UNITS:
        raise QuantityError(f"{quoted(unit)} is not a base unit; expect one of {', '.join(UNITS)}")
    if len(text) > LONGEST_TEXT:
        raise QuantityError(f"{quoted(text)} is longer than {LONGEST_TEXT} characters; write one number with its unit")
    written = tidy(text)
    over = _over_range(written, unit)
    if over is not None:
        return over
    value, digit, found = _read(written, unit)
    if abs(value) >= OVERLOAD:
        return OverRange(found, written, below=value < 0)
    if abs(value) >= _LARGEST or digit.adjusted() < _FINEST or digit >= _LARGEST:
        raise QuantityError(f"{quoted(text)} is beyond anything that a bench measures; check the exponent")
    return Quantity(value, found, digit, _spaced(written))


def unit_part(text: str) -> str:
    """Return what stands after the number, such as `mV` in `5 mV`; "" for a bare or letter-coded number."""
    try:
        numeral = read_numeral(tidy(text))
    except ValueError as fault:
        raise QuantityError(f"{quoted(text)}: {fault}") from None
    return numeral.rest


def show(value: Decimal | float, unit: str, digit: Decimal | None = None) -> str:
    """Write a value in the base unit `unit` with its engineering prefix: `24 mV`, `4.7 kΩ`, `5.01 V`.

    Digits are no finer than the power of ten of `digit`, and zeros up to it are kept; without it six digits at most.
    """
    exact = _decimal(value)
    if unit == "s" and digit is not None and digit % 60 == 0:  # written as `4 h` or `20 min`
        name, size = ("h", 3600) if digit % 3600 == 0 else ("min", 60)
        return f"{exact / size:.0f} {name}"
    if digit is None:
        rounded = _SIX.plus(exact).normalize(_WIDE)
        last = int(rounded.as_tuple().exponent) if rounded else 0
    else:
        # A digit of 36 s (0.01 h) is no power of ten: the one below it loses nothing.
        last = digit.adjusted() - (digit.normalize().as_tuple().digits != (1,))
        rounded = exact.quantize(Decimal(1).scaleb(last), ROUND_HALF_EVEN, _WIDE)
    rounded = rounded if rounded else abs(rounded)
    power = max(3 * (rounded.adjusted() // 3), -3 * (-last // 3)) if rounded else -3 * (-last // 3)
    prefix = _best_prefix(unit, power)
    number = f"{rounded.scaleb(-PREFIXES[prefix], _WIDE):f}"
    return f"{number} {prefix}{unit}" if unit else number


def show_limit(limit: Decimal, unit: str) -> str:
    """Write a limit with every digit that it has and the prefix that people write: `60 mV`, `10 kΩ`, `0.64 %`."""
    written = limit.normalize(_WIDE)
    own = int(written.as_tuple().exponent)
    prefix = _best_prefix(unit, 3 * (written.adjusted() // 3)) if written else ""
    return show(written, unit, Decimal(1).scaleb(min(own, PREFIXES[prefix])))


def six(value: Decimal | float) -> str:
    """Write a value as a plain decimal string of at most six significant digits, never with an exponent."""
    number = f"{_SIX.plus(_decimal(value)):f}"
    if "." in number:
        number = number.rstrip("0").rstrip(".")
    return "0" if number in {"-0", ""} else number


def quoted(text: str) -> str:
    """Return a short printable form of a text from outside, for use in a message."""
    clean = "".join(sign if sign.isprintable() else "?" for sign in text[:41])
    return f"'{clean}'" if len(clean) <= 40 else f"'{clean[:37]}...'"


def _spaced(written: str) -> str:
    """Part the number from a unit that is written out: `60mVpp` is shown as `60 mVpp`, `4k7` and `465m` as they are."""
    unit = unit_part(written)
    if unit == "R" or named_unit(unit) is None:
        return written
    return f"{written.removesuffix(unit).rstrip()} {unit}"


def _decimal(value: Decimal | float) -> Decimal:
    return value if isinstance(value, Decimal) else Decimal(repr(float(value)))


def _best_prefix(unit: str, power: int) -> str:
    powers: dict[int, str] = {PREFIXES[prefix]: prefix for prefix in ("", *UNITS.get(unit, ""))}
    fitting = [known for known in powers if known <= power]
    return powers[max(fitting) if fitting else min(powers)]


def _over_range(written: str, unit: str | None) -> OverRange | None:
    if written.startswith(">"):
        value, _digit, found = _read(written[1:].strip(), unit)
        if value <= 0:
            raise QuantityError(f"{quoted(written)}: over range is larger than something; write OL or > 20 MΩ")
        return OverRange(found, written, bound=value if value < OVERLOAD else None)
    match = _OVER.fullmatch(written)
    if match is None:
        if _ZERO_FOR_O.fullmatch(written):
            raise QuantityError(f"{quoted(written)} begins with a zero; write OL, with the letter, for over range")
        return None
    sign, after = match.groups()
    found = _unit_of(after, written)[0] if after else unit or ""
    _refuse_other_unit(found, unit, written)
    return OverRange(found, written, below=sign == "-")


def _read(written: str, unit: str | None) -> tuple[Decimal, Decimal, str]:
    """Return value and digit in the base unit, and that unit."""
    try:
        numeral = read_numeral(written)
    except ValueError as fault:
        raise QuantityError(f"{quoted(written)}: {fault}") from None
    factor, found = _letter(numeral, unit, written) if numeral.letter else _suffix(numeral.rest, unit, written)
    _refuse_other_unit(found, unit, written)
    return _WIDE.multiply(numeral.value, factor), _WIDE.multiply(numeral.digit, factor), found


def _suffix(rest: str, unit: str | None, written: str) -> tuple[Decimal, str]:
    if not rest:
        return Decimal(1), unit or ""
    if rest in PREFIXES or rest == "u":
        return _bare_prefix(rest, unit, written)
    found, factor = _unit_of(rest, written)
    return factor, found


def _letter(numeral: Numeral, unit: str | None, written: str) -> tuple[Decimal, str]:
    """The factor and unit of `4k7`, `2R2`, `3V3`, `4k7 Ω`: the letter is a prefix, or R or V itself."""
    named = _unit_of(numeral.rest, written)[0] if numeral.rest else None
    if numeral.rest and numeral.rest not in {named, "ohm", "ohms", "Ohm", "Ohms"}:
        raise QuantityError(f"{quoted(written)}: two prefixes; write the letter or the prefix, such as 4k7 or 4.7 kΩ")
    if numeral.letter in "RV":
        found = "Ω" if numeral.letter == "R" else "V"
        _refuse_other_unit(found, named, written)
        return Decimal(1), found
    return _bare_prefix(numeral.letter, named or unit, written)


def _bare_prefix(letter: str, unit: str | None, written: str) -> tuple[Decimal, str]:
    """The factor of a prefix without its unit; `k`, `M`, `G` alone are ohms where nothing else is expected."""
    wanted = unit if unit is not None else ("Ω" if letter in "kMG" else "")
    if wanted == "s" and letter == "m":
        raise QuantityError(f"{quoted(written)}: minutes or milliseconds? Write min or ms")
    factor = prefix_factor(letter, wanted) if unit != "" else None
    if factor is None:
        raise QuantityError(
            f"{quoted(written)}: {letter} doesn't go with {wanted or 'a bare number'}; write the unit out"
        )
    return factor, wanted


def _unit_of(written_unit: str, written: str) -> tuple[str, Decimal]:
    named = named_unit(written_unit)
    if named is not None:
        return named
    if written_unit.startswith("K"):
        raise QuantityError(f"{quoted(written)}: kilo is a lower-case k, as in 4k7 or 4.7 kΩ")
    near = nearest_spellings(written_unit)
    hint = f"did you mean {' or '.join(near)}?" if near else f"the units are {', '.join(UNITS)}, min, h"
    raise QuantityError(f"{quoted(written)}: {quoted(written_unit)} is not a unit known here; {hint}")


def _refuse_other_unit(found: str, unit: str | None, written: str) -> None:
    if unit is None or found == unit:
        return
    reasons = {
        frozenset({"V", "Vpp"}): "peak-to-peak and plain volts don't mix",
        frozenset({"K", "°C"}): "a rise in K and a temperature in °C don't mix",
        frozenset({"K", "Ω"}): "kilo is a lower-case k",
    }
    why = reasons.get(frozenset({found, unit}), "the units don't match")
    raise QuantityError(f"{quoted(written)}: {why}; expected {unit or 'a bare number'}, found {found or 'no unit'}")
