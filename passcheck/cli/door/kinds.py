"""What may a field of the door hold?

JSON's true is no number, and neither are NaN and infinities. Every refusal is the end of a sentence that starts with
the field's name: `percent has to be a number`.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final

LARGEST: Final = 1e15
"""Beyond any bench; it keeps products and squares far from the end of what a double holds."""
LONGEST: Final = 20_000
"""Values of one list."""


@dataclass(frozen=True, slots=True)
class Kind:
    """`words` say in help and refusals what is wanted; `read` returns the checked value or raises ValueError."""

    words: str
    read: Callable[[object], Any]


def _number(given: object) -> float:
    if isinstance(given, bool) or not isinstance(given, int | float):
        raise ValueError("has to be a number")
    if isinstance(given, float) and math.isnan(given):
        raise ValueError("has to be a number, and NaN is none")
    if abs(given) > LARGEST:
        raise ValueError(f"has to lie between -{LARGEST:g} and {LARGEST:g}")
    return float(given)


def _above_zero(given: object) -> float:
    if (number := _number(given)) <= 0:
        raise ValueError("has to be above 0")
    return number


def _not_negative(given: object) -> float:
    if (number := _number(given)) < 0:
        raise ValueError("has to be 0 or more")
    return number


def _share(given: object) -> float:
    if not 0 <= (number := _number(given)) <= 1:
        raise ValueError("has to lie between 0 and 1")
    return number


def _inner_share(given: object) -> float:
    if not 0 < (number := _number(given)) < 1:
        raise ValueError("has to lie between 0 and 1, without either")
    return number


def _whole(given: object) -> int:
    number = _number(given)
    if number != math.floor(number) or number < 0:
        raise ValueError("has to be a whole number, 0 or more")
    return int(number)


def _flag(given: object) -> bool:
    if not isinstance(given, bool):
        raise ValueError("has to be true or false")
    return given


def _text(given: object) -> str:
    if not isinstance(given, str) or not given:
        raise ValueError("has to be a text")
    return given


def _any_object(given: object) -> Mapping[str, object]:
    if not isinstance(given, dict):
        raise ValueError("has to be an object")
    return given


NUMBER: Final = Kind("number", _number)
ABOVE_ZERO: Final = Kind("number above 0", _above_zero)
NOT_NEGATIVE: Final = Kind("number, 0 or more", _not_negative)
SHARE: Final = Kind("number from 0 to 1", _share)
INNER_SHARE: Final = Kind("number between 0 and 1", _inner_share)
WHOLE: Final = Kind("whole number", _whole)
FLAG: Final = Kind("true or false", _flag)
TEXT: Final = Kind("text", _text)


def listed(item: Kind, at_least: int = 0) -> Kind:
    """A list of values of one kind, at least so many; comes out as a tuple."""

    def read(given: object) -> tuple[Any, ...]:
        if not isinstance(given, list):
            raise ValueError(f"has to be a list ({item.words} each)")
        if not at_least <= len(given) <= LONGEST:
            raise ValueError(f"has to hold {at_least} to {LONGEST} values, not {len(given)}")
        return tuple(_named(f"value {place} ", item, each) for place, each in enumerate(given, 1))

    return Kind(f"list of {item.words}", read)


def or_null(item: Kind) -> Kind:
    """A value of this kind, or null, which comes out as None."""
    return Kind(f"{item.words} or null", lambda given: None if given is None else item.read(given))


def one_of(*words: str) -> Kind:
    """One of these texts."""

    def read(given: object) -> str:
        if not isinstance(given, str) or given not in words:
            raise ValueError(f"has to be {' or '.join(words)}")
        return given

    return Kind(" or ".join(f'"{word}"' for word in words), read)


def either(first: Kind, second: Kind) -> Kind:
    """A value of the first kind, else of the second."""

    def read(given: object) -> Any:
        try:
            return first.read(given)
        except ValueError:
            pass
        try:
            return second.read(given)
        except ValueError:
            raise ValueError(f"has to be {first.words} or {second.words}") from None

    return Kind(f"{first.words} or {second.words}", read)


def mapped(item: Kind) -> Kind:
    """An object with any names whose values are of one kind; comes out as a dict in the order given."""

    def read(given: object) -> dict[str, Any]:
        return {name: _named(f"{name} ", item, value) for name, value in _any_object(given).items()}

    return Kind(f"object of {item.words}", read)


def record(**parts: Kind) -> Kind:
    """An object with exactly these names; comes out as a dict."""

    def read(given: object) -> dict[str, Any]:
        fields = _any_object(given)
        for name in parts:
            if name not in fields:
                raise ValueError(f"has to have {name}")
        for name in fields:
            if name not in parts:
                raise ValueError(f"has no field {name}")
        return {name: _named(f"{name} ", kind, fields[name]) for name, kind in parts.items()}

    return Kind("{" + ", ".join(parts) + "}", read)


def _named(lead: str, item: Kind, given: object) -> Any:
    try:
        return item.read(given)
    except ValueError as fault:
        raise ValueError(f"{lead}{fault}") from None
