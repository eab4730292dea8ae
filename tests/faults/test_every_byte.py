"""What happens to a journal that was cut, or changed in one bit, anywhere?"""

from collections.abc import Iterator
from pathlib import Path

import pytest
from journal_lines import a_fail, a_line, opening, sign_off, stamp

from passcheck.errors import FileFault
from passcheck.job.journal_line import Line
from passcheck.records.journal import Journal
from passcheck.records.journal_file import State, examine, read_journal

OPEN = (opening(), a_line(1), a_fail(2), a_line(3, text="häß \u2028 \x1b[31m"))
SEALED = (*OPEN, sign_off(4))


def sample(folder: Path, lines: tuple[Line, ...]) -> bytes:
    path = folder / "sample.jsonl"
    Journal.create(path, lines, stamp=stamp).close()
    return path.read_bytes()


def mended_sample(folder: Path) -> bytes:
    """A journal that has been through a crash already."""
    path = folder / "sample.jsonl"
    Journal.create(path, OPEN, stamp=stamp).close()
    path.write_bytes(path.read_bytes() + b'{"#":4,"at":"2031-04')
    journal = Journal.open(path, stamp=stamp)
    journal.append([a_line(5)])
    journal.close()
    return path.read_bytes()


def cuts(data: bytes) -> Iterator[tuple[int, int]]:
    """Every place to cut after the first line, and how many lines are whole before it."""
    for size in range(data.index(b"\n") + 1, len(data)):
        whole = data[:size].count(b"\n")
        lacks_only_its_line_feed = data[size : size + 1] == b"\n"
        yield size, whole + lacks_only_its_line_feed


@pytest.mark.parametrize("lines", [OPEN, SEALED], ids=["open", "sealed"])
def test_a_journal_cut_anywhere_opens_at_its_last_whole_line_and_goes_on(
    tmp_path: Path, lines: tuple[Line, ...]
) -> None:
    data = sample(tmp_path, lines)
    path = tmp_path / "A31-0001.jsonl"
    for size, whole in cuts(data):
        path.write_bytes(data[:size])
        journal = Journal.open(path, stamp=stamp)
        assert journal.lines[:whole] == lines[:whole]
        assert {line.event for line in journal.lines[whole:]} <= {"mended"}
        if not journal.sealed:
            journal.append([a_line(journal.next_number)])
        journal.close()
        file = read_journal(path)
        assert (file.state, file.sealed) == (State.WHOLE, whole == len(SEALED))
        assert file.lines[-1].event == ("signed off" if file.sealed else "note added")
        assert path.read_bytes().startswith(data[:size])


def test_a_journal_cut_inside_its_first_line_is_refused(tmp_path: Path) -> None:
    data = sample(tmp_path, OPEN)
    path = tmp_path / "A31-0001.jsonl"
    for size in range(data.index(b"\n")):
        path.write_bytes(data[:size])
        with pytest.raises(FileFault, match="altered"):
            Journal.open(path)


@pytest.mark.parametrize("kind", ["open", "sealed", "mended"])
def test_a_bit_changed_anywhere_is_noticed(tmp_path: Path, kind: str) -> None:
    data = mended_sample(tmp_path) if kind == "mended" else sample(tmp_path, OPEN if kind == "open" else SEALED)
    file = examine(data)
    # A crash may leave anything in the place of the last line, so damage there may pass for a torn one. The line feed
    # before it counts as its own: without it two lines are one.
    last_line = file.ends[-2] - 1
    for place in range(len(data)):
        # One bit of the eight, another at each place; all eight of every byte take minutes and belong to the long set.
        changed = bytearray(data)
        changed[place] ^= 1 << (place * 5 % 8)
        state = examine(bytes(changed)).state
        assert state is State.ALTERED or (state is State.TORN and place >= last_line), place


def test_a_byte_put_in_or_taken_out_anywhere_is_noticed(tmp_path: Path) -> None:
    data = sample(tmp_path, OPEN)
    last_line = examine(data).ends[-2] - 1
    for place in range(len(data) - 1):
        for changed in (data[:place] + b"7" + data[place:], data[:place] + data[place + 1 :]):
            state = examine(changed).state
            assert changed == data or state is State.ALTERED or (state is State.TORN and place >= last_line), place
