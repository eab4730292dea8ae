"""What does the bench need from outside itself?

Protocols, implemented elsewhere by shape and joined in `cli/wire.py`. The types in their signatures live in `job` or
below; those that a start needn't load are named for the type checker only.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Protocol

from passcheck.job.carried import Carried
from passcheck.job.journal_line import Line
from passcheck.job.moment import Moment
from passcheck.job.shelf_row import ShelfRow

if TYPE_CHECKING:
    from passcheck.job.archive_rows import SaidRow
    from passcheck.job.board import Board
    from passcheck.job.counts import Counts
    from passcheck.job.kept_block import KeptBlock
    from passcheck.job.label_match import Match
    from passcheck.job.made_paper import MadePaper
    from passcheck.job.record_head import RecordHead
    from passcheck.job.settings import BenchSettings
    from passcheck.job.state import Job
    from passcheck.job.visits import Visit
    from passcheck.sequence.model import Sequence as TestSequence


class JournalWriter(Protocol):
    """The one writer of a job's journal; calls block until the lines are on disk."""

    @property
    def lines(self) -> tuple[Line, ...]:
        """Every line on disk."""
        ...

    @property
    def next_number(self) -> int:
        """The number that the next line must have."""
        ...

    @property
    def writing(self) -> bool:
        """False once closed or stopped by a failure; then the job has to be opened again."""
        ...

    def append(self, lines: Sequence[Line], *, fail: bool = False, seal: bool = False) -> None:
        """Return when the lines are kept. Raises BenchFailed when a disk refuses, FileFault for a line too long."""
        ...

    def close(self) -> None:
        """Let another writer in."""
        ...


class JobFiles(Protocol):
    """The journals of one bench, with its ledger."""

    def job_ids(self) -> tuple[str, ...]:
        """Every job that has a journal, the oldest first."""
        ...

    def new_job(self, first: Callable[[str, tuple[int, str]], Line]) -> tuple[str, JournalWriter]:
        """Begin a job; `first` makes its opening line from the number given and the ledger's position."""
        ...

    def open_job(self, job_id: str) -> tuple[JournalWriter, tuple[Line, ...]]:
        """A job to write on with, and its lines."""
        ...

    def read_job(self, job_id: str) -> tuple[Line, ...]:
        """A job's lines, to look at only."""
        ...

    def intact(self, job_id: str) -> tuple[str, ...]:
        """What is wrong with the journal or the ledger, as sentences."""
        ...

    def concerned(self, job_id: str) -> tuple[str, ...]:
        """What stays said of a job that a damaged ledger was closed over, as sentences."""
        ...


class ShelfFile(Protocol):
    """The shelf's summary."""

    def rows(self, summarise: Callable[[tuple[Line, ...]], ShelfRow]) -> tuple[ShelfRow, ...]:
        """A row a job; `summarise` is called for new and changed journals only."""
        ...


class Boards(Protocol):
    """The folder of sequence files."""

    def listed(self) -> tuple[Board, ...]:
        """Every file of the folder, as it is now."""
        ...

    def read(self, text: str) -> TestSequence:
        """The model of a sequence text that a journal keeps.

        Raises:
            FileFault: it is no sequence.
        """
        ...


class SettingsFile(Protocol):
    """bench.yaml, and what the program itself keeps beside it."""

    def read(self) -> BenchSettings:
        """The settings as they are now. Raises FileFault when the file can't be used."""
        ...

    def carried(self, day: date) -> Carried:
        """What was carried over today; empty on another day."""
        ...

    def carry(self, day: date, carried: Carried) -> None:
        """Keep what the next run of the day starts with."""
        ...

    def keep_tap_key(self, key: str) -> None:
        """Keep which key or pedal taps."""
        ...

    def blocks(self) -> tuple[KeptBlock, ...]:
        """Reference trials that were kept, the oldest first."""
        ...

    def keep_block(self, block: KeptBlock) -> None:
        """Keep a block of reference trials for the rest of its day."""
        ...


class Archive(Protocol):
    """What can be asked of all journals together; it is made from them and may be missing or behind.

    Each question first takes in what journals have gained since; calls may take long, so make them in a thread.
    Raises BenchFailed when the disk refuses. Journals that can't be read are left out and named by `unread`.
    """

    def visits(self, serial: str) -> tuple[Visit, ...]:
        """All visits of a unit, the oldest first."""
        ...

    def search(self, words: str) -> tuple[SaidRow, ...]:
        """What people wrote that holds all of these words, the latest first; at most two hundred."""
        ...

    def counts(self, board: str | None, doubtful: Mapping[str, date]) -> Counts:
        """What the figures need, of one board or of all.

        Args:
            board: the sequence's name.
            doubtful: instruments found out of tolerance, with the day of their last good check.
        """
        ...

    def unread(self) -> tuple[str, ...]:
        """Job numbers whose journals could not be taken in."""
        ...


class Publisher(Protocol):
    """What gives sealed jobs to the archive that several benches share.

    Calls may take long, so make them in a thread.
    """

    def publish(self) -> str:
        """Give what isn't there yet; gives a sentence for whoever is at the bench, or "" when there is nothing to say.

        Nothing is raised: a bench goes on without the others.
        """
        ...


class Papers(Protocol):
    """Where papers are kept, and what the records say that goes on them."""

    def head(self, job_id: str) -> RecordHead:
        """Journal and ledger of a job as they are now."""
        ...

    def journal(self, job_id: str) -> bytes:
        """Every byte of a job's journal."""
        ...

    def keep(self, job_id: str, name: str, data: bytes) -> str:
        """Keep a paper under that file name and give its path; the same bytes again write nothing.

        Raises:
            BenchFailed: the disk refuses; nothing stands under the name then, or what stood there before.
        """
        ...


class PaperMaker(Protocol):
    """Makes the papers of a job and keeps them; a call may take a second, so make it in a thread."""

    def possible(self, job: Job) -> tuple[str, ...]:
        """The kinds of paper that make sense as the job stands, the most wanted first; touches no disk."""
        ...

    def make(self, job_id: str, kind: str) -> MadePaper:
        """Make one paper from the records as they are now, and keep it.

        Raises:
            FileFault: the job has no such paper as it stands, or its records can't bear one; the sentence says why.
            BenchFailed: the disk refuses.
        """
        ...

    def label(self, job_id: str) -> tuple[str, ...]:
        """The lines of the label that goes on the unit.

        Raises:
            FileFault: there is no such job, or it gets no label as it stands.
        """
        ...

    def both(self, job_id: str, label_text: str, serial: str) -> Match:
        """Do a label and the serial off a unit, both scanned, belong together and to this job?

        Raises:
            FileFault: there is no such job, or its records can't be read.
            BenchFailed: the disk refuses.
        """
        ...


Clock = Callable[[], Moment]
