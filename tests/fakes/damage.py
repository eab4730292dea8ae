"""What comes of a journal that was cut, or changed in one place, and who notices?

sample = Damaged.of(name, data, said)
found = flipped(sample, range(len(data)))
assert not found.missed

A journal of 30 kB has 240,000 single bits. Its lines before the damage are vouched for by their digest (`examine` with
`earlier`, as the ledger is read all day), so that each case decodes the lines that the damage touches and no others.
That this gives what the whole file read anew gives is shown at every `PROVED_EVERY`th case.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path
from typing import NamedTuple

from bytes_disk import BytesDisk
from journal_lines import a_line, stamp

from passcheck.errors import FileFault
from passcheck.job.journal_line import Line
from passcheck.records.agreement import Entry, contradictions
from passcheck.records.journal import Journal
from passcheck.records.journal_file import JournalFile, State, examine
from passcheck.records.shop import LogFolder

PROVED_EVERY = 199
"""A prime, so that every place in a line and every bit has its turn."""
LINE_FEED = 0x0A
_PATH = Path("jobs/A31-0001.jsonl")


@dataclass(slots=True)
class Found:
    """How many cases came out how.

    Attributes:
        cases: all of them.
        altered: refused as altered outside the program.
        torn: called torn, which a crash can leave as well; allowed in the last line and the line feed before it only.
        not_believed: in bytes that were torn already, in which nobody believes.
        ledger: whole by themselves, and contradicted by the ledger.
        nobody: whole by themselves, and nothing in the ledger against them.
        proved: read once more from the first byte, with the same outcome.
        missed: what should have been noticed and wasn't; empty unless the records are at fault.
        lines_lost: of those that nobody notices, how many whole lines each lacks.
    """

    cases: int = 0
    altered: int = 0
    torn: int = 0
    not_believed: int = 0
    ledger: int = 0
    nobody: int = 0
    proved: int = 0
    missed: list[str] = field(default_factory=list)
    lines_lost: list[int] = field(default_factory=list)

    def add(self, other: "Found") -> None:
        """Count those as well."""
        for name in ("cases", "altered", "torn", "not_believed", "ledger", "nobody", "proved"):
            setattr(self, name, getattr(self, name) + getattr(other, name))
        self.missed += other.missed
        self.lines_lost += other.lines_lost


class Change(NamedTuple):
    """Bytes as they are after a change, and the first place that differs."""

    place: int
    data: bytes
    words: str


@dataclass(frozen=True, slots=True)
class Damaged:
    """A sample, what vouches for each of its beginnings, and what the ledger says of it."""

    name: str
    data: bytes
    file: JournalFile
    said: tuple[Entry, ...]
    beginnings: tuple[JournalFile, ...]
    last_line: int
    """Where the last whole line begins, the line feed before it included: damage from here on may look torn."""

    @classmethod
    def of(cls, name: str, data: bytes, said: tuple[Entry, ...] = ()) -> "Damaged":
        """A sample that is whole or torn."""
        file = examine(data)
        assert file.state is not State.ALTERED, f"{name}: {file.fault}"
        beginnings: list[JournalFile] = []
        for end in file.ends:
            beginnings.append(examine(data[:end], beginnings[-1] if beginnings else None))
        return cls(name, data, file, said, tuple(beginnings), data.rfind(b"\n", 0, file.ends[-1] - 1))

    def line_ends(self) -> tuple[int, ...]:
        """The byte after each line feed but the last of all: where a file can be cut and look whole."""
        feeds = (place + 1 for place, byte in enumerate(self.data) if byte == LINE_FEED)
        return tuple(end for end in feeds if end < len(self.data))

    def before(self, place: int) -> JournalFile | None:
        """What vouches for the lines that end before this byte; None in the first line."""
        whole = bisect_right(self.file.ends, place)
        return self.beginnings[whole - 1] if whole else None


def flipped(sample: Damaged, places: Iterable[int], bits: int = 8) -> Found:
    """Change single bits, so many of the eight at each place; with which one it begins goes round."""
    each = ((place, (place * 5 + bit) % 8) for place in places for bit in range(bits))
    return _noticed(sample, (Change(place, _flip(sample.data, place, bit), f"bit {bit}") for place, bit in each))


def put_in_or_out(sample: Damaged, places: Iterable[int]) -> Found:
    """Take one byte out, or put one in; which one goes round from place to place."""
    return _noticed(sample, _in_or_out(sample.data, places))


def lines_changed(sample: Damaged, *, every: int = 1) -> Found:
    """Drop, double, swap and move every line of the file, torn ones as well; of all these, every n-th."""
    return _noticed(sample, islice(_line_changes(sample.data), every // 2, None, every))


def cut(sample: Damaged, sizes: Iterable[int]) -> Found:
    """Cut the file off after so many bytes; what is left is opened, written on with, and read again."""
    found, named = Found(), max((entry.bytes for entry in sample.said), default=0)
    for size in sizes:
        data = sample.data[:size]
        found.cases += 1
        if size < sample.file.ends[0] - 1:
            _refuse(found, sample, data)
            continue
        file = examine(data, sample.before(size))
        whole = bisect_right(sample.file.ends, size + 1)  # a line that lacks only its line feed counts
        against = contradictions(sample.name, file, data, sample.said)
        if (size < named) != bool(against):
            found.missed.append(f"{sample.name} cut at {size}: the ledger says {against or 'nothing'}")
        _count_cut(found, sample, file, whole, against=bool(against))
        if not _goes_on(sample, data, whole):
            found.missed.append(f"{sample.name} cut at {size}: it doesn't go on from its {whole} whole lines")
        _prove(found, sample, data, file)
    return found


def cut_in_its_folder(sample: Damaged, logs: LogFolder, sizes: Iterable[int]) -> Found:
    """Cut the file off in its folder of logs, and ask the records: is all well with it, and may it be written on?

    Where the ledger had named a byte that is gone, the answers have to be no and no. Otherwise it opens at its last
    whole line, and all is well with it unless it ends in torn bytes.
    """
    found, path = Found(), logs.journal_path(sample.name)
    named = max(entry.bytes for entry in sample.said)
    for size in sizes:
        found.cases += 1
        path.write_bytes(sample.data[:size])
        whole = sample.file.lines[: bisect_right(sample.file.ends, size)]
        torn = size not in sample.file.ends
        said, opened = logs.intact(sample.name), _opened(logs, sample.name)
        if size < named:
            found.ledger += 1
            right = opened is None and any("the ledger" in sentence for sentence in said)
        else:
            found.torn += torn
            found.nobody += not torn
            found.lines_lost += [] if torn else [len(sample.file.lines) - len(whole)]
            right = bool(said) == torn and opened is not None and opened[: len(whole)] == whole
        if not right:
            found.missed.append(f"{sample.name} cut at {size}: {said or 'nothing is said'}")
    return found


def ledger_cut_in_its_folder(sample: Damaged, logs: LogFolder, sizes: Iterable[int]) -> Found:
    """Cut the ledger off in its folder of logs, and ask the records of every journal there: one has to miss a line."""
    found = Found()
    for size in sizes:
        found.cases += 1
        logs.ledger.path.write_bytes(sample.data[:size])
        told = sum(any("the ledger" in sentence for sentence in logs.intact(job)) for job in logs.job_ids())
        found.ledger += bool(told)
        if not told:
            found.missed.append(f"{sample.name} cut at {size}: no journal misses a line")
    return found


def _opened(logs: LogFolder, job: str) -> tuple[Line, ...] | None:
    try:
        writer, lines = logs.open_job(job)
    except FileFault:
        return None
    writer.close()
    return lines


def _refuse(found: Found, sample: Damaged, data: bytes) -> None:
    """A file without one whole line is no journal: none is put under its name before its first line is on disk."""
    disk = BytesDisk()
    disk.put(_PATH, data)
    try:
        Journal.open(_PATH, disk=disk, stamp=stamp, own_lock=False).close()
    except FileFault:
        found.altered += 1
    else:
        found.missed.append(f"{sample.name} cut at {len(data)}: opened without a whole line")


def _count_cut(found: Found, sample: Damaged, file: JournalFile, whole: int, *, against: bool) -> None:
    if file.state is State.TORN:
        found.torn += 1
    elif file.state is State.ALTERED:
        found.missed.append(f"{sample.name} cut at {file.size}: called altered, and a crash can leave it")
    elif against:
        found.ledger += 1
    else:
        found.nobody += 1
        found.lines_lost.append(len(sample.file.lines) - whole)
    if file.lines != sample.file.lines[:whole]:
        found.missed.append(f"{sample.name} cut at {file.size}: {len(file.lines)} lines, where {whole} are whole")


def _goes_on(sample: Damaged, data: bytes, whole: int) -> bool:
    """Whether the file opens at its last whole line, takes another, and is whole then, with every byte it had."""
    disk, earlier = BytesDisk(), sample.before(len(data))
    disk.put(_PATH, data)
    journal = Journal.open(_PATH, disk=disk, stamp=stamp, own_lock=False, earlier=earlier)
    if not journal.sealed:
        journal.append([a_line(journal.next_number)])
    journal.close()
    after = disk.read_all(_PATH)
    file = examine(after, earlier)
    added = [line.event for line in file.lines[whole:]]
    return (
        file.state is State.WHOLE
        and after.startswith(data)
        and file.lines[:whole] == sample.file.lines[:whole]
        and added in ([["note added"], ["mended", "note added"]] if not file.sealed else [[]])
    )


def _noticed(sample: Damaged, changes: Iterable[Change]) -> Found:
    found = Found()
    for place, data, words in changes:
        found.cases += 1
        file = examine(data, sample.before(place))
        if file.state is State.ALTERED:
            found.altered += 1
        elif sample.data.startswith(data):
            _count_cut(found, sample, file, len(file.lines), against=_is_contradicted(sample, file, data))
        elif file.state is State.TORN and sample.file.torn_from is not None and place >= sample.file.torn_from:
            found.not_believed += 1
        elif file.state is State.TORN and place >= sample.last_line:
            found.torn += 1
        else:
            found.missed.append(f"{sample.name}, byte {place}, {words}: it is called {file.state.value}")
        _prove(found, sample, data, file)
    return found


def _is_contradicted(sample: Damaged, file: JournalFile, data: bytes) -> bool:
    return bool(contradictions(sample.name, file, data, sample.said))


def _prove(found: Found, sample: Damaged, data: bytes, file: JournalFile) -> None:
    """Now and then read every byte anew, and ask for the same."""
    if found.cases % PROVED_EVERY == 1:
        found.proved += 1
        if _outcome(examine(data)) != _outcome(file):
            found.missed.append(f"{sample.name}, {len(data)} bytes: read from its first byte it is something else")


def _outcome(file: JournalFile) -> tuple[object, ...]:
    return (
        file.lines, file.ends, file.size, file.digest, file.state, file.fault, file.torn_from, file.line_feed_due,
    )  # fmt: skip


def _flip(data: bytes, place: int, bit: int) -> bytes:
    changed = bytearray(data)
    changed[place] ^= 1 << bit
    return bytes(changed)


def _in_or_out(data: bytes, places: Iterable[int]) -> Iterator[Change]:
    for place in places:
        yield Change(place, data[:place] + data[place + 1 :], "taken out")
        byte = (37 * place + 10) % 256
        yield Change(place, data[:place] + bytes([byte]) + data[place:], f"{byte:#04x} put in")


def _line_changes(data: bytes) -> Iterator[Change]:
    lines = _lines(data)
    starts = [0]
    for line in lines:
        starts.append(starts[-1] + len(line))
    for one, line in enumerate(lines):
        rest = [*lines[:one], *lines[one + 1 :]]
        yield Change(starts[one], b"".join(rest), f"line {one + 1} dropped")
        for other in range(len(lines) + 1):
            doubled = b"".join([*lines[:other], line, *lines[other:]])
            yield Change(starts[other], doubled, f"line {one + 1} once more before {other + 1}")
        for other in range(len(rest) + 1):
            if other != one:
                moved = b"".join([*rest[:other], line, *rest[other:]])
                yield Change(starts[min(one, other)], moved, f"line {one + 1} moved to {other + 1}")
        for other in range(one + 1, len(lines)):
            swapped = list(lines)
            swapped[one], swapped[other] = lines[other], line
            yield Change(starts[one], b"".join(swapped), f"lines {one + 1} and {other + 1} swapped")


def _lines(data: bytes) -> list[bytes]:
    """Only the line feed ends a line, whatever else Unicode would cut at."""
    whole = [line + b"\n" for line in data.split(b"\n")]
    whole[-1] = whole[-1][:-1]
    return [line for line in whole if line]
