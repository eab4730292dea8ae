"""How is a damaged ledger closed by a person's statement, so that what it can't show any more stays said?

First the damaged file's bytes are kept under a name of their own, then a new ledger takes its place in one step. A
crash leaves the old state or the new one; what it may leave beside the old one is a finished copy, which the next
closing takes up.

Marked are the jobs of which the ledger may have said more than can be read: all that its lines don't know as sealed (a
fail that a later line told could be gone from both files), those that stand on bytes which no longer hold, and those
that are named and have no journal. So nobody can take a fail away from ledger and journal without leaving a mark.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace

from filelock import Timeout

from passcheck.errors import BenchFailed, FileFault
from passcheck.job.journal_line import Line
from passcheck.records.agreement import SEALED, Entry, entries, prefix_digests
from passcheck.records.closed_ledger import (
    CHANGED,
    CONCERNED,
    UNREAD,
    Chain,
    ClosedFile,
    ClosedLedgers,
    Closing,
    closed_name,
)
from passcheck.records.disk import Disk
from passcheck.records.job_number import is_job_number, job_number
from passcheck.records.journal_file import JournalFile, State, examine
from passcheck.records.ledger import Ledger, first_line
from passcheck.records.line_codec import encode_line, new_digest
from passcheck.records.remedy import ask_disk
from passcheck.records.stamp import RECORDS, Stamp
from passcheck.records.whole_file import write_whole

WAIT_TO_CLOSE_S = 0.5
"""Long enough for one line of another passcheck; a person stands before this and can try again."""
JournalBytes = Callable[[str], bytes | None]
"""The bytes of a job's journal; None when there is none."""


@dataclass(frozen=True, slots=True)
class LedgerClosed:
    """What was done."""

    kept: ClosedFile
    """The ledger that was closed, under the name it has now."""
    faults: tuple[str, ...]
    """What was wrong, each with the file's name."""
    marked: tuple[str, ...]
    """Jobs that stay marked."""
    without_journal: tuple[str, ...]
    """Those among them that were named and have no journal."""


class LedgerClosing:
    """The closing of one folder's ledger."""

    def __init__(self, ledger: Ledger, letter: str, disk: Disk, stamp: Callable[[], Stamp]) -> None:
        """Nothing is read or written yet."""
        self._ledger = ledger
        self._letter = letter
        self._disk = disk
        self._stamp = stamp
        self._closed = ClosedLedgers(ledger.path.parent, disk)

    def close(self, by: str, because: str, job_ids: Callable[[], Sequence[str]], journal: JournalBytes) -> LedgerClosed:
        """Keep the damaged ledger, begin a new one; see `LogFolder.close_ledger`."""
        if self._ledger.file() is None:
            raise FileFault(f"{self._ledger.path}: there is no ledger, so there is none to close.")
        with self._alone():
            data = self._ledger.read_bytes()
            file = examine(data)
            chain = self._closed.chain(self._ledger.path.name, file)
            if not chain.faults and file.state is not State.ALTERED:
                raise self._nothing_to_close(file, chain)
            stamp = self._stamp()
            closing = Closing(stamp.at, by, because, self._files(data, file, chain))
            said, grounds = self._still_said(closing, file, chain), self._grounds(closing, data, chain)
            marks = tuple(_marks(said, grounds, job_ids(), journal))
            # As bytes before anything is written: what can't be a line must cost nothing.
            ledger = _encoded(first_line(self._letter, stamp, **closing.facts()), marks, stamp)
            write_whole(self._ledger.path.with_name(closing.files[0].file), data, self._disk)
            write_whole(self._ledger.path, ledger, self._disk)
            self._ledger.begun_anew()
            return _done(closing, marks, journal)

    @contextmanager
    def _alone(self) -> Iterator[None]:
        try:
            with self._ledger.alone(wait_s=WAIT_TO_CLOSE_S):
                yield
        except BenchFailed as fault:
            if isinstance(fault.__cause__, Timeout):
                raise FileFault(str(fault)) from fault
            raise

    def _nothing_to_close(self, file: JournalFile, chain: Chain) -> FileFault:
        """Why not; and a closing that a refusal of the disk cut short after its last rename is on the medium now."""
        path = self._ledger.path
        if file.state is State.TORN:
            return FileFault(f"{path}: its end was cut short; the next job that is opened mends it, nothing is closed.")
        ask_disk(lambda: self._disk.fsync_dir(path.parent), path)
        if not chain.closings:
            return FileFault(f"{path} is whole, so there is nothing to close.")
        last = chain.closings[0][0]
        return FileFault(f"{path} is whole: it goes on from {last.files[0].file}, which was closed {last.signed}.")

    def _files(self, data: bytes, file: JournalFile, chain: Chain) -> tuple[ClosedFile, ...]:
        """The ledger that is closed now; then the older ones that nothing vouches for as they are, as they are."""
        fault = file.fault or (UNREAD if chain.unread else "")
        kept = ClosedFile(self._name_for(data, chain), file.size, file.digest, len(file.lines), fault)
        changed = [past.closed.file for past in chain.past if past.fault]
        anew = [replace(now, fault=now.fault or CHANGED) for now in map(self._closed.as_now, changed)]
        if chain.broken:
            beside = set(self._closed.names()) - _names(chain) - {kept.file}
            anew += map(self._closed.as_now, sorted(beside))
        return (kept, *anew)

    def _name_for(self, data: bytes, chain: Chain) -> str:
        """The first free name; or that of a copy of these very bytes, which an unfinished closing left."""
        taken, told = self._closed.names(), _names(chain)
        number = 1
        while (name := closed_name(number)) in told or (name in taken and self._closed.read_bytes(name) != data):
            number += 1
        return name

    def _still_said(self, closing: Closing, file: JournalFile, chain: Chain) -> tuple[Entry, ...]:
        """What those lines of all ledgers say that hold."""
        beside = sorted({one.file for one in closing.files[1:]} - _names(chain))
        lines = [line for name in beside for line in examine(self._closed.read_bytes(name)).lines]
        return entries((*lines, *chain.lines(), *file.lines))

    def _grounds(self, closing: Closing, data: bytes, chain: Chain) -> tuple[bytes, ...]:
        """The bytes of all ledgers, on any of which a job may have been opened."""
        older = {one.file for one in closing.files[1:]} | _names(chain)
        return (data, *map(self._closed.read_bytes, sorted(older)))


