"""Which jobs does this bench have, and what must each of their journals begin with?

One file a bench, in the journal's own format. It is read without a lock and written under one, a line at a time. Where
a damaged one was closed, the ledger is that file together with the closed ones which it vouches for.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from passcheck.errors import FileFault
from passcheck.job.journal_line import Line
from passcheck.records.agreement import Entry, LedgerRead, entries
from passcheck.records.closed_ledger import WAY_OUT, Chain, ClosedLedgers
from passcheck.records.disk import Disk, FileFacts
from passcheck.records.failed_sync import SyncRefused, forget_failed_sync
from passcheck.records.journal import Journal
from passcheck.records.journal_file import JournalFile, State, examine
from passcheck.records.line_codec import new_digest
from passcheck.records.lock import take_lock
from passcheck.records.remedy import ask_disk, if_there
from passcheck.records.stamp import RECORDS, Stamp, machine_stamp

LEDGER = "ledger.jsonl"
BEGUN = "ledger begun"
LEDGER_FORMAT = 1
WAIT_FOR_OTHERS_S = 10.0
"""Another passcheck holds the ledger for one line, some milliseconds; on a sleepy disk perhaps a second."""
HEAD_CODE_DIGITS = 8


class Ledger:
    """The bench's chain over all its journals."""

    def __init__(
        self, path: Path, letter: str, *, disk: Disk | None = None, stamp: Callable[[], Stamp] = machine_stamp
    ) -> None:
        """Nothing is read or made before it is needed; `letter` names the bench in a ledger that is begun."""
        self.path = path
        self._letter = letter
        self._disk = disk or Disk()
        self._stamp = stamp
        self._closed = ClosedLedgers(path.parent, self._disk)
        self._read: tuple[FileFacts, JournalFile] | None = None
        self._failed_sync: str | None = None

    def file(self) -> JournalFile | None:
        """The ledger as it stands; None before the first job. Only what was added since the last time is decoded."""
        facts = ask_disk(lambda: self._disk.facts_of(self.path), self.path)
        if facts is None:
            return None
        if self._read is None or self._read[0] != facts:
            earlier = self._read[1] if self._read else None
            self._read = facts, examine(self.read_bytes(), earlier)
        return self._read[1]

    def read_bytes(self) -> bytes:
        """The ledger's bytes; none before the first job."""
        return if_there(lambda: self._disk.read_all(self.path), self.path) or b""

    def chain(self) -> Chain:
        """The closed ledgers that this one goes on from; none before the first closing."""
        return self._chain(self.file())

    def all_entries(self) -> tuple[Entry, ...]:
        """What the ledger says of all jobs, in order; of closed ledgers, what their lines say that hold."""
        file = self.file()
        return entries((*self.chain().lines(), *(file.lines if file else ())))

    def entries(self, job: str) -> tuple[Entry, ...]:
        """What the ledger says of a job."""
        return tuple(entry for entry in self.all_entries() if entry.job == job)

    def read(self) -> tuple[LedgerRead, ...]:
        """Every ledger, the oldest closed one first and this one last; none before the first job."""
        file = self.file()
        closed = self._chain(file).read(self._closed.read_bytes)
        return (*closed, *([LedgerRead(self.path.name, file, self.read_bytes())] if file else []))

    def concerned(self, job: str) -> tuple[str, ...]:
        """What stays said of a job which a closed ledger's damage concerns, the oldest first; nothing of any other."""
        return self.chain().concerned(job)

    def position(self) -> tuple[int, str]:
        """Bytes and SHA-256 of the ledger."""
        file = self.file()
        return (file.size, file.digest) if file else (0, new_digest().hexdigest())

    def head_code(self) -> str:
        """The short code of the ledger's head, for the papers: whoever holds one can show that the ledger was cut."""
        return self.position()[1][:HEAD_CODE_DIGITS]

    def facts(self) -> tuple[FileFacts | None, ...]:
        """What tells one state of the ledger and of the closed ones from another, without reading them again."""
        own = ask_disk(lambda: self._disk.facts_of(self.path), self.path)
        return (own, *(past.facts for past in self.chain().past))

    def faults(self) -> tuple[str, ...]:
        """What is wrong with the ledger itself, as sentences; none when all is well."""
        return self._own_faults() + self.chain().faults

    def _own_faults(self) -> tuple[str, ...]:
        return ledger_faults(self.path.name, self.file())

    @contextmanager
    def held(self) -> "Iterator[HeldLedger]":
        """The ledger, to write in, while no other process can.

        Raises FileFault when it was altered, BenchFailed when the disk refuses or another process doesn't let go.
        """
        ask_disk(lambda: self._disk.make_folder(self.path.parent), self.path)
        with self.alone(wait_s=WAIT_FOR_OTHERS_S):
            try:
                writer = self._writer()
            except SyncRefused as refusal:
                self._failed_sync = refusal.error
                raise
            try:
                yield HeldLedger(writer, self._stamp, self._chain)
            finally:
                self._failed_sync = writer.failed_sync
                if writer.unchanged():
                    self._read = writer.facts, writer.as_read()
                writer.close()

    @contextmanager
    def alone(self, *, wait_s: float) -> Iterator[None]:
        """Nobody else writes the ledger meanwhile. Raises BenchFailed when another process doesn't let go of it."""
        lock = take_lock(
            self.path.with_suffix(".lock"),
            f"{self.path.name} is held by another passcheck. Look for one that hangs, then try again.",
            wait_s=wait_s,
        )
        try:
            yield
        finally:
            lock.release()

    def begun_anew(self) -> None:
        """Another file lies under the ledger's name now: what was known of the one before doesn't hold for it."""
        self._read, self._failed_sync = None, None
        ask_disk(lambda: forget_failed_sync(self.path, self._disk), self.path)

    def _chain(self, newest: JournalFile | None) -> Chain:
        return self._closed.chain(self.path.name, newest)

    def _writer(self) -> Journal:
        earlier = self.file()
        if earlier is not None and earlier.state is State.ALTERED:
            raise FileFault(" ".join(self._own_faults()))
        if earlier is not None:
            return Journal.open(
                self.path,
                disk=self._disk,
                stamp=self._stamp,
                own_lock=False,
                earlier=earlier,
                failed_sync=self._failed_sync,
            )
        return Journal.create(
            self.path, [first_line(self._letter, self._stamp())], disk=self._disk, stamp=self._stamp, own_lock=False
        )


