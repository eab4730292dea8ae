"""What do closed ledgers still say, and are they as they were when they were closed?

A damaged ledger is kept under a name of its own (`ledger-1.jsonl`) and never written again. The first line of the
ledger that goes on after it names it with the SHA-256 of all its bytes, and says who answered for the closing. Its
lines before the damage are believed as they always were. Each job that the damage concerns has a line after that first
one, with the bytes that its journal had then.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from itertools import takewhile
from pathlib import Path

from passcheck.job.journal_line import Line
from passcheck.records.agreement import LedgerRead
from passcheck.records.disk import Disk, FileFacts
from passcheck.records.journal_file import JournalFile, examine
from passcheck.records.remedy import ask_disk, if_there

CLOSED = "closed"
FOUND = "found"
CONCERNED = "concerned"
"""The event of a line that names a job which the damage concerns."""
GONE = "it is gone"
CHANGED = "it was altered after it was closed"
UNREAD = "line 1: this version can't make out which ledger was closed before it"
WAY_OUT = "Look for it in a backup; if there is none, a lead closes it: passcheck bench close-ledger."

_NAME = re.compile(r"ledger-[1-9][0-9]{0,5}\.jsonl", re.ASCII)
_TEXTS, _COUNTS = ("digest", "fault", "file"), ("bytes", "lines")


def closed_name(number: int) -> str:
    """The name of the ledger that was closed as that number, from 1."""
    return f"ledger-{number}.jsonl"


def is_closed_name(name: str) -> bool:
    """Whether a closed ledger may have that name; no other is ever read, whatever a first line says."""
    return _NAME.fullmatch(name) is not None


@dataclass(frozen=True, slots=True)
class ClosedFile:
    """A closed ledger as the first line of a later one names it."""

    file: str
    bytes: int
    """0 when it was gone by then."""
    digest: str
    lines: int
    """How many of its lines hold."""
    fault: str
    """What is wrong with the others, `line 212: …`; empty where it was only closed because of one before it."""


@dataclass(frozen=True, slots=True)
class Closing:
    """Who closed the ledger before this one, when and why."""

    at: str
    by: str
    because: str
    files: tuple[ClosedFile, ...]
    """The ledger that was closed; then those older ones that it couldn't vouch for any more, as they were found."""

    def facts(self) -> dict[str, object]:
        """The members of the new ledger's first line that tell of it; `at` is the line's own."""
        closed, *found = map(asdict, self.files)
        told: dict[str, object] = {CLOSED: {**closed, "by": self.by, "because": self.because}}
        return told | {FOUND: found} if found else told

    @property
    def signed(self) -> str:
        """By whom and on which day (of UTC), in words."""
        return f"by {self.by} on {self.at[:10]}"

    def sentence(self, job: str) -> str:
        """What stays said of a job which the damage concerns."""
        damaged = next((one for one in self.files if one.fault), self.files[0])
        after = " after that line" if damaged.fault.startswith("line ") else ""
        because = " ".join(self.because.split()).removesuffix(".")
        return (
            f"{job} stands on a ledger that was found damaged ({damaged.file}, {damaged.fault}) and closed "
            f'{self.signed}: "{because}". '
            f"What it said of this job{after} can't be checked."
        )


def tells_of_one(file: JournalFile) -> bool:
    """Whether a ledger's first line holds and says that another was closed before it."""
    return bool(file.lines) and CLOSED in file.lines[0].data


def closing_of(file: JournalFile) -> Closing | None:
    """What a ledger's first line tells of a closing; None when it tells of none, or in no way that can be made out."""
    if not tells_of_one(file):
        return None
    first = file.lines[0]
    closed, found = first.data[CLOSED], first.data.get(FOUND, [])
    if isinstance(closed, Mapping) and isinstance(found, list):
        by, because = closed.get("by"), closed.get("because")
        files = tuple(one for one in map(_closed_file, (closed, *found)) if one is not None)
        if isinstance(by, str) and isinstance(because, str) and len(files) == 1 + len(found):
            return Closing(first.at, by, because, files)
    return None


def _closed_file(told: object) -> ClosedFile | None:
    if not isinstance(told, Mapping):
        return None
    texts, counts = [told.get(name) for name in _TEXTS], [told.get(name) for name in _COUNTS]
    right = all(isinstance(text, str) for text in texts) and all(type(count) is int for count in counts)
    if not right or not is_closed_name(told["file"]):
        return None
    return ClosedFile(told["file"], told["bytes"], told["digest"], told["lines"], told["fault"])


@dataclass(frozen=True, slots=True)
class Past:
    """A closed ledger that a later one vouches for."""

    closed: ClosedFile
    told_in: str
    """The ledger whose first line names it."""
    closing: Closing
    """What that line says of it."""
    file: JournalFile
    """As it lies there now."""
    facts: FileFacts | None
    fault: str
    """A sentence when it is not what was closed; empty while it is."""


