"""Where are this bench's jobs, and how is one opened, read or begun?"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from passcheck.errors import FileFault
from passcheck.job.ending import is_failure
from passcheck.job.journal_line import Line
from passcheck.records.agreement import (
    OPENED,
    Entry,
    Kept,
    LedgerSeen,
    compare,
    contradictions,
    due,
    first_line,
    misplaced,
)
from passcheck.records.disk import Disk, FileFacts
from passcheck.records.failed_sync import SyncRefused
from passcheck.records.job_journal import JobJournal
from passcheck.records.job_number import JobNumber, is_job_number, job_number, year_numbered
from passcheck.records.journal import Journal
from passcheck.records.journal_file import JournalFile, State, examine
from passcheck.records.ledger import LEDGER, HeldLedger, Ledger
from passcheck.records.remedy import ask_disk, if_there
from passcheck.records.stamp import Stamp, machine_stamp

if TYPE_CHECKING:  # there is no cycle
    from passcheck.records.ledger_closing import LedgerClosed

JOURNAL = ".jsonl"


@dataclass(frozen=True, slots=True)
class _Found:
    """A finding, and the state of the files that it holds for."""

    journal: FileFacts | None
    """None while the journal is as this process's writer left it."""
    ledger: tuple[FileFacts | None, ...]
    """Of the ledger and of those that were closed before it."""
    sentences: tuple[str, ...]


