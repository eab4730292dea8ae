"""Which bytes stand for a line, and which bytes are a line at all?

A line is one JSON object in its RFC 8785 form, with the members `#, at, by, clock, data, event, hash` in that order,
and a line feed at its end. `hash` is the SHA-256 of every byte of the file before the text `,"hash":"` of that line, so
`head -c N FILE | sha256sum` checks any line with stock tools. Names are ASCII and there are no floats: then the plain
JSON encoder of any language gives the same bytes.
"""

import hashlib
import json
import re
from collections.abc import Iterable, Mapping
from typing import Protocol

from passcheck.errors import FileFault, OurBug
from passcheck.job.journal_line import Line

LINE_BYTES = 64 * 1024
SEQUENCE_LINE_BYTES = 2 * 1024 * 1024
SEQUENCE_EVENTS = frozenset({"job opened", "sequence revised"})
"""Events that carry the full text of a sequence, and so may be long."""
MAX_DEPTH = 24
"""Levels of lists and mappings in a line; the deepest event of ours needs half of that."""
LARGEST_WHOLE = 2**53 - 1
"""RFC 8785 rests on IEEE doubles: above this, two encoders may write different digits."""

HASH_MEMBER = b',"hash":"'
HASH_END = b'"}'
TAIL = len(HASH_MEMBER) + 64 + len(HASH_END)
"""Bytes of a line after its body, the line feed left out."""
_WHOLE_LINE = re.compile(rb'\{"#":.*,"hash":"[0-9a-f]{64}"\}', re.DOTALL)
_TOO_LARGE = "a number is too large to be the same in every program"
_AT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z", re.ASCII)
_HALF_A_CHARACTER = re.compile("[\ud800-\udfff]")
_LISTS = (list, tuple)
_NESTED = (dict, *_LISTS, Mapping)
_MEMBERS = ["#", "at", "by", "clock", "data", "event"]


class Digest(Protocol):
    """A running SHA-256, as `hashlib.sha256()` gives it."""

    def update(self, data: bytes, /) -> None: ...
    def hexdigest(self) -> str: ...
    def copy(self) -> "Digest": ...


class NotALineError(ValueError):
    """The bytes are not a line of a journal; the text says why."""


class NotTextError(NotALineError):
    """A text holds half of a surrogate pair, as a terminal in another encoding can send it: no UTF-8 stands for it."""


class WrongDigestError(NotALineError):
    """The bytes are a well-formed line that doesn't follow from the bytes before it: no crash can leave this."""


def new_digest() -> Digest:
    """The digest of a file that has no bytes yet."""
    return hashlib.sha256()


def encode_line(line: Line, before: Digest) -> bytes:
    """The line's bytes, line feed included; `before` has taken every byte of the file so far and is left as it is.

    Raises FileFault when a text is too long or holds what is not a character, OurBug when `data` holds anything else
    that no line can hold.
    """
    try:
        body = _canonical(line)
    except NotTextError as fault:
        raise FileFault(
            f"The event '{line.event}' can't be written: a text holds something that is no character. "
            "Nothing was stored: type that text again."
        ) from fault
    except NotALineError as fault:
        raise OurBug(f"The event '{line.event}' can't be written: {fault}. Nothing was stored.") from fault
    digest = before.copy()
    digest.update(body)
    encoded = body + HASH_MEMBER + digest.hexdigest().encode() + HASH_END + b"\n"
    if len(encoded) > _room(line.event):
        raise FileFault(
            f"The event '{line.event}' takes {len(encoded)} bytes, a line has room for {_room(line.event)}. "
            "Nothing was stored: shorten the text and enter it again."
        )
    return encoded


def decode_line(text: bytes, before: Digest) -> Line:
    """The line that these bytes (without the line feed) stand for, checked against every byte before it.

    Raises WrongDigestError when the line is well formed but isn't the one that followed, NotALineError otherwise.
    """
    if not _WHOLE_LINE.fullmatch(text):
        raise NotALineError("it is not a whole line")
    body, claimed = text[:-TAIL], text[-(64 + len(HASH_END)) : -len(HASH_END)]
    line = _parse(body + b"}")
    if len(text) + 1 > _room(line.event):
        raise NotALineError(f"it is longer than {_room(line.event)} bytes")
    digest = before.copy()
    digest.update(body)
    if digest.hexdigest().encode() != claimed:
        raise WrongDigestError("its hash does not match the bytes before it")
    return line


