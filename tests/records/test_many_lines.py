"""Are many lines at once taken exactly where each of them would have been taken alone?"""

import hashlib
import json
from collections.abc import Sequence

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from journal_lines import AT, a_line
from json_pieces import ANY_NAME, ANY_VALUE, HOSTILE, KEPT_DATA, PIECES

from passcheck.job.journal_line import Line
from passcheck.records.line_codec import LINE_BYTES, MAX_DEPTH, NotALineError, decode_line, encode_line, new_digest
from passcheck.records.many_lines import decode_lines


def chained(bodies: Sequence[bytes], before: bytes = b"") -> bytes:
    """Bodies without their closing braces, each with the hash that is right where it stands."""
    text = b""
    for body in bodies:
        text += body + b',"hash":"' + hashlib.sha256(before + text + body).hexdigest().encode() + b'"}\n'
    return text


def body_of(line: Line) -> bytes:
    encoded = encode_line(line, new_digest())
    return encoded[: encoded.rindex(b',"hash":"')]


def one_by_one(text: bytes, before: bytes = b"") -> list[Line] | None:
    """What `decode_line` says of each; None where one of them is no line."""
    running, lines = new_digest(), []
    running.update(before)
    for line in text.split(b"\n")[:-1]:
        try:
            lines.append(decode_line(line, running))
        except NotALineError:
            return None
        running.update(line + b"\n")
    return lines


def at_once(text: bytes, before: bytes = b"") -> list[Line] | None:
    running = new_digest()
    running.update(before)
    decoded = decode_lines(text, running)
    assert running.hexdigest() == hashlib.sha256(before).hexdigest()
    if decoded is None:
        return None
    assert decoded.running.hexdigest() == hashlib.sha256(before + text).hexdigest()
    assert decoded.ends == [place + 1 for place, byte in enumerate(text) if byte == ord("\n")]
    return decoded.lines


def same_kinds(one: object, other: object) -> bool:
    """Equal, and True isn't 1."""
    return json.dumps(one) == json.dumps(other)


def agree(text: bytes, before: bytes = b"") -> None:
    wanted, found = one_by_one(text, before), at_once(text, before)
    assert found == wanted
    assert same_kinds([line.data for line in found or ()], [line.data for line in wanted or ()])


@given(st.lists(KEPT_DATA, min_size=1, max_size=5), st.binary(max_size=20))
def test_lines_that_were_written_come_back_at_once(every: list[dict[str, object]], before: bytes) -> None:
    lines = [Line(number, AT, "t7", 1, "note added", data) for number, data in enumerate(every)]
    text = chained([body_of(line) for line in lines], before)
    assert at_once(text, before) == lines == one_by_one(text, before)


@given(st.data())
def test_a_line_that_was_tampered_with_is_taken_or_not_as_it_would_be_alone(data: st.DataObject) -> None:
    """Whoever tampers can work the hashes out anew, so these are right, and the rest decides."""
    written = [
        body_of(Line(number, AT, "t7", 1, "note added", data.draw(KEPT_DATA)))
        for number in range(data.draw(st.integers(1, 3)))
    ]
    for _ in range(data.draw(st.integers(1, 3))):
        which = data.draw(st.integers(0, len(written) - 1))
        start = data.draw(st.integers(0, len(written[which])))
        stop = min(start + data.draw(st.integers(0, 6)), len(written[which]))
        written[which] = written[which][:start] + data.draw(PIECES) + written[which][stop:]
    agree(chained([body.replace(b"\n", b"") for body in written]))


@pytest.mark.parametrize("hostile", HOSTILE)
@pytest.mark.parametrize("where", [b'{"a":@}', b'{"a":[@,2]}', b'{@"z":1}', b'{"a":"x@y"}', b'{"a":{}@}'])
def test_each_hostile_piece_is_taken_or_not_as_it_would_be_alone(hostile: bytes, where: bytes) -> None:
    data = where.replace(b"@", hostile)
    good = body_of(a_line(0))
    body = b'{"#":1,"at":"' + AT.encode() + b'","by":"t7","clock":1,"data":' + data + b',"event":"note added"'
    agree(chained([good, body, good]))


@given(st.dictionaries(ANY_NAME, ANY_VALUE, max_size=4), st.booleans(), st.booleans(), st.sampled_from([",", ", "]))
@example({"a": 1.0}, False, True, ",")
def test_what_other_programs_write_is_taken_only_where_it_is_the_one_form(
    data: dict[str, object], ascii_only: bool, in_order: bool, comma: str
) -> None:
    members = {"#": 0, "at": AT, "by": "t7", "clock": 1, "data": data, "event": "note added"}
    text = json.dumps(members, ensure_ascii=ascii_only, sort_keys=in_order, separators=(comma, ":"))
    agree(chained([text.encode("utf-8", "surrogatepass")[:-1]]))


@pytest.mark.parametrize("levels", range(MAX_DEPTH - 3, MAX_DEPTH + 2))
def test_depth_ends_at_the_same_level(levels: int) -> None:
    body = b'{"#":0,"at":"' + AT.encode() + b'","by":"t7","clock":1,"data":{"a":@},"event":"note added"'
    agree(chained([body.replace(b"@", b"[" * levels + b"]" * levels)]))


def test_a_text_that_begins_in_one_line_and_ends_in_the_next_makes_two_lines_of_none() -> None:
    """Joined by a comma they would read as one list; each has to be a value of its own."""
    whole = body_of(a_line(1, a=[1, 2]))
    first, rest = whole.split(b"1,2")
    agree(chained([first + b"1", b"2" + rest]))
    agree(chained([body_of(a_line(0)), first + b"1", b"2" + rest + b"}," + body_of(a_line(1))]))


def test_a_line_that_follows_from_other_bytes_is_not_taken() -> None:
    text = chained([body_of(a_line(0)), body_of(a_line(1))])
    assert at_once(text, b"other bytes") is None
    assert at_once(text.replace(b"note 1", b"note 7")) is None


@pytest.mark.parametrize("text", [b"", b"\n", b"{", b'{"#":0}\n'])
def test_what_is_no_line_feed_and_what_is_too_short_is_no_line(text: bytes) -> None:
    assert at_once(text) is None


def test_a_line_without_its_line_feed_is_left_to_a_closer_look() -> None:
    assert at_once(chained([body_of(a_line(0))])[:-1]) is None


def test_a_long_line_is_left_to_a_closer_look_and_one_that_is_just_short_enough_is_not() -> None:
    room = LINE_BYTES - len(chained([body_of(a_line(0, text=""))]))
    for size, taken in ((room, True), (room + 1, False)):
        body = body_of(a_line(0, "job opened", text="x" * (size - len("job opened") + len("note added"))))
        assert (at_once(chained([body])) is not None) == taken
