"""Between which limits must a value lie?"""

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from passcheck.judge.quantity import Quantity, QuantityError, parse_quantity, quoted, show, unit_part
from passcheck.judge.units import tidy

LONGEST_TEXT: Final = 120

_ONE_SIDED: Final = re.compile(r"(at most|at least|<=|>=|≤|≥)(.*)", re.IGNORECASE)
_RANGE: Final = re.compile(r" ?(?:\.{2,3}|…| to ) ?", re.IGNORECASE)
_AROUND: Final = re.compile(r" ?(?:±|\+/-|\+-) ?")
_FORMS: Final = "write 4.85 V .. 5.15 V, 5.00 V ± 3 %, at most 60 mV or at least 150 Ω"


@dataclass(frozen=True, slots=True)
class Limits:
    """A low limit, a high limit or both, in the one base unit `unit`; the limits themselves are inside.

    `low` or `high` is None where the limits are one-sided; `nominal` is None unless they were given around one.
    """

    low: Quantity | None
    high: Quantity | None
    nominal: Quantity | None
    unit: str
    text: str

    def holds(self, value: Decimal) -> bool:
        """Is the value, in the base unit, inside?"""
        return (self.low is None or self.low.value <= value) and (self.high is None or value <= self.high.value)

    def words(self) -> str:
        """Return the limits as written, with spaces and signs made regular."""
        return self.text


def parse_limits(text: str, unit: str | None = None) -> Limits:
    """Read `4.85 V .. 5.15 V`, `150 .. 250 ms`, `5.00 V ± 3 %`, `750 ± 25 rpm`, `at most 60 mV`, `at least 150 Ω`.

    A bare low end takes the unit and the prefix of the high end. `unit` is the base unit that is expected; bare numbers
    take it, another unit is refused. Raises QuantityError, also for limits that no value or only one value can meet.
    """
    if len(text) > LONGEST_TEXT:
        raise QuantityError(f"{quoted(text)} is longer than {LONGEST_TEXT} characters; {_FORMS}")
    written = tidy(text)
    one_sided = _ONE_SIDED.fullmatch(written)
    if one_sided is not None:
        limits = _one_sided(one_sided[1].lower(), one_sided[2].strip(), unit)
    elif len(around := _AROUND.split(written)) == 2 and around[0]:
        limits = _around(around[0], around[1], unit)
    elif len(ends := _RANGE.split(written)) == 2 and all(ends):
        limits = _between(ends[0], ends[1], unit)
    else:
        raise QuantityError(f"{quoted(text)} doesn't say which values are inside; {_FORMS}")
    return _checked(limits, unit)


def _one_sided(word: str, number: str, unit: str | None) -> Limits:
    limit = parse_quantity(number, unit)
    if word in {"at most", "<=", "≤"}:
        return Limits(None, limit, None, limit.unit, f"at most {_written(limit)}")
    return Limits(limit, None, None, limit.unit, f"at least {_written(limit)}")


def _between(low_text: str, high_text: str, unit: str | None) -> Limits:
    if _is_bare(high_text) and not _is_bare(low_text):
        raise QuantityError(f"{quoted(high_text)}: the low end has a unit and the high end has none; write both")
    high = parse_quantity(high_text, unit)
    bare = _is_bare(low_text)
    low = _with_unit_of(low_text, high_text, high.unit) if bare else parse_quantity(low_text, high.unit)
    return Limits(low, high, None, high.unit, f"{tidy(low_text)} .. {_written(high)}")


def _around(nominal_text: str, tolerance_text: str, unit: str | None) -> Limits:
    if unit_part(tolerance_text) == "%":
        nominal = parse_quantity(nominal_text, unit)
        percent = parse_quantity(tolerance_text, "%")
        if nominal.unit == "%":
            raise QuantityError(f"{quoted(nominal_text)} ± %: of the value or in points? Write 47 % .. 53 %")
        spread, tolerance = abs(nominal.value) * percent.value / 100, percent
    else:
        nominal, tolerance = _nominal_and_tolerance(nominal_text, tolerance_text, unit)
        spread = tolerance.value
    if spread <= 0:
        raise QuantityError(f"{quoted(tolerance_text)}: a tolerance is larger than nothing; write one such as ± 3 %")
    low, high = (_end(nominal, nominal.value + signed) for signed in (-spread, spread))
    return Limits(low, high, nominal, nominal.unit, f"{nominal.text} ± {_written(tolerance)}")


def _nominal_and_tolerance(nominal_text: str, tolerance_text: str, unit: str | None) -> tuple[Quantity, Quantity]:
    """Both with a unit, or one of them lending its unit and prefix to the other."""
    if _is_bare(nominal_text):
        tolerance = parse_quantity(tolerance_text, unit)
        lent = _with_unit_of(nominal_text, tolerance_text, tolerance.unit)
        return Quantity(lent.value, lent.unit, lent.digit, tidy(nominal_text)), tolerance
    nominal = parse_quantity(nominal_text, unit)
    if not _is_bare(tolerance_text):
        return nominal, parse_quantity(tolerance_text, nominal.unit)
    return nominal, _with_unit_of(tolerance_text, nominal_text, nominal.unit)


def _with_unit_of(bare_text: str, other_text: str, unit: str) -> Quantity:
    """Read a bare number with the unit and the prefix that the other one has: `150 .. 250 ms` begins at 150 ms."""
    lent = unit_part(other_text)
    if not lent and not _is_bare(other_text) and _is_bare(bare_text):
        raise QuantityError(
            f"{quoted(bare_text)} beside {quoted(other_text)}: does it have the prefix too? Write it out"
        )
    return parse_quantity(f"{bare_text} {lent}".strip() if _is_bare(bare_text) else bare_text, unit)


def _is_bare(text: str) -> bool:
    """Is there neither a unit nor a letter for the point?"""
    return re.fullmatch(r"[0-9.,eE+-]+", tidy(text)) is not None


def _written(quantity: Quantity) -> str:
    """The text as written, with the unit that a bare number took."""
    return f"{quantity.text} {quantity.unit}".strip() if _is_bare(quantity.text) else quantity.text


def _end(nominal: Quantity, value: Decimal) -> Quantity:
    """A limit that was computed: it is exact, whatever digits the nominal value was written with."""
    return Quantity(value, nominal.unit, nominal.digit, show(value, nominal.unit))


def _checked(limits: Limits, unit: str | None) -> Limits:
    if not limits.unit and unit is None:
        raise QuantityError(f"{quoted(limits.text)} has no unit; {_FORMS}")
    if limits.low is not None and limits.high is not None and limits.low.value >= limits.high.value:
        relation = "equal to" if limits.low.value == limits.high.value else "above"
        raise QuantityError(f"{quoted(limits.text)}: the low limit is {relation} the high one; write low .. high")
    return limits