def ledger_faults(name: str, file: JournalFile | None) -> tuple[str, ...]:
    """What is wrong with one ledger's own bytes, as sentences; none when all is well or before the first job."""
    if file is None or file.state is State.WHOLE:
        return ()
    if file.state is State.TORN:
        return (f"{name}, {file.fault}. Its end was cut short; the next job that is opened mends it.",)
    return (f"{name}, {file.fault}. It was altered outside passcheck. {WAY_OUT}",)


def first_line(letter: str, stamp: Stamp, **more: object) -> Line:
    """What a ledger begins with: whose it is, its format, and what else there is to tell."""
    return Line(0, stamp.at, RECORDS, stamp.clock, BEGUN, {"bench": letter, "format": LEDGER_FORMAT, **more})


class HeldLedger:
    """The ledger while its lock is held."""

    def __init__(
        self, writer: Journal, stamp: Callable[[], Stamp], chain: Callable[[JournalFile | None], Chain]
    ) -> None:
        """Use `Ledger.held`."""
        self._writer = writer
        self._stamp = stamp
        self._chain = chain

    @property
    def position(self) -> tuple[int, str]:
        """Bytes and SHA-256 of the ledger."""
        return self._writer.size, self._writer.digest

    def entries(self) -> tuple[Entry, ...]:
        """What the ledger says of all jobs.

        Raises FileFault when a closed ledger is not what was closed: then there may be jobs that nobody knows of.
        """
        chain = self._chain(self._writer.as_read())
        if chain.faults:
            raise FileFault(" ".join(chain.faults))
        return entries((*chain.lines(), *self._writer.lines))

    def record(self, entry: Entry, *, late: bool = False) -> None:
        """Return when the entry is on disk."""
        stamp = self._stamp()
        facts = entry.facts(late=late)
        self._writer.append([Line(self._writer.next_number, stamp.at, RECORDS, stamp.clock, entry.event, facts)])
