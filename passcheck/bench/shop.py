"""Which units are on the shelf?

It stands before anything else is loaded: how a unit is taken up or in is in `bench/counter.py`, loaded when first
asked. Types that only signatures name are for the type checker; there is no cycle.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from threading import Lock
from typing import TYPE_CHECKING

from passcheck.bench.ports import Archive, Boards, Clock, JobFiles, PaperMaker, Publisher, SettingsFile, ShelfFile
from passcheck.job.carried import Carried
from passcheck.job.journal_line import Line
from passcheck.job.serial import read_serial
from passcheck.job.shelf_row import ShelfRow, damaged_row

if TYPE_CHECKING:
    from passcheck.bench.arrivals import Arrived
    from passcheck.bench.bench import Bench
    from passcheck.bench.counter import Counter
    from passcheck.bench.past_repairs import PastRepairs, RepairReader
    from passcheck.job.arrival import Arrive
    from passcheck.job.commands import Refusal
    from passcheck.job.kept_block import KeptBlock
    from passcheck.job.outside import Outside
    from passcheck.job.settings import BenchSettings
    from passcheck.job.state import Job


class Shop:
    """All jobs of one bench."""

    def __init__(
        self,
        files: JobFiles,
        shelf: ShelfFile,
        boards: Boards,
        settings: SettingsFile,
        clock: Clock,
        tool: Callable[[], str],
        terminal: str,
        chance: Callable[[], float],
        *,
        in_memory: bool = False,
        practice: bool = False,
        papers: PaperMaker | None = None,
        archive: Archive | None = None,
    ) -> None:
        """Nothing is read or written yet.

        Args:
            files: journals and ledger.
            shelf: the shelf's summary.
            boards: the sequence files.
            settings: bench.yaml.
            clock: gives the present moment.
            tool: gives the program's name and version, as records keep it.
            terminal: the terminal and the way to it, in words.
            chance: gives a number drawn evenly from 0 to 1.
            in_memory: no disk is behind `files`, so that nobody has to wait for it in a thread.
            practice: every job of this shop is marked as practice; no other is opened or listed.
            papers: makes the papers of a job; None where none are made.
            archive: what can be asked of all these jobs together; None where nothing is kept to ask.
        """
        self.boards = boards
        self.clock = clock
        self.practice = practice
        self.papers = papers
        self.archive = archive
        self.publisher: Publisher | None = None  # only a real bench that may share what it sealed has one
        self._files = files
        self._shelf = shelf
        self._settings = settings
        self._tool = tool
        self._terminal = terminal
        self._chance = chance
        self._in_memory = in_memory
        self._made: Counter | None = None
        self._repairs: RepairReader | None = None
        self._making = Lock()  # the shelf is read in a thread, which may need the counter too

    def settings(self) -> BenchSettings:
        """People and instruments as bench.yaml has them now."""
        return self._settings.read()

    def carried(self) -> Carried:
        """What today's earlier runs hand on: instruments by role, ambient."""
        return self._settings.carried(self._today())

    def carry(self, instruments: Mapping[str, str], ambient_c: str | None) -> None:
        """Keep what the next run of the day starts with."""
        self._settings.carry(self._today(), Carried(dict(instruments), ambient_c))

    def keep_tap_key(self, key: str) -> None:
        """Keep which key or pedal taps."""
        self._settings.keep_tap_key(key)

    def uniforms(self, count: int) -> tuple[float, ...]:
        """So many numbers drawn evenly from 0 to 1."""
        return tuple(self._chance() for _ in range(count))

    def block_of_today(self, person: str, limits_s: Sequence[float]) -> KeptBlock | None:
        """Reference trials that this person tapped earlier today, with all these limits among their delays."""
        from passcheck.job.kept_block import block_of_the_day  # only timed steps need it

        return block_of_the_day(self._settings.blocks(), person, self._today(), self._terminal, *limits_s)

    def keep_block(self, block: KeptBlock) -> None:
        """Keep reference trials for the rest of the day."""
        self._settings.keep_block(block)

    def shelf(self) -> tuple[ShelfRow, ...]:
        """A row a job, the oldest first; a job that was copied across from practice, or into it, shows as damaged."""
        return tuple(self._own(row) for row in self._shelf.rows(self._summarise))

    def find(self, serial: str) -> tuple[ShelfRow, ...]:
        """The jobs of a unit, the latest first."""
        wanted = read_serial(serial)
        return tuple(row for row in reversed(self.shelf()) if row.serial == wanted)

    def look(self, job_id: str) -> Job:
        """A job to look at, without taking it up.

        Raises:
            FileFault: there is no such job, or its journal can't be read.
        """
        return self._counter().look(job_id)

    def outside(self, job: Job) -> Outside:
        """What the core needs to know beside the job's own events."""
        return self._counter().outside(job)

    def past_repairs(self, sequence: str) -> PastRepairs:
        """What this shop's signed-off jobs of a board type confirm; it may take long, so call it in a thread."""
        from passcheck.bench.past_repairs import RepairReader  # only whoever looks for a fault needs it

        if self._repairs is None:
            self._repairs = RepairReader(self._files, self.boards.read)
        return self._repairs.past_repairs(sequence, self.shelf())

    def came_together(self, job_id: str) -> tuple[Arrived, ...]:
        """All units of the arrival that this job belongs to, itself included; some journals are read for it.

        Raises:
            FileFault: there is no such job, or its journal can't be read.
        """
        return self._counter().came_together(job_id)

    async def arrive(self, arrive: Arrive) -> Bench | Refusal:
        """Take a unit in: its job is numbered, and on disk with the sequence's whole text, when this returns."""
        return await self._counter().arrive(arrive)

    async def open(self, job_id: str, by: str) -> Bench:
        """Take a job up; power that was told on is unknown from here, and the journal says so at once.

        Raises:
            FileFault: there is no such job, or its journal was altered.
            BenchFailed: somebody else has it in hand, or the disk refuses.
        """
        return await self._counter().open(job_id, by)

    async def close(self) -> None:
        """Let every job go."""
        if self._made is not None:
            await self._made.close()

    def _counter(self) -> Counter:
        with self._making:
            if self._made is None:
                from passcheck.bench.counter import Counter

                self._made = Counter(
                    self._files,
                    self.boards,
                    self._settings,
                    self.clock,
                    self._tool(),
                    self._terminal,
                    in_memory=self._in_memory,
                    practice=self.practice,
                )
            return self._made

    def _summarise(self, lines: tuple[Line, ...]) -> ShelfRow:
        return self._counter().summarise(lines)

    def _own(self, row: ShelfRow) -> ShelfRow:
        """The row as this shop shows it: nothing is told of a unit whose journal was copied across."""
        return row if row.practice == self.practice else damaged_row(row.job, practice=self.practice)

    def _today(self) -> date:
        return self.clock().local().date()