def _room(event: str) -> int:
    return SEQUENCE_LINE_BYTES if event in SEQUENCE_EVENTS else LINE_BYTES


def _canonical(line: Line) -> bytes:
    """The line without its hash and without the closing brace, which come after it."""
    members = {
        "#": line.number, "at": line.at, "by": line.by, "clock": line.clock, "data": line.data, "event": line.event,
    }  # fmt: skip
    if not _AT.fullmatch(line.at):
        raise NotALineError(f"'at' is '{line.at}', not UTC with milliseconds")
    _check(members, MAX_DEPTH)
    return _write(members)[:-1]


def _parse(text: bytes) -> Line:
    if len(text) > SEQUENCE_LINE_BYTES:
        raise NotALineError(f"it is longer than {SEQUENCE_LINE_BYTES} bytes")
    try:
        members = _DECODER.decode(text.decode("utf-8"))
        if text.count(b"{") + text.count(b"[") > MAX_DEPTH or not text.isascii():
            _check(members, MAX_DEPTH)
        same = _write(members) == text
    except RecursionError as fault:  # not a ValueError, so it would pass every other guard
        raise NotALineError("it is nested too deeply") from fault
    except NotALineError:
        raise
    except ValueError as fault:
        raise NotALineError(f"it is not JSON in UTF-8 ({type(fault).__name__})") from fault
    if not same:
        # Doubled names, blanks, other escapes and other orders all end here: the text says more than its value.
        raise NotALineError("it is not in the one form that passcheck writes")
    return line_of(members)


def line_of(members: object) -> Line:
    """The line that has these members beside its hash; NotALineError where a member is missing, strange or wrong."""
    if not isinstance(members, dict) or list(members) != _MEMBERS:
        raise NotALineError(f"its members are not {', '.join(_MEMBERS)}, hash")
    number, at, by, clock, data, event = members.values()
    whole = type(number) is int and type(clock) is int and number >= 0 and clock >= 0  # a bool is none
    if not (whole and isinstance(by, str) and isinstance(event, str) and isinstance(data, dict)):
        raise NotALineError("a member is of the wrong kind")
    if not (isinstance(at, str) and _AT.fullmatch(at)):
        raise NotALineError("'at' is not UTC with milliseconds")
    return Line(number, at, by, clock, event, data)


def _check(value: object, depth: int) -> None:
    """NotALineError for what a line can't hold; `depth` is how many levels there may be from here on."""
    if isinstance(value, str):
        if not value.isascii() and _HALF_A_CHARACTER.search(value):
            raise NotTextError("a text holds half of a surrogate pair")
    elif type(value) is int:
        if abs(value) > LARGEST_WHOLE:
            raise NotALineError(_TOO_LARGE)
    elif isinstance(value, _NESTED):
        if depth == 0:
            raise NotALineError(f"it is nested more than {MAX_DEPTH} deep")
        for item in value if isinstance(value, _LISTS) else _under_good_names(value):
            # Nearly all there is is plain text or nothing, and is passed by without a call.
            if item is not None and (type(item) is not str or not item.isascii()):
                _check(item, depth - 1)
    elif value is not None and not isinstance(value, bool):
        kind = type(value).__name__
        raise NotALineError(f"a value is a {kind}; only text, whole numbers, true, false and null are kept")


def _under_good_names(members: Mapping[object, object]) -> Iterable[object]:
    for name in members:
        if not isinstance(name, str) or not name.isascii():
            raise NotALineError(f"the name {name!a} is not ASCII")
    return members.values()


def _whole(digits: str) -> int:
    if len(digits) > 17 or abs(int(digits)) > LARGEST_WHOLE:
        raise NotALineError(_TOO_LARGE)
    return int(digits)


def _no_float(text: str) -> object:
    raise NotALineError(f"the number {text[:20]} is not a whole number")


def _write(members: object) -> bytes:
    return _ENCODER.encode(members).encode("utf-8")


_DECODER = json.JSONDecoder(parse_float=_no_float, parse_int=_whole, parse_constant=_no_float)
_ENCODER = json.JSONEncoder(
    ensure_ascii=False,
    check_circular=False,  # what it is given is no deeper than _check or the decoder went
    allow_nan=False,
    sort_keys=True,
    separators=(",", ":"),
    default=dict,  # a mapping of another kind; nothing else passes _check
)