class LogFolder:
    """The journals and the ledger of one bench; practice has its own of both, in a folder below."""

    def __init__(
        self,
        folder: Path,
        letter: str,
        *,
        disk: Disk | None = None,
        practice: bool = False,
        stamp: Callable[[], Stamp] = machine_stamp,
        fails: Callable[[Line], bool] = is_failure,
    ) -> None:
        """Nothing is made on disk before the first job.

        Args:
            folder: the logs folder.
            letter: the bench's letter from its settings, one of A to Z.
            disk: where the folder lies.
            practice: use `folder/practice`, whose jobs never count.
            stamp: the moment for lines that the records write themselves; its UTC year is the year of a new job.
            fails: which lines the ledger has to name, for a journal that is ahead of it.
        """
        if not (len(letter) == 1 and "A" <= letter <= "Z"):
            raise FileFault(f"The bench's letter is {letter!a}; in bench.yaml, give it one letter from A to Z.")
        self.root = folder / "practice" if practice else folder
        self.practice = practice
        self.fails = fails
        self.ledger = Ledger(self.root / LEDGER, letter, disk=disk, stamp=stamp)
        self._letter = letter
        self._disk = disk or Disk()
        self._stamp = stamp
        self._writers: dict[str, JobJournal] = {}
        self._found: dict[str, _Found] = {}
        self._refused_syncs: dict[str, str] = {}
        """By job: the error of a sync that failed while its journal was opened."""
        self._read: tuple[str, JournalFile] | None = None

    def journal_path(self, job_id: str) -> Path:
        """The journal of a job. Raises FileFault when the text is no job number."""
        number = job_number(job_id)
        return self.root / "jobs" / str(number.year) / f"{number}{JOURNAL}"

    def names(self, year: str = "") -> tuple[str, ...]:
        """Every name in a year's folder, or beside the years, whatever it is. Raises BenchFailed."""
        folder = self.root / "jobs" / year
        return ask_disk(lambda: self._disk.names(folder), folder)

    def job_ids(self) -> tuple[str, ...]:
        """Every job that has a journal, the oldest first."""
        numbers = [number for year in self.names() if year.isdecimal() for number in self._numbers(year)]
        return tuple(str(number) for number in sorted(numbers))

    def new_job(self, first: Callable[[str, tuple[int, str]], Line]) -> tuple[str, JobJournal]:
        """Begin a job: `first` makes its first line from the number given and the ledger's bytes and SHA-256.

        Raises BenchFailed when the disk refuses, FileFault when the ledger was altered or a journal that the ledger
        doesn't know was copied here from another place.
        """
        with self.ledger.held() as ledger:
            job_id = str(self._next_number(ledger))
            line = first(job_id, ledger.position)
            path = self.journal_path(job_id)
            ask_disk(lambda: self._disk.make_folder(path.parent), path.parent)
            journal = Journal.create(path, [line], disk=self._disk, stamp=self._stamp)
            try:
                ledger.record(Entry(OPENED, job_id, journal.size, journal.digest))
            except BaseException:
                journal.close()
                raise
        return job_id, self._writer(job_id, journal)

    def open_job(self, job_id: str) -> tuple[JobJournal, tuple[Line, ...]]:
        """A job to write on with, and its lines; a torn end is mended, the ledger gets what it lacks, marked late.

        Raises FileFault when there is no such job, its journal was altered or copied here from another place, or the
        ledger contradicts it; BenchFailed when somebody else writes it or the disk refuses.
        """
        path = self.journal_path(job_id)
        self._own(job_id, self._bytes(job_id))
        journal = self._open(job_id, path)
        try:
            refusal = self._square_with_ledger(job_id, journal)
        except BaseException:
            journal.close()
            raise
        writer = self._writer(job_id, journal)
        writer.ledger_refusal = refusal
        return writer, writer.lines

    def _open(self, job_id: str, path: Path) -> Journal:
        """The writer of a journal, which is told how the sync of the one before it failed."""
        earlier = self._writers.get(job_id)
        failed_sync = (earlier.failed_sync if earlier else None) or self._refused_syncs.get(job_id)
        try:
            journal = Journal.open(
                path, disk=self._disk, stamp=self._stamp, earlier=self._read_before(job_id), failed_sync=failed_sync
            )
        except SyncRefused as refusal:
            self._refused_syncs[job_id] = refusal.error
            raise
        self._refused_syncs.pop(job_id, None)
        return journal

    def read_job(self, job_id: str) -> tuple[Line, ...]:
        """A job's lines, without a lock; works while another process writes it.

        Raises FileFault when there is no such job or its journal was altered, BenchFailed when it can't be read.
        """
        path = self.journal_path(job_id)
        file = self._walked(job_id, self._bytes(job_id))
        if file.state is State.ALTERED:
            raise FileFault(f"{path}, {file.fault}. The file was altered outside passcheck. Look for it in a backup.")
        return file.lines

    def intact(self, job_id: str) -> tuple[str, ...]:
        """What is wrong with a job's journal or with the ledger, as sentences; none when all is well.

        Files are read again only when their size, time or identity differ from what was found last. Raises BenchFailed
        when they can't be read.
        """
        writer = self._writers.get(job_id)
        # A journal that only this process's writer has touched is as good as the writer left it.
        untouched = writer is not None and writer.unchanged()
        journal = None if untouched else self.facts_of(self.journal_path(job_id))
        ledger = self.ledger.facts()
        found = self._found.get(job_id)
        if found is None or (found.journal, found.ledger) != (journal, ledger):
            found = _Found(journal, ledger, self._sentences(job_id))
            self._found[job_id] = found
        return found.sentences

    def concerned(self, job_id: str) -> tuple[str, ...]:
        """What stays said of a job that a damaged ledger was closed over, as sentences; nothing of any other job.

        Raises BenchFailed when the ledger can't be read.
        """
        return self.ledger.concerned(job_id)

    def close_ledger(self, by: str, because: str) -> "LedgerClosed":
        """Close a damaged ledger by a person's statement and go on in a new one.

        Raises FileFault when there is nothing to close or somebody else holds the ledger, BenchFailed when the disk
        refuses; then the old ledger stands, or the new one does already.
        """
        from passcheck.records.ledger_closing import LedgerClosing  # once in the life of a shop, if ever

        closing = LedgerClosing(self.ledger, self._letter, self._disk, self._stamp)
        return closing.close(by, because, self.job_ids, self.journal_bytes)

    def facts_of(self, path: Path) -> FileFacts | None:
        """What tells whether a file was written since; None when it isn't there. Raises BenchFailed."""
        return ask_disk(lambda: self._disk.facts_of(path), path)

    def seen_ledger(self) -> LedgerSeen:
        """The ledger as it is now; read it before the journals, then it says nothing that they don't hold yet."""
        chain = self.ledger.chain()
        return LedgerSeen(self.ledger.read(), altered=bool(chain.faults), concerned=chain.marked)

    def journal_bytes(self, job_id: str) -> bytes | None:
        """Every byte of a job's journal; None when there is none. Raises BenchFailed when it can't be read."""
        path = self.journal_path(job_id)
        return if_there(lambda: self._disk.read_all(path), path)

    def kept(self, job_id: str, data: bytes) -> Kept:
        """A journal of this folder that was read, walked line by line."""
        return Kept(job_id, self.practice, data, self._walked(job_id, data))

    def _walked(self, job_id: str, data: bytes) -> JournalFile:
        """A journal's bytes line by line; of the job that was read last, only what was added since.

        A job is looked at, opened and looked at again; between two of these its bytes are hashed, not decoded.
        """
        file = examine(data, self._read_before(job_id))
        self._read = job_id, file
        return file

    def _read_before(self, job_id: str) -> JournalFile | None:
        read = self._read
        return read[1] if read is not None and read[0] == job_id else None

    def _sentences(self, job_id: str) -> tuple[str, ...]:
        faults, seen = self.ledger.faults(), self.seen_ledger()
        try:
            data = self._bytes(job_id)
        except FileFault as missing:
            return (*faults, str(missing))
        found = compare(self.kept(job_id, data), seen, self.fails)
        return faults + found.altered + found.torn + found.lacking

    def _square_with_ledger(self, job_id: str, journal: Journal) -> str | None:
        """Tell the ledger what it lacks; the reason when it can't be told because it is damaged itself."""
        file, data = journal.as_read(), self._bytes(job_id)
        ledger_faults = self.ledger.faults()
        said = self.ledger.entries(job_id)
        against = contradictions(journal.path.name, file, data, said)
        if against:
            raise FileFault(" ".join(against))
        missing = due(job_id, file, data, said, self.fails)
        if not missing and not ledger_faults:
            return None
        if lost := self.ledger.chain().faults:
            return " ".join(lost)
        try:
            with self.ledger.held() as ledger:
                for entry in missing:
                    ledger.record(entry, late=True)
        except FileFault as damage:
            return str(damage)
        return None

    def _next_number(self, ledger: HeldLedger) -> JobNumber:
        year = year_numbered(self._stamp().at)
        said = ledger.entries()
        opened = {entry.job for entry in said if entry.event == OPENED}
        named = {entry.job for entry in said}
        known = [number for number in map(job_number, filter(is_job_number, named)) if number.year == year]
        for number in self._numbers(str(year)):
            if str(number) not in opened:
                # A crash came between the journal and its ledger line; the number is taken all the same.
                self._tell_opening(str(number), ledger)
                known.append(number)
        return JobNumber(year, 1 + max((number.count for number in known), default=0), self._letter)

    def _tell_opening(self, job_id: str, ledger: HeldLedger) -> None:
        folder, data = self.journal_path(job_id).parent, self._bytes(job_id)
        self._own(job_id, data)
        # The ledger must not outlive a journal whose name never reached the disk.
        ask_disk(lambda: self._disk.fsync_dir(folder), folder)
        for entry in due(job_id, examine(data), data, (), self.fails)[:1]:
            ledger.record(entry, late=True)

    def _own(self, job_id: str, data: bytes) -> None:
        """Refuse a journal that was copied here, before anything is mended in it or the ledger is told of it.

        Only the first line is read; bytes that aren't one are left to whoever reads the rest.
        """
        first = first_line(data)
        found = misplaced(f"{job_id}{JOURNAL}", job_id, first, practice=self.practice) if first is not None else ()
        if found:
            raise FileFault(" ".join(found))

    def _numbers(self, year: str) -> list[JobNumber]:
        """The jobs whose journals lie in a year's folder."""
        ids = (name.removesuffix(JOURNAL) for name in self.names(year) if name.endswith(JOURNAL))
        numbers = [(job_id, job_number(job_id)) for job_id in ids if is_job_number(job_id)]
        return [number for job_id, number in numbers if (job_id, year) == (str(number), str(number.year))]

    def _writer(self, job_id: str, journal: Journal) -> JobJournal:
        self._writers[job_id] = JobJournal(job_id, journal, self.ledger)
        self._found.pop(job_id, None)
        return self._writers[job_id]

    def _bytes(self, job_id: str) -> bytes:
        data = self.journal_bytes(job_id)
        if data is None:
            path = self.journal_path(job_id)
            raise FileFault(f"{path}: there is no job {job_id} on this bench. 'passcheck jobs' lists them.")
        return data
