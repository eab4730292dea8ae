"""Which units are on the shelf, and how is one taken up or taken in?"""

import asyncio
from collections.abc import Mapping
from datetime import date

from passcheck.bench.bench import Bench, Surroundings, line_of
from passcheck.bench.ports import Boards, Clock, JobFiles, JournalWriter, SettingsFile, ShelfFile
from passcheck.errors import FileFault
from passcheck.job.arrival import Arrive, arrival_refusal, read_serial
from passcheck.job.board import Board
from passcheck.job.carried import Carried
from passcheck.job.commands import Refusal
from passcheck.job.events import JobOpened
from passcheck.job.fold import fold
from passcheck.job.journal_line import Line
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.replay import recorded
from passcheck.job.settings import BenchSettings
from passcheck.job.shelf_row import ShelfRow
from passcheck.job.state import Job
from passcheck.job.summary import summarise


class Shop:
    """All jobs of one bench."""

    def __init__(
        self, files: JobFiles, shelf: ShelfFile, boards: Boards, settings: SettingsFile, clock: Clock, tool: str
    ) -> None:
        """Nothing is read or written yet.

        Args:
            files: journals and ledger.
            shelf: the shelf's summary.
            boards: the sequence files.
            settings: bench.yaml.
            clock: gives the present moment.
            tool: the program's name and version, as records keep it.
        """
        self.boards = boards
        self.clock = clock
        self._files = files
        self._shelf = shelf
        self._settings = settings
        self._tool = tool
        self._open: dict[str, Bench] = {}
        self._taking = asyncio.Lock()  # one unit at a time is taken in or up

    def settings(self) -> BenchSettings:
        """People and instruments as bench.yaml has them now."""
        return self._settings.read()

    def carried(self) -> Carried:
        """What today's earlier runs hand on: instruments by role, ambient."""
        return self._settings.carried(self._today())

    def carry(self, instruments: Mapping[str, str], ambient_c: str | None) -> None:
        """Keep what the next run of the day starts with."""
        self._settings.carry(self._today(), Carried(dict(instruments), ambient_c))

    def shelf(self) -> tuple[ShelfRow, ...]:
        """A row a job, the oldest first."""
        return self._shelf.rows(self._summarise)

    def find(self, serial: str) -> tuple[ShelfRow, ...]:
        """The jobs of a unit, the latest first."""
        wanted = read_serial(serial)
        return tuple(row for row in reversed(self.shelf()) if row.serial == wanted)

    def look(self, job_id: str) -> Job:
        """A job to look at, without taking it up.

        Raises:
            FileFault: there is no such job, or its journal can't be read.
        """
        return fold(recorded(self._files.read_job(job_id)), self.boards.read)

    def outside(self, job: Job) -> Outside:
        """What the core needs to know beside the job's own events."""
        today = next((board for board in self.boards.listed() if board.name == job.sequence.sequence), None)
        return Outside(
            settings=self._settings.read(),
            todays_digest=today.digest if today else None,
            changed_steps=_changed(job, today),
            records_faults=self._files.intact(job.id),
        )

    async def arrive(self, arrive: Arrive) -> Bench | Refusal:
        """Take a unit in: its job is numbered, and on disk with the sequence's whole text, when this returns."""
        board = next((one for one in self.boards.listed() if one.name == arrive.sequence), None)
        if board is None or board.sequence is None:
            return Refusal(
                "entry", f"There is no usable sequence '{arrive.sequence}'.", "Run 'passcheck check' on its file."
            )
        refusal = arrival_refusal(arrive, board.sequence, self._settings.read())
        if refusal is not None:
            return refusal
        moment = self.clock()

        def first(job_id: str, ledger: tuple[int, str]) -> Line:
            return line_of(self._opening(job_id, ledger, arrive, board, moment), 0, arrive.by, moment)

        async with self._taking:
            job_id, writer = await asyncio.to_thread(self._files.new_job, first)
            return self._in_hand(job_id, writer, fresh=True)

    async def open(self, job_id: str, by: str) -> Bench:
        """Take a job up; power that was told on is unknown from here, and the journal says so at once.

        Raises:
            FileFault: there is no such job, or its journal was altered.
            BenchFailed: somebody else has it in hand, or the disk refuses.
        """
        async with self._taking:
            held = self._open.get(job_id)
            return held if held is not None and not held.closed else await self._taken_up(job_id, by)

    async def _taken_up(self, job_id: str, by: str) -> Bench:
        job = self.look(job_id)
        if job.ended is not None:
            self._square(job_id)
            return Bench(None, job, self._surroundings(), fresh=True)
        writer, _lines = await asyncio.to_thread(self._files.open_job, job_id)
        bench = self._in_hand(job_id, writer, fresh=False)
        await bench.resume(by)
        return bench

    async def close(self) -> None:
        """Let every job go."""
        for bench in tuple(self._open.values()):
            await bench.close()
        self._open.clear()

    def _square(self, job_id: str) -> None:
        """Tell the ledger of a seal that a crash kept from it: opening the journal does that, and nothing is added."""
        if self._files.intact(job_id):
            writer, _lines = self._files.open_job(job_id)
            writer.close()

    def _in_hand(self, job_id: str, writer: JournalWriter, *, fresh: bool) -> Bench:
        job = fold(recorded(writer.lines), self.boards.read)
        self._open[job_id] = Bench(writer, job, self._surroundings(), fresh=fresh)
        return self._open[job_id]

    def _opening(self, job_id: str, ledger: tuple[int, str], arrive: Arrive, board: Board, moment: Moment) -> JobOpened:
        return JobOpened(
            job=job_id,
            serial=read_serial(arrive.serial),
            complaint=arrive.complaint,
            condition=arrive.condition,
            sequence_text=board.text,
            sequence_digest=board.digest,
            variants=arrive.variants,
            bench=self._settings.read().letter,
            tool=self._tool,
            boot_id=moment.boot_id,
            offset_min=moment.offset_min,
            ledger_bytes=ledger[0],
            ledger_digest=ledger[1],
        )

    def _surroundings(self) -> Surroundings:
        return Surroundings(self._files, self.clock, self.boards.read, self.outside, self._tool)

    def _summarise(self, lines: tuple[Line, ...]) -> ShelfRow:
        if not lines:
            raise FileFault("the journal is empty")
        job = fold(recorded(lines), self.boards.read)
        return summarise(job, Outside(self._settings.read()), job.last)

    def _today(self) -> date:
        return self.clock().local().date()


def _changed(job: Job, today: Board | None) -> tuple[str, ...]:
    """Steps that today's newer revision of the sequence marks as changed."""
    if today is None or today.sequence is None or today.digest == job.sequence_digest:
        return ()
    newer = (step for step in today.sequence.steps if (step.changed_in or 0) > job.sequence.revision)
    return tuple(step.id for step in newer)
