from pathlib import Path

import pytest
from journal_lines import a_line, a_walk, opening, sign_off

from passcheck.errors import FileFault
from passcheck.job.journal_line import Line
from passcheck.records import journal_file
from passcheck.records.journal_file import MENDED, State, examine, read_journal, torn_facts
from passcheck.records.line_codec import encode_line, new_digest


def written(*pieces: Line | bytes) -> bytes:
    """Lines as a journal has them, with raw bytes between where given."""
    data = b""
    for piece in pieces:
        digest = new_digest()
        digest.update(data)
        data += piece if isinstance(piece, bytes) else encode_line(piece, digest)
    return data


def mended(number: int, torn: bytes, first_byte: int) -> Line:
    return a_line(number, MENDED, **torn_facts(torn, first_byte))


def test_a_whole_file_gives_its_lines_and_where_each_ends(tmp_path: Path) -> None:
    lines = a_walk(tmp_path / "j.jsonl")
    file = read_journal(tmp_path / "j.jsonl")
    assert (file.state, file.lines, file.fault) == (State.WHOLE, tuple(lines), "")
    assert file.ends[-1] == file.size == (tmp_path / "j.jsonl").stat().st_size


def test_a_line_cut_in_the_middle_is_torn_and_the_lines_before_it_hold() -> None:
    data = written(opening(), a_line(1))
    file = examine(data + b'{"#":2,"at":"20')
    assert (file.state, len(file.lines), file.torn_from) == (State.TORN, 2, len(data))
    assert file.fault.startswith("line 3: ")


def test_a_last_line_that_lacks_only_its_line_feed_counts() -> None:
    file = examine(written(opening(), a_line(1))[:-1])
    assert (file.state, len(file.lines), file.line_feed_due) == (State.WHOLE, 2, True)


def test_zeros_left_by_a_power_cut_are_torn_even_inside_the_hash() -> None:
    start = written(opening())
    line = written(opening(), a_line(1))[len(start) :]
    for torn in (b"\0" * 200, line[:80] + b"\0" * 64 + line[144:], line[:-30] + b"\0" * 27 + line[-3:]):
        assert examine(start + torn).state is State.TORN


def test_torn_bytes_that_were_named_in_a_mended_line_are_believed() -> None:
    start, torn = written(opening()), b'{"#":1,"at\n'
    file = examine(written(opening(), torn, mended(1, torn, len(start)), a_line(2)))
    assert (file.state, [line.event for line in file.lines]) == (State.WHOLE, ["job opened", MENDED, "note added"])


def test_crashes_while_mending_may_leave_several_torn_lines() -> None:
    start, torn = written(opening()), b'{"#":1,"at\n{"#":1,"at":"2031\n\0\0\0\n'
    assert examine(written(opening(), torn, mended(1, torn, len(start)))).state is State.WHOLE


@pytest.mark.parametrize("said", [b"other bytes\n", b""])
def test_torn_bytes_under_a_mended_line_that_names_others_were_altered(said: bytes) -> None:
    start = written(opening())
    file = examine(written(opening(), b"torn bytes \n", mended(1, said, len(start))))
    assert (file.state, file.fault[:7]) == (State.ALTERED, "line 2:")


def test_a_mended_line_that_follows_nothing_torn_was_put_there() -> None:
    assert examine(written(opening(), mended(1, b"", 200))).state is State.ALTERED


def test_an_altered_word_in_any_line_names_that_line() -> None:
    data = written(*(opening(), a_line(1), a_line(2), a_line(3)))
    file = examine(data.replace(b"note 2", b"note 7"))
    assert (file.state, len(file.lines)) == (State.ALTERED, 2)
    assert file.fault.startswith("line 3: ")


def test_a_damaged_line_in_the_middle_is_named_and_not_the_ones_after_it() -> None:
    data = written(*(opening(), a_line(1), a_line(2), a_line(3)))
    assert examine(data.replace(b'"text":"note 1"', b'"text";"note 1"')).fault.startswith("line 2: ")


@pytest.mark.parametrize("order", [(0, 2, 1, 3), (0, 1, 1, 2, 3), (0, 2, 3), (1, 0, 2, 3)])
def test_lines_swapped_doubled_or_dropped_are_noticed(order: tuple[int, ...]) -> None:
    data = written(opening(), a_line(1), a_line(2), a_line(3))
    lines = data.splitlines(keepends=True)
    assert examine(b"".join(lines[number] for number in order)).state is State.ALTERED


def test_a_number_that_is_not_the_next_was_written_by_something_else() -> None:
    assert examine(written(opening(), a_line(2))).fault == "line 2: it is number 2 where 1 belongs"


def test_nothing_may_stand_after_the_seal() -> None:
    whole = written(opening(), sign_off(1))
    assert examine(whole).sealed
    assert examine(written(opening(), sign_off(1), a_line(2))).state is State.ALTERED
    assert examine(whole + b'{"#":2,').state is State.ALTERED


@pytest.mark.parametrize("data", [b"", b"\n", b'{"#":0,"at', b"\0" * 80])
def test_a_file_without_a_whole_first_line_comes_from_no_crash(data: bytes) -> None:
    assert examine(data).state is State.ALTERED


def test_a_file_that_grew_is_read_on_from_where_it_was_known() -> None:
    short, long = written(opening(), a_line(1)), written(opening(), a_line(1), a_line(2))
    file = examine(long, examine(short))
    assert (file.lines, file.ends, file.digest) == (
        examine(long).lines,
        examine(long).ends,
        examine(long).digest,
    )
    assert examine(long + b"{", examine(short)).fault.startswith("line 4: ")


def test_what_was_known_of_other_bytes_is_not_believed() -> None:
    known = examine(written(opening(), a_line(1, text="of yesterday")))
    today = written(opening(), a_line(1), a_line(2))
    assert examine(today, known).lines == examine(today).lines
    assert examine(written(opening()), known).lines == (opening(),)


def test_a_missing_file_is_a_fault_with_a_remedy(tmp_path: Path) -> None:
    with pytest.raises(FileFault, match="backup"):
        read_journal(tmp_path / "A31-0001.jsonl")


def some_journals() -> list[bytes]:
    """Whole, sealed, mended and torn ones, of more lines than a short stretch holds."""
    head = [opening(), *(a_line(number) for number in range(1, 12))]
    start, torn = written(*head), b'{"#":12,"at\n'
    healed: list[Line | bytes] = [
        *head,
        torn,
        mended(12, torn, len(start)),
        *(a_line(number) for number in range(13, 20)),
    ]
    ends: list[tuple[Line | bytes, ...]] = [
        (),
        (sign_off(20),),
        (b'{"#":20,',),
        (sign_off(20), a_line(21)),
        (a_line(21),),
        (mended(20, b"", 9),),
    ]
    return [written(*healed, *end) for end in ends] + [written(*head, sign_off(12)), start, start[:-1]]


@pytest.mark.parametrize("stretch", [200, 700, 1500, 64 * 1024])
def test_lines_read_many_at_once_say_what_they_say_one_by_one(monkeypatch: pytest.MonkeyPatch, stretch: int) -> None:
    def found(data: bytes, at_once: int) -> tuple[object, ...]:
        monkeypatch.setattr(journal_file, "_STRETCH", at_once)
        file = examine(data)
        return file.lines, file.ends, file.size, file.digest, file.state, file.fault, file.torn_from, file.line_feed_due

    for data in some_journals():
        # One byte changed in about each third line, then none.
        for place in (*range(40, len(data), 701), None):
            changed = data if place is None else data[:place] + b"~" + data[place + 1 :]
            assert found(changed, stretch) == found(changed, 0)
