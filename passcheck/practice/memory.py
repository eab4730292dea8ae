"""How does a bench keep its jobs where no disk is?

The ports of `bench/ports.py` on lists, for a robot that walks a thousand jobs. A line is kept as the object it is:
nothing is written, synced or read back, so nothing here outlives the program and nothing here is evidence.
"""

import hashlib
from collections.abc import Callable
from collections.abc import Sequence as Many
from datetime import date
from typing import Final

from passcheck.errors import BenchFailed, FileFault, OurBug
from passcheck.job.board import Board
from passcheck.job.carried import Carried
from passcheck.job.journal_line import Line
from passcheck.job.kept_block import KeptBlock
from passcheck.job.settings import BenchSettings
from passcheck.job.shelf_row import ShelfRow
from passcheck.sequence.load import read_sequence
from passcheck.sequence.model import Sequence

NUMBERED: Final = "A31"
"""What the job numbers begin with unless another bench and year is asked for."""


class MemoryWriter:
    """The one writer of a journal that is a list; it dies at its first failure, as the records' own does."""

    def __init__(self, files: "MemoryFiles", job_id: str) -> None:
        """Take the job in hand."""
        self._journal = files.journals[job_id]
        self._holders = files.holders
        self._job_id = job_id
        self._alive = True
        files.holders[job_id] = self

    @property
    def lines(self) -> tuple[Line, ...]:
        """Every line kept."""
        return tuple(self._journal)

    @property
    def next_number(self) -> int:
        """The number that the next line must have."""
        return len(self._journal)

    @property
    def writing(self) -> bool:
        """False once closed, failed, or in another writer's hand."""
        return self._alive and self._holders.get(self._job_id) is self

    def append(self, lines: Many[Line], *, fail: bool = False, seal: bool = False) -> None:  # noqa: ARG002 - no ledger
        """Keep the lines; a sealed journal lets go of its writer. Raises BenchFailed once closed."""
        if not self.writing:
            raise BenchFailed(f"{self._job_id}: the journal is closed.")
        for line in lines:
            if line.number != self.next_number:
                raise OurBug(f"{self._job_id}: line {line.number} came where line {self.next_number} belongs.")
            self._journal.append(line)
        if seal:
            self.close()

    def close(self) -> None:
        """Let another writer in."""
        self._alive = False
        if self._holders.get(self._job_id) is self:
            del self._holders[self._job_id]


class MemoryFiles:
    """Journals as lists of lines; there is no ledger and nothing that could be altered."""

    def __init__(self, numbered: str = NUMBERED) -> None:
        """No job yet; `numbered` is the bench's letter with the year, as job numbers begin."""
        self.journals: dict[str, list[Line]] = {}
        self.holders: dict[str, MemoryWriter] = {}
        self._numbered = numbered

    def job_ids(self) -> tuple[str, ...]:
        """Every job, the oldest first."""
        return tuple(self.journals)

    def new_job(self, first: Callable[[str, tuple[int, str]], Line]) -> tuple[str, MemoryWriter]:
        """Begin a job with the line that `first` makes of its number; the ledger is empty and stays so."""
        job_id = f"{self._numbered}-{len(self.journals) + 1:04d}"
        self.journals[job_id] = [first(job_id, (0, ""))]
        return job_id, self._writer(job_id)

    def open_job(self, job_id: str) -> tuple[MemoryWriter, tuple[Line, ...]]:
        """A job to write on with, and its lines.

        Raises:
            FileFault: there is no such job.
            BenchFailed: somebody else has it in hand.
        """
        lines = self.read_job(job_id)
        holder = self.holders.get(job_id)
        if holder is not None and holder.writing:
            raise BenchFailed(f"Job {job_id} is in use by another passcheck. Close it there first.")
        return self._writer(job_id), lines

    def read_job(self, job_id: str) -> tuple[Line, ...]:
        """A job's lines. Raises FileFault when there is no such job."""
        if job_id not in self.journals:
            raise FileFault(f"There is no job {job_id} on this bench.")
        return tuple(self.journals[job_id])

    def intact(self, job_id: str) -> tuple[str, ...]:  # noqa: ARG002 - the port asks of one job
        """Nothing is ever wrong with a list."""
        return ()

    def concerned(self, job_id: str) -> tuple[str, ...]:  # noqa: ARG002 - the port asks of one job
        """There is no ledger that could have been closed."""
        return ()

    def _writer(self, job_id: str) -> MemoryWriter:
        return MemoryWriter(self, job_id)


class MemoryShelf:
    """A shelf that makes a job's row anew when its journal has grown."""

    def __init__(self, files: MemoryFiles) -> None:
        """Stand above these journals."""
        self._files = files
        self._rows: dict[str, tuple[int, ShelfRow]] = {}

    def rows(self, summarise: Callable[[tuple[Line, ...]], ShelfRow]) -> tuple[ShelfRow, ...]:
        """A row a job, the oldest first."""
        return tuple(self._row(job_id, lines, summarise) for job_id, lines in self._files.journals.items())

    def _row(self, job_id: str, lines: Many[Line], summarise: Callable[[tuple[Line, ...]], ShelfRow]) -> ShelfRow:
        count, row = self._rows.get(job_id, (0, None))
        if row is None or count != len(lines):
            row = summarise(tuple(lines))
            self._rows[job_id] = len(lines), row
        return row


class MemoryBoards:
    """Sequence texts in place of a folder of files; each text is read once."""

    def __init__(self, *texts: str) -> None:
        """Take the texts, in the order they are listed in.

        Raises:
            FileFault: one of them is no sequence.
        """
        self._models: dict[str, Sequence] = {}
        self._today: dict[str, Board] = {}
        for text in texts:
            self._lay(text, self.read(text))

    def listed(self) -> tuple[Board, ...]:
        """Every board."""
        return tuple(self._today.values())

    def read(self, text: str) -> Sequence:
        """The model of a text that a journal keeps. Raises FileFault when it is no sequence."""
        if text not in self._models:
            self._models[text] = read_sequence(text, "the journal")
        return self._models[text]

    def _lay(self, text: str, model: Sequence) -> Board:
        """List a board, in place of an older text of it."""
        digest = hashlib.sha256(text.encode()).hexdigest()
        board = Board(model.sequence, f"{model.sequence}.yaml", text, digest, model)
        self._models[text] = model
        self._today[board.name] = board
        return board


class MemorySettings:
    """bench.yaml as a value; `current` may be replaced at any time."""

    def __init__(self, current: BenchSettings) -> None:
        """Begin with these people and instruments."""
        self.current = current
        self.kept_blocks: list[KeptBlock] = []
        self._carried: dict[date, Carried] = {}

    def read(self) -> BenchSettings:
        """The settings as they are now."""
        return self.current

    def carried(self, day: date) -> Carried:
        """What was carried over on that day; nothing on another."""
        return self._carried.get(day, Carried({}))

    def carry(self, day: date, carried: Carried) -> None:
        """Keep what the next run of the day starts with."""
        self._carried = {day: carried}

    def keep_tap_key(self, key: str) -> None:
        """Keep which key or pedal taps."""
        self.current = self.current.model_copy(update={"tap_key": key})

    def blocks(self) -> tuple[KeptBlock, ...]:
        """Reference trials that were kept, the oldest first."""
        return tuple(self.kept_blocks)

    def keep_block(self, block: KeptBlock) -> None:
        """Keep a block of reference trials."""
        self.kept_blocks.append(block)