def _names(chain: Chain) -> set[str]:
    return {past.closed.file for past in chain.past}


def _marks(
    said: Sequence[Entry], grounds: Iterable[bytes], job_ids: Sequence[str], journal: JournalBytes
) -> Iterator[Entry]:
    """An entry for each job that is concerned, with the bytes of its journal that hold, the oldest job first."""
    sealed = {entry.job for entry in said if entry.event == SEALED}
    named = {entry.job for entry in said if is_job_number(entry.job)}
    unheld = _standing_on_nothing(sealed, grounds, journal)
    for job in sorted(named | set(job_ids), key=job_number):
        data = journal(job)
        if data is None or job not in sealed or job in unheld:
            yield _as_found(job, data or b"")


def _standing_on_nothing(sealed: set[str], grounds: Iterable[bytes], journal: JournalBytes) -> set[str]:
    """The jobs that were opened on bytes which none of the ledgers begins with any more."""
    places = {job: _place(journal(job) or b"") for job in sealed if is_job_number(job)}
    sizes = {place[0] for place in places.values() if place is not None}
    held = {place for ground in grounds for place in prefix_digests(ground, sizes).items()}
    return {job for job, place in places.items() if place is not None and place not in held}


def _place(data: bytes) -> tuple[int, str] | None:
    """The bytes of the ledger that a journal's first line names; None when it names none."""
    lines = examine(data[: data.find(b"\n") + 1]).lines
    size, digest = (lines[0].data.get(name) for name in ("ledger_bytes", "ledger_digest")) if lines else (0, "lost")
    return (size, digest) if isinstance(size, int) and isinstance(digest, str) else None


def _as_found(job: str, data: bytes) -> Entry:
    ends = examine(data).ends
    size = ends[-1] if ends else 0
    return Entry(CONCERNED, job, size, prefix_digests(data, (size,))[size])


def _encoded(begun: Line, marks: Sequence[Entry], stamp: Stamp) -> bytes:
    running, encoded = new_digest(), []
    for line in (begun, *(_mark(number, stamp, one) for number, one in enumerate(marks, 1))):
        encoded.append(encode_line(line, running))
        running.update(encoded[-1])
    return b"".join(encoded)


def _mark(number: int, stamp: Stamp, entry: Entry) -> Line:
    return Line(number, stamp.at, RECORDS, stamp.clock, entry.event, entry.facts(late=False))


def _done(closing: Closing, marks: Sequence[Entry], journal: JournalBytes) -> LedgerClosed:
    faults = tuple(f"{one.file}, {one.fault}" for one in closing.files if one.fault)
    gone = tuple(one.job for one in marks if not one.bytes and journal(one.job) is None)
    return LedgerClosed(closing.files[0], faults, tuple(one.job for one in marks), gone)