@dataclass(frozen=True, slots=True)
class Chain:
    """All closed ledgers, each named by a later one, the latest first."""

    past: tuple[Past, ...]
    closings: tuple[tuple[Closing, JournalFile], ...]
    """Each closing, with the ledger whose first line tells of it."""
    faults: tuple[str, ...]
    """Which of them are not what was closed, as sentences."""
    unread: bool
    """The latest ledger's first line tells of a closing in a way that can't be made out."""
    broken: bool
    """A first line is lost or a closed ledger is, so that older ones may lie there which nothing vouches for."""

    def lines(self) -> tuple[Line, ...]:
        """Every line of theirs that holds, the oldest ledger's first."""
        return tuple(line for past in reversed(self.past) for line in past.file.lines)

    def read(self, data: Callable[[str], bytes]) -> tuple[LedgerRead, ...]:
        """Those that are there, the oldest first; `data` gives the bytes under a name."""
        there = [one for one in reversed(self.past) if one.facts is not None]
        return tuple(LedgerRead(one.closed.file, one.file, data(one.closed.file)) for one in there)

    def concerned(self, job: str) -> tuple[str, ...]:
        """What stays said of a job because of each closing that marked it, the oldest first."""
        return tuple(closing.sentence(job) for closing, file in reversed(self.closings) if job in _marked_in(file))

    @property
    def marked(self) -> frozenset[str]:
        """Every job of which something stays said."""
        return frozenset().union(*(_marked_in(file) for _, file in self.closings))


def _marked_in(file: JournalFile) -> frozenset[str]:
    """The jobs that the lines after a ledger's first one mark as concerned by the closing which that one tells of."""
    marks = takewhile(lambda line: line.event == CONCERNED, file.lines[1:])
    return frozenset(str(line.data.get("job")) for line in marks)


Look = Callable[[str], tuple[JournalFile, FileFacts | None]]
"""What lies under the name of a closed ledger; an empty file and no facts when nothing does."""


def chain_of(name: str, newest: JournalFile | None, look: Look) -> Chain:
    """Those closed ledgers that the ledger under that name vouches for, itself or through one that it vouches for."""
    found: dict[str, Past] = {}
    closings: list[tuple[Closing, JournalFile]] = []
    waiting = [(name, newest)] if newest is not None else []
    for told_in, file in waiting:  # it grows while it is walked
        if (closing := closing_of(file)) is None:
            continue
        closings.append((closing, file))
        for one in closing.files:
            if one.file not in found:  # else a later ledger told how it was found since
                found[one.file] = _past(one, told_in, closing, look)
                waiting.append((one.file, found[one.file].file))
    # Of an older ledger, whoever closed it has answered for its first line, and told what lay beside it.
    unread = newest is not None and tells_of_one(newest) and closing_of(newest) is None
    faults = [f"{name}, {UNREAD}. {WAY_OUT}"] if unread else []
    faults += [past.fault for past in found.values() if past.fault]
    lost_first = newest is not None and not newest.lines
    return Chain(tuple(found.values()), tuple(closings), tuple(faults), unread, lost_first or bool(faults))


def _past(closed: ClosedFile, told_in: str, closing: Closing, look: Look) -> Past:
    file, facts = look(closed.file)
    fault = ""
    if (file.size, file.digest) != (closed.bytes, closed.digest):
        what = GONE if facts is None else CHANGED
        fault = f"{closed.file}: {what} ({closing.signed}). {WAY_OUT}"
    return Past(closed, told_in, closing, file, facts, fault)


class ClosedLedgers:
    """The closed ledgers in a folder, each read again only when it looks different."""

    def __init__(self, folder: Path, disk: Disk) -> None:
        """Nothing is read before it is needed."""
        self._folder = folder
        self._disk = disk
        self._read: dict[str, tuple[FileFacts | None, JournalFile]] = {}

    def chain(self, name: str, newest: JournalFile | None) -> Chain:
        """Those that the ledger under that name vouches for; see `chain_of`."""
        return chain_of(name, newest, self._file)

    def names(self) -> tuple[str, ...]:
        """Every file with the name of a closed ledger, whether any ledger vouches for it or not."""
        listed = ask_disk(lambda: self._disk.names(self._folder), self._folder)
        return tuple(name for name in listed if is_closed_name(name))

    def as_now(self, name: str) -> ClosedFile:
        """What has to be told of a closed ledger as it lies there now."""
        file, facts = self._file(name)
        fault = GONE if facts is None else file.fault
        return ClosedFile(name, file.size, file.digest, len(file.lines), fault)

    def read_bytes(self, name: str) -> bytes:
        """The bytes of a closed ledger; none when it is gone."""
        path = self._folder / name
        return if_there(lambda: self._disk.read_all(path), path) or b""

    def _file(self, name: str) -> tuple[JournalFile, FileFacts | None]:
        path = self._folder / name
        facts = ask_disk(lambda: self._disk.facts_of(path), path)
        if name not in self._read or self._read[name][0] != facts:
            self._read[name] = facts, examine(self.read_bytes(name))
        return self._read[name][1], facts
