import hashlib
import json
from types import MappingProxyType

import pytest
from hypothesis import given
from hypothesis import strategies as st
from journal_lines import AT, a_line

from passcheck.errors import FileFault, OurBug
from passcheck.job.journal_line import Line
from passcheck.records.line_codec import (
    LINE_BYTES,
    SEQUENCE_LINE_BYTES,
    NotALineError,
    WrongDigestError,
    decode_line,
    encode_line,
    new_digest,
)

TEXT = st.text(st.characters(exclude_categories=["Cs"]))
NAMES = st.text(st.characters(max_codepoint=127), max_size=8)
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | TEXT,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(NAMES, inner, max_size=4),
    max_leaves=12,
)
LINES = st.builds(
    Line,
    number=st.integers(0, 2**53 - 1),
    at=st.just(AT),
    by=TEXT,
    clock=st.integers(0, 2**53 - 1),
    event=TEXT,
    data=st.dictionaries(NAMES, VALUES, max_size=4),
)


def hashed(body: bytes) -> bytes:
    """A body without its hash, made into a line that follows from nothing before it."""
    return body[:-1] + b',"hash":"' + hashlib.sha256(body[:-1]).hexdigest().encode() + b'"}'


def with_data(data: bytes) -> bytes:
    return hashed(b'{"#":0,"at":"' + AT.encode() + b'","by":"t7","clock":1,"data":' + data + b',"event":"note added"}')


@given(LINES, st.binary(max_size=40))
def test_every_line_comes_back_as_it_was_written(line: Line, before: bytes) -> None:
    digest = new_digest()
    digest.update(before)
    assert decode_line(encode_line(line, digest)[:-1], digest) == line


@given(LINES)
def test_a_line_is_one_line_of_utf_8_whatever_its_texts_hold(line: Line) -> None:
    encoded = encode_line(line, new_digest())
    assert encoded.count(b"\n") == 1
    assert encoded.endswith(b'"}\n')
    assert list(json.loads(encoded)) == ["#", "at", "by", "clock", "data", "event", "hash"]


def test_the_hash_is_of_every_byte_before_its_own_member() -> None:
    before = b"whatever stood there\n"
    digest = new_digest()
    digest.update(before)
    encoded = encode_line(a_line(3), digest)
    offset = encoded.index(b',"hash":"')
    assert json.loads(encoded)["hash"] == hashlib.sha256(before + encoded[:offset]).hexdigest()


def test_a_line_that_was_moved_to_another_place_is_noticed() -> None:
    other = new_digest()
    other.update(b"something else\n")
    with pytest.raises(WrongDigestError):
        decode_line(encode_line(a_line(1), new_digest())[:-1], other)


@pytest.mark.parametrize(
    "data",
    [
        b'{"verdict":"fail","verdict":"pass"}',  # json.loads takes the last one silently
        b'{"value":1.5}',
        b'{"value":1e3}',
        b'{"value":NaN}',
        b'{"value":-0}',
        b'{"value":9007199254740992}',
        b'{"value":' + b"9" * 10_000 + b"}",
        b'{"a": 1}',
        b'{"b":1,"a":2}',
        b'{"text":"\\u00e4"}',  # the same text in other bytes
        b'{"text":"\\/"}',
        b'{"text":"\xff"}',
        b'{"text":"\\ud800"}',
        b'{"text":"a\tb"}',
        '{"ä":1}'.encode(),
        b'{"a":' + b"[" * 30 + b"]" * 30 + b"}",
        b'{"a":' + b"[" * 20_000 + b"]" * 20_000 + b"}",
        b'["a"]',
        b'"a"',
    ],
)
def test_what_passcheck_would_not_have_written_is_no_line(data: bytes) -> None:
    with pytest.raises(NotALineError):
        decode_line(with_data(data), new_digest())


def test_the_frame_of_those_refusals_is_itself_a_line() -> None:
    assert decode_line(with_data(b'{"text":"a"}'), new_digest()).data == {"text": "a"}


@pytest.mark.parametrize(
    "body",
    [
        b'{"#":0,"at":"2031-04-02T09:14:03Z","by":"t7","clock":1,"data":{},"event":"x"}',
        b'{"#":-1,"at":"2031-04-02T09:14:03.512Z","by":"t7","clock":1,"data":{},"event":"x"}',
        b'{"#":true,"at":"2031-04-02T09:14:03.512Z","by":"t7","clock":1,"data":{},"event":"x"}',
        b'{"#":0,"at":"2031-04-02T09:14:03.512Z","by":7,"clock":1,"data":{},"event":"x"}',
        b'{"#":0,"at":"2031-04-02T09:14:03.512Z","by":"t7","clock":1,"data":{},"event":"x","extra":1}',
        b'{"#":0,"at":"2031-04-02T09:14:03.512Z","by":"t7","clock":1,"data":{}}',
    ],
)
def test_a_line_with_a_member_missing_strange_or_of_the_wrong_kind_is_no_line(body: bytes) -> None:
    with pytest.raises(NotALineError):
        decode_line(hashed(body), new_digest())


@pytest.mark.parametrize("value", [1.5, float("nan"), 2**53, b"bytes", {1: "a"}, {"ä": 1}, object(), {"a": {2, 3}}])
def test_what_no_line_can_hold_is_our_bug_before_anything_is_written(value: object) -> None:
    with pytest.raises(OurBug, match="Nothing was stored"):
        encode_line(a_line(0, value=value), new_digest())


def test_half_a_character_is_refused_so_that_the_person_can_type_it_again() -> None:
    with pytest.raises(FileFault, match="type that text again"):
        encode_line(a_line(0, text="needle \udc80 drops"), new_digest())


def test_frozen_facts_are_written_like_plain_ones() -> None:
    frozen = MappingProxyType({"points": ({"at": "TP3"}, {"at": "TP9"})})
    line = Line(0, AT, "t7", 1, "made safe", frozen)
    assert decode_line(encode_line(line, new_digest())[:-1], new_digest()).data == {
        "points": [{"at": "TP3"}, {"at": "TP9"}]
    }


def test_a_note_longer_than_a_line_is_refused_with_what_to_do() -> None:
    with pytest.raises(FileFault, match="shorten the text"):
        encode_line(a_line(0, text="x" * LINE_BYTES), new_digest())


def test_a_line_that_carries_a_sequence_may_be_long() -> None:
    long = a_line(0, "job opened", sequence_text="x" * (SEQUENCE_LINE_BYTES - 300))
    assert decode_line(encode_line(long, new_digest())[:-1], new_digest()) == long
    with pytest.raises(FileFault):
        encode_line(a_line(0, "sequence revised", sequence_text="x" * SEQUENCE_LINE_BYTES), new_digest())
    with pytest.raises(NotALineError, match="longer"):
        decode_line(with_data(b'{"text":"' + b"x" * LINE_BYTES + b'"}'), new_digest())
