"""What did the technician type, as values the judge can take?"""

from collections.abc import Iterable

from passcheck.judge.quantity import OverRange, Quantity, QuantityError, parse_quantity, parse_reading


class EntryFault(ValueError):
    """An entry can't be read; the sentence says what was given and what would do."""


def readings(texts: Iterable[str], unit: str) -> tuple[Quantity | OverRange, ...]:
    """Readings as an instrument shows them, `OL` among them; a bare number takes the unit of the limits.

    Raises:
        EntryFault: nothing was given, or one of them is no reading in that unit.
    """
    found = tuple(_read(text, unit) for text in texts)
    if not found:
        raise EntryFault("no reading was given: type what the instrument shows")
    return found


def quantity(text: str, unit: str) -> Quantity:
    """One quantity that can't be over range.

    Raises:
        EntryFault: it is none in that unit.
    """
    try:
        return parse_quantity(text, unit)
    except QuantityError as error:
        raise EntryFault(str(error)) from error


def _read(text: str, unit: str) -> Quantity | OverRange:
    try:
        return parse_reading(text, unit)
    except QuantityError as error:
        raise EntryFault(str(error)) from error
