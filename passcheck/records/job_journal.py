"""How does one job's event reach its journal and then the ledger, before anybody is told?"""

from collections.abc import Sequence
from pathlib import Path

from passcheck.errors import FileFault, OurBug, PasscheckError
from passcheck.job.ending import is_seal
from passcheck.job.journal_line import Line
from passcheck.records.agreement import FAILED, SEALED, Entry
from passcheck.records.journal import Journal
from passcheck.records.ledger import Ledger


class JobJournal:
    """The one writer of a job. Its calls block; a job has one thread for them."""

    def __init__(self, job_id: str, journal: Journal, ledger: Ledger) -> None:
        """Use `LogFolder.new_job` or `LogFolder.open_job`."""
        self.job_id = job_id
        self.ledger_refusal: str | None = None
        """Why the ledger lacks this job's latest lines; None while it has them all."""
        self._journal = journal
        self._ledger = ledger

    @property
    def path(self) -> Path:
        """The journal's file."""
        return self._journal.path

    @property
    def lines(self) -> tuple[Line, ...]:
        """Every line on disk."""
        return self._journal.lines

    @property
    def next_number(self) -> int:
        """The number that the next line must have."""
        return self._journal.next_number

    @property
    def sealed(self) -> bool:
        """Whether nothing may be appended any more."""
        return self._journal.sealed

    @property
    def writing(self) -> bool:
        """False once closed or stopped by a failure; then the job has to be opened again."""
        return self._journal.writing

    @property
    def failed_sync(self) -> str | None:
        """The error with which a sync of the journal failed."""
        return self._journal.failed_sync

    def append(self, lines: Sequence[Line], *, fail: bool = False, seal: bool = False) -> None:
        """Return when the lines are on disk, and in the ledger what the ledger has to know.

        Args:
            lines: the next lines, numbered from `next_number`.
            fail: one of them records that the unit failed a step.
            seal: the last of them ends the job; it has to be one of `ending.SEALING_EVENTS`.

        Raises BenchFailed when a disk refuses (this writer has stopped, open the job again), FileFault for a line too
        long or a sealed journal (nothing was stored, the writer goes on).
        """
        if seal != bool(lines and is_seal(lines[-1])) or any(is_seal(line) for line in lines[:-1]):
            raise OurBug(f"{self.job_id}: the seal and the last event don't agree. Nothing was stored.")
        self._journal.append(lines)
        events = [FAILED] * fail + [SEALED] * seal
        if events:
            self._tell_ledger(events)

    def unchanged(self) -> bool:
        """Whether the file is the one that this writer left."""
        return self._journal.unchanged()

    def close(self) -> None:
        """Let another writer in."""
        self._journal.close()

    def _tell_ledger(self, events: Sequence[str]) -> None:
        size, digest = self._journal.size, self._journal.digest
        try:
            with self._ledger.held() as ledger:
                for event in events:
                    ledger.record(Entry(event, self.job_id, size, digest))
        except FileFault as damage:
            # The journal has the event. A damaged ledger doesn't stop the work; it stops the sign-off, and it gets
            # these lines, marked late, when the job is opened over a sound one.
            self.ledger_refusal = str(damage)
        except PasscheckError:
            self._journal.close()
            raise
