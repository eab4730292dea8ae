"""What do all journals of a bench say together, in a database that can be thrown away?

The archive is made from the journals and never the other way round. It is behind them until somebody asks: then new
and changed journals are taken in first. Journals that were altered, or can't be read, are left out and named.
"""

import sqlite3
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final, TypeVar

from passcheck.errors import BenchFailed, FileFault
from passcheck.job.fold import ReadSequence
from passcheck.records.archive_build import clear_drafts, draft_of, fill, put_in_place
from passcheck.records.archive_check import Checked, differences
from passcheck.records.archive_file import NoArchiveError, alone_with, opened
from passcheck.records.archive_intake import TakenIn
from passcheck.records.archive_journals import Looks, journals
from passcheck.records.archive_ledger import LedgerAsked, ledger_looks
from passcheck.records.archive_look import MISSING, OF_ANOTHER_FORM, answer_of_nothing, due_of, marks_in, stands
from passcheck.records.archive_marks import mark_ledger, marks_of, put_taken, take_out
from passcheck.records.archive_state import CaughtUp, Stands
from passcheck.records.archive_workers import read_all
from passcheck.records.disk import Disk
from passcheck.records.shop import LogFolder

ARCHIVE: Final = "archive.sqlite"
_REMEDY = "'passcheck archive rebuild' makes it from the journals."
Answer = TypeVar("Answer")


class SqliteArchive:
    """The archive of one folder of records."""

    def __init__(
        self,
        logs: LogFolder,
        read_sequence: ReadSequence,
        *,
        disk: Disk | None = None,
        processes: int | None = None,
    ) -> None:
        """Nothing is read or made before it is asked.

        Args:
            logs: the journals; of practice it has an archive of its own.
            read_sequence: turns a sequence's text into the model; a function that other processes find by its name.
            disk: where the folder lies.
            processes: by how many journals are read; else by as many as there are cores, where that is worth it.
        """
        self.path = logs.root / ARCHIVE
        self._logs = logs
        self._read_sequence = read_sequence
        self._disk = disk or Disk()
        self._processes = processes

    def catch_up(self) -> CaughtUp:
        """Take in what journals have gained since; an archive that is missing or can't be used is made anew.

        Raises BenchFailed when the disk refuses or another process doesn't let go of it.
        """
        here = journals(self._logs.root)
        marks, unusable = marks_in(self.path, self._disk)
        if marks is None and unusable == MISSING and not here:
            return CaughtUp()  # a bench without jobs needs no file
        if marks is not None and not due_of(marks, here) and marks.ledger.looks == ledger_looks(self._logs.root):
            return CaughtUp(unread=marks.unread)
        with alone_with(self.path, self._disk):
            return self._caught_up()

    def rebuild(self) -> CaughtUp:
        """Make it anew from all journals; the old one is answered from until the new one is complete.

        Raises BenchFailed.
        """
        with alone_with(self.path, self._disk):
            return self._made_anew("it was asked for")

    def _caught_up(self) -> CaughtUp:
        """The same as `catch_up`, looked at again now that nobody else writes."""
        marks, unusable = marks_in(self.path, self._disk)
        if marks is None:
            return self._made_anew(unusable)
        try:
            with opened(self.path) as connection:
                return self._take_in(connection)
        except NoArchiveError as fault:
            return self._made_anew(str(fault))

    def _made_anew(self, because: str) -> CaughtUp:
        clear_drafts(self.path, self._disk)
        draft = draft_of(self.path)
        try:
            taken, unread = self.make_in(draft)
            aside = put_in_place(draft, self.path, self._disk)
        except BaseException:
            with suppress(BenchFailed):
                clear_drafts(self.path, self._disk)
            raise
        return CaughtUp(taken, (), unread, because, aside)

    def make_in(self, path: Path) -> tuple[int, Mapping[str, str]]:
        """Make a whole archive in a new file; gives how many journals were read, and which are unread."""
        here, ledger = journals(self._logs.root), LedgerAsked(self._logs)
        unread: dict[str, str] = {}
        fill(path, self._read(here, tuple(here), ledger, unread), ledger.mark)
        return len(here), unread

    def stands(self) -> Stands:
        """How it stands; nothing is written. Raises BenchFailed."""
        return stands(self.path, journals(self._logs.root), self._disk)

    def check(self) -> Checked:
        """Hold it against the journals, which are read anew for it; nothing is written beside the system's own folder.

        Raises FileFault when there is none that can be used, BenchFailed when the disk refuses.
        """
        marks, unusable = marks_in(self.path, self._disk)
        if marks is None:
            raise FileFault(f"{self.path}: {unusable}. {_REMEDY}")
        with tempfile.TemporaryDirectory(prefix="passcheck-") as name:
            fresh = Path(name) / ARCHIVE
            behind = due_of(marks, journals(self._logs.root))  # looked at first: what comes later isn't compared either
            count, _unread = self.make_in(fresh)
            behind |= due_of(marks, journals(self._logs.root))
            try:
                found = differences(self.path, fresh, sorted(behind))
            except NoArchiveError as fault:
                raise FileFault(f"{self.path}: {fault}. {_REMEDY}") from fault
        return Checked(count - len(behind), len(behind), found)

    def unread(self) -> tuple[str, ...]:
        """Job numbers whose journals could not be taken in."""
        return tuple(self.catch_up().unread)

    def ask(self, question: Callable[[sqlite3.Connection], Answer]) -> Answer:
        """Put a question to the archive once it has caught up; all of it is answered from one moment.

        Raises BenchFailed.
        """
        self.catch_up()
        if self._disk.facts_of(self.path) is None:
            return answer_of_nothing(question)
        try:
            return self._asked(question)
        except NoArchiveError:
            self.rebuild()
            return self._asked(question)

    def _asked(self, question: Callable[[sqlite3.Connection], Answer]) -> Answer:
        with opened(self.path) as connection:
            connection.execute("BEGIN")
            return question(connection)

    def _take_in(self, connection: sqlite3.Connection) -> CaughtUp:
        """Replace what is due; one transaction, so that a crash leaves rows and marks as they were."""
        connection.execute("BEGIN IMMEDIATE")
        marks, here = marks_of(connection), journals(self._logs.root)
        if marks is None:
            raise NoArchiveError(OF_ANOTHER_FORM)
        ledger = LedgerAsked(self._logs)
        again = ledger.to_ask_again(marks.ledger, here)
        gone = tuple(job for job in marks.looks if job not in here)
        due = tuple(job for job in here if marks.looks.get(job) != here[job] or job in again)
        unread = {job: why for job, why in marks.unread.items() if job not in {*gone, *due}}
        take_out(connection, (*gone, *due))
        for handful in self._read(here, due, ledger, unread):
            put_taken(connection, handful)
        mark_ledger(connection, ledger.mark)
        connection.execute("COMMIT")
        return CaughtUp(len(due), gone, dict(sorted(unread.items())))

    def _read(
        self, here: Mapping[str, Looks], due: Sequence[str], ledger: LedgerAsked, unread: dict[str, str]
    ) -> Iterator[list[TakenIn]]:
        wanted = [ledger.to_read(job, here[job]) for job in due]
        for handful in read_all(wanted, self._read_sequence, self._disk, self._processes):
            held = ledger.held(handful)
            unread.update((one.job, one.fault) for one in held if one.fault)
            yield held
