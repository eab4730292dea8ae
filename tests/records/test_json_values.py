"""Do both readers of JSON take the same texts, and only those in the one form that a line has?"""

import json
import sys
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from json_pieces import ANY_NAME, ANY_VALUE, HOSTILE, KEPT_DATA, PIECES

from passcheck.records import json_values
from passcheck.records.json_values import values_with_orjson, values_without_extra
from passcheck.records.line_codec import MAX_DEPTH

READERS = (values_without_extra, values_with_orjson)
GOOD = b'{"a":1}'
WHOLE_TEXTS = [
    b"", b" ", b"{}", b"{} ", b" {}", b"{}\n", b"\xef\xbb\xbf{}", b"{}{}", b"{},{}", b"{}]", b'{"a":1}x', b"[]",
    b'""', b"1", b"-0", b"1.0", b"1e5", b"NaN", b"Infinity", b"-Infinity", b"null", b"true", b"nul",
    b"9007199254740991", b"9007199254740992", b"-9007199254740992", b"18446744073709551615",
    b"18446744073709551616", b"1" * 400, '{"ä\\"":1}'.encode(), b'{"a":1,"a":1}', b'{"a":1,"a":2}', b'{"b":1,"a":2}',
    b'{"a":{"c":1,"b":2}}', '{"ä":1}'.encode(), '{"a":"ä"}'.encode(), '{"a":[{"ä":1}]}'.encode(),
    b'{"a":"\\u00e4"}', b'{"a":"\\ud800"}', b'{"a":"\\udc00\\ud800"}', b'{"a":"\xed\xa0\x80"}',
    b'{"a":"\\ud83d\\ude00"}', '{"a":"😀"}'.encode(), '{"a":"\u2028\u007f"}'.encode(), b'{"a":"\\u2028"}',
    b'{"a":"\\/"}', b'{"a":"\x00"}', b'{"a":"\\u0000"}', b'{"a":"\\u001f"}', b'{"a":"\\u001F"}',
    b'{"a":"\\b\\f\\n\\r\\t"}', b'{"a":"\\u0008"}', b'{"a":0.5}', b'{"a":[1.5]}', b'{"a":-0}', b'{"a":-0.0}',
    b'{"a":1E5}', b'{"a":1e400}', b'{"a":01}', b"[" * 5000 + b"]" * 5000, b'{"a":' * 5000 + b"1" + b"}" * 5000,
    b'{"a":\xff}', b"\xff", b"{'a':1}", b'{"a":1,}', b'{"a":1/**/}', b'{"a":+1}', b'{"a":.5}', b'{"a":5.}',
    b'{"a":0x1}', b'{"\\u0061":1}', b'{"a":"' + b"x" * 70_000 + b'"}',
]  # fmt: skip


def taken(reader: Callable[[Sequence[bytes]], list[Any]], texts: Sequence[bytes]) -> str | None:
    """What a reader made of texts, told so that True isn't 1; None where it refused."""
    try:
        return repr(reader(texts))
    except (ValueError, RecursionError):
        return None


def agree(*texts: bytes) -> None:
    plain, quick = (taken(reader, texts) for reader in READERS)
    assert plain == quick


@pytest.mark.parametrize("text", WHOLE_TEXTS, ids=range(len(WHOLE_TEXTS)))
def test_a_whole_text_is_taken_by_both_or_by_none(text: bytes) -> None:
    for texts in ((text,), (GOOD, text), (text, GOOD)):
        agree(*texts)


@pytest.mark.parametrize("piece", HOSTILE, ids=range(len(HOSTILE)))
def test_a_hostile_piece_is_taken_by_both_or_by_none(piece: bytes) -> None:
    for where in (
        b"@",
        b'{"a":@}',
        b'{"@":1}',
        b'{"x@\\"y":1}',
        b'{"a":[@,2]}',
        b'{@"z":1}',
        b'{"a":"x@y"}',
        b'{"a":{}@}',
        b'{"a":[[],@]}',
    ):
        agree(where.replace(b"@", piece))


@given(st.lists(KEPT_DATA, min_size=1, max_size=4))
def test_what_a_line_may_hold_comes_back_from_both(every: list[dict[str, object]]) -> None:
    texts = [written(one) for one in every]
    assert [taken(reader, texts) for reader in READERS] == [repr([json.loads(text) for text in texts])] * 2


@given(st.dictionaries(ANY_NAME, ANY_VALUE, max_size=4), st.booleans(), st.booleans(), st.sampled_from([",", ", "]))
@example({"a": 1.0}, False, True, ",")
@example({"a": -0.0}, False, True, ",")
def test_what_other_programs_write_is_taken_by_both_or_by_none(
    data: dict[str, object], ascii_only: bool, in_order: bool, comma: str
) -> None:
    text = json.dumps(data, ensure_ascii=ascii_only, sort_keys=in_order, separators=(comma, ":"))
    agree(text.encode("utf-8", "surrogatepass"))


@given(st.data())
def test_what_was_tampered_with_is_taken_by_both_or_by_none(data: st.DataObject) -> None:
    text = written(data.draw(KEPT_DATA))
    start = data.draw(st.integers(0, len(text)))
    stop = min(start + data.draw(st.integers(0, 6)), len(text))
    agree(text[:start] + data.draw(PIECES) + text[stop:])


@given(st.binary(max_size=60))
def test_any_bytes_are_taken_by_both_or_by_none(text: bytes) -> None:
    agree(text)


@pytest.mark.parametrize("levels", range(MAX_DEPTH - 2, MAX_DEPTH + 3))
@pytest.mark.parametrize("innermost", [b"", b"1", b"1.5", b'{"a":1}'])
def test_depth_ends_at_the_same_level(levels: int, innermost: bytes) -> None:
    agree(b'{"a":' + b"[" * levels + innermost + b"]" * levels + b"}")


def test_without_the_extra_the_reader_that_is_always_there_is_used(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "orjson", None)
    json_values._reader.cache_clear()
    try:
        assert json_values._reader() is values_without_extra
    finally:
        json_values._reader.cache_clear()


def written(data: Mapping[str, object]) -> bytes:
    return json.dumps(data, ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode()
