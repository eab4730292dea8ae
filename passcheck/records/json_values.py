"""What do many JSON texts hold, each a mapping in the one form that a line of a journal has?

Two readers can tell: the one that is always there, and a quicker one (`orjson`, the extra `fast`). Both take more than
a line may hold, each something else. So neither is believed: what was read is written again, and where the same bytes
come out, each text was written as it was read. That finds blanks, other escapes, doubled names and numbers in another
form. What can be written again and still is nothing for a line (fractions, names out of order or not ASCII, whole
numbers that programs differ on, deep nesting) is looked for besides.
"""

from collections.abc import Callable, Iterable, Sequence
from functools import cache, lru_cache
from typing import Any, Final

from pydantic_core import from_json, to_json

from passcheck.records.line_codec import LARGEST_WHOLE, MAX_DEPTH

Values = Callable[[Sequence[bytes]], list[Any]]
_PLAIN: Final[frozenset[type]] = frozenset({str, bool, type(None)})
_PLAIN_OR_WHOLE: Final[frozenset[type]] = _PLAIN | {int}
_MAPPING: Final[frozenset[type]] = frozenset({dict})
_NESTED: Final[frozenset[type]] = frozenset({dict, list})


def values(texts: Sequence[bytes]) -> list[Any]:
    """The value of each text, by the quicker reader where it is installed.

    Raises:
        ValueError: one of them is no mapping, or isn't in the one form, or holds what no line can hold.
        RecursionError: one of them is nested far too deeply.
    """
    return _reader()(texts)


def values_vouched_for(texts: Sequence[bytes]) -> list[Any]:
    """The value of each text whose bytes somebody vouches for: they were in the one form when they were written.

    Raises:
        ValueError: one of them is no mapping.
    """
    return _mappings(map(_loads(), texts))


@cache
def _loads() -> Callable[[bytes], Any]:
    try:
        import orjson
    except ImportError:
        return from_json
    return orjson.loads


@cache
def _reader() -> Values:
    try:
        import orjson  # noqa: F401 - is it there?
    except ImportError:
        return values_without_extra
    return values_with_orjson


def values_without_extra(texts: Sequence[bytes]) -> list[Any]:
    """What `values` gives, by the reader that is always there."""
    found = _mappings(from_json(text, allow_inf_nan=False) for text in texts)
    inner = found
    for _ in range(MAX_DEPTH):
        _demand_good_names(inner)
        inner = _but(_PLAIN, inner)
        if any(one.__class__ is int and abs(one) > LARGEST_WHOLE for one in inner):
            raise ValueError("a whole number that programs differ on")
        inner = _nested([one for one in inner if one.__class__ is not int])
        if not inner:
            break
    else:
        raise ValueError("nested too deeply")
    _demand_same(to_json(found), texts)
    return found


def values_with_orjson(texts: Sequence[bytes]) -> list[Any]:
    """What `values` gives, by the quicker reader: it sorts names and refuses large whole numbers while it writes."""
    import orjson

    found = _mappings(map(orjson.loads, texts))
    inner = found
    for _ in range(MAX_DEPTH):
        inner = _nested(_but(_PLAIN_OR_WHOLE, inner))
        if not inner:
            break
    else:
        raise ValueError("nested too deeply")
    try:
        again = orjson.dumps(found, option=orjson.OPT_SORT_KEYS | orjson.OPT_STRICT_INTEGER)
    except orjson.JSONEncodeError as fault:  # a TypeError
        raise ValueError("it can't be written again") from fault
    _demand_same(again, texts)
    if not again.isascii():
        _demand_good_names_everywhere([one for one, text in zip(found, texts, strict=True) if not text.isascii()])
    return found


def _mappings(every: Iterable[Any]) -> list[Any]:
    found = list(every)
    if not _MAPPING.issuperset(map(type, found)):
        raise ValueError("a text is not a mapping of names")
    return found


def _demand_same(again: bytes, texts: Sequence[bytes]) -> None:
    """Each text was read alone, so each is one value; written as one list they can be held side by side at once."""
    if again != b"[" + b",".join(texts) + b"]":
        raise ValueError("a text is not in its one form")


def _but(kinds: frozenset[type], every: Iterable[Any]) -> list[Any]:
    """What is in each list and behind each name, but for what is of these kinds."""
    return [
        item
        for one in every
        for item in (one.values() if one.__class__ is dict else one)
        if item.__class__ not in kinds
    ]


def _nested(every: list[Any]) -> list[Any]:
    """The same; ValueError where one of them is neither a list nor a mapping: then it is a number with a fraction."""
    if not _NESTED.issuperset(map(type, every)):
        raise ValueError("a number that is not whole")
    return every


def _demand_good_names(every: Iterable[Any]) -> None:
    for one in every:
        if one.__class__ is dict and not _in_order(tuple(one)):
            raise ValueError("names out of order, or not ASCII")


def _demand_good_names_everywhere(every: list[Any]) -> None:
    while every:
        _demand_good_names(every)
        every = _but(_PLAIN_OR_WHOLE, every)


@lru_cache(maxsize=1024)
def _in_order(names: tuple[str, ...]) -> bool:
    return all(map(str.isascii, names)) and all(map(str.__lt__, names, names[1:]))
