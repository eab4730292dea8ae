"""What happens to a journal that was cut, or changed in one bit, anywhere?

The short journals made here are tried at every byte, the samples of `tests/samples/journals` at some; all eight bits of
every byte of every sample are tried by `tests/benchmarks/every_byte.py`, in the same way. Most of it goes to a disk in
memory; some cuts are made on the real one, where each costs several syncs.
"""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from damage import (
    Damaged,
    Found,
    cut,
    cut_in_its_folder,
    flipped,
    ledger_cut_in_its_folder,
    lines_changed,
    put_in_or_out,
)
from journal_lines import a_fail, a_line, opening, sign_off, stamp
from sample_set import JOURNALS, all_samples, damaged, logs_of

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
    """Places to cut after the first line, all those about a line feed, and how many lines are whole before each."""
    for size in range(data.index(b"\n") + 1, len(data)):
        if size % 17 and b"\n" not in data[size - 2 : size + 2]:
            continue
        whole = data[:size].count(b"\n")
        lacks_only_its_line_feed = data[size : size + 1] == b"\n"
        yield size, whole + lacks_only_its_line_feed


@pytest.mark.parametrize("lines", [OPEN, SEALED], ids=["open", "sealed"])
def test_a_journal_cut_on_a_real_disk_opens_at_its_last_whole_line_and_goes_on(
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


@pytest.mark.parametrize("kind", ["open", "sealed", "mended"])
def test_a_journal_cut_anywhere_goes_on_from_its_last_whole_line(tmp_path: Path, kind: str) -> None:
    """Inside its first line there is none, and it is refused."""
    data = mended_sample(tmp_path) if kind == "mended" else sample(tmp_path, OPEN if kind == "open" else SEALED)
    found = cut(Damaged.of(kind, data), range(len(data)))
    assert_noticed(found)
    assert found.altered == data.index(b"\n")


def test_a_journal_cut_inside_its_first_line_is_refused_with_a_word(tmp_path: Path) -> None:
    data = sample(tmp_path, OPEN)
    path = tmp_path / "A31-0001.jsonl"
    for size in range(0, data.index(b"\n"), 29):
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


each_sample = pytest.mark.parametrize(("name", "place"), all_samples(), ids=[Path(p).stem for _, p in all_samples()])
JOURNALS_ALONE = [(name, place) for name, place in all_samples() if not place.endswith("ledger.jsonl")]


def assert_noticed(found: Found) -> None:
    assert found.missed == []
    assert found.cases == found.altered + found.torn + found.not_believed + found.ledger + found.nobody


@each_sample
def test_a_bit_changed_in_a_sample_is_noticed(name: str, place: str) -> None:
    sample = damaged(name, place)
    assert_noticed(flipped(sample, range(0, len(sample.data), 13), bits=1))


@each_sample
def test_a_byte_put_into_a_sample_or_taken_out_is_noticed(name: str, place: str) -> None:
    sample = damaged(name, place)
    assert_noticed(put_in_or_out(sample, range(7, len(sample.data), 89)))


@each_sample
def test_a_line_of_a_sample_dropped_doubled_swapped_or_moved_is_noticed(name: str, place: str) -> None:
    """All but the last line of an open job, which nothing else has named."""
    sample = damaged(name, place)
    found = lines_changed(sample, every=1 if len(sample.file.lines) < 5 else 7)
    assert_noticed(found)
    assert found.nobody <= 1


@each_sample
def test_a_sample_cut_anywhere_goes_on_from_its_last_whole_line(name: str, place: str) -> None:
    sample = damaged(name, place)
    around = {end + off for end in sample.line_ends() for off in (-1, 0, 1)}
    assert_noticed(cut(sample, sorted(around | set(range(5, len(sample.data), 97)))))


@pytest.mark.parametrize(("name", "place"), JOURNALS_ALONE, ids=[Path(place).stem for _, place in JOURNALS_ALONE])
def test_a_journal_cut_back_behind_the_ledgers_word_is_neither_intact_nor_opened(
    name: str, place: str, tmp_path: Path
) -> None:
    sample = damaged(name, place)
    folder = Path(shutil.copytree(JOURNALS / name, tmp_path / "logs"))
    found = cut_in_its_folder(sample, logs_of(folder, sample.name), sample.line_ends()[-1::-3])
    assert found.missed == []
    if sample.file.sealed:
        assert found.nobody == 0


@pytest.mark.parametrize("letter", ["A", "P"])
def test_a_ledger_cut_back_is_missed_by_a_journal_that_it_had_named(letter: str, tmp_path: Path) -> None:
    name, place = all_samples()[0][0], "practice/ledger.jsonl" if letter == "P" else "ledger.jsonl"
    sample, folder = damaged(name, place), Path(shutil.copytree(JOURNALS / name, tmp_path / "logs"))
    sizes = sample.line_ends()
    assert ledger_cut_in_its_folder(sample, logs_of(folder, letter), sizes[-1::-7]).missed == []
