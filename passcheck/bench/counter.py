"""How is a unit taken up from the shelf, or taken in?"""

import asyncio
from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from passcheck.bench.arrivals import Arrived, came_together
from passcheck.bench.bench import Bench, Surroundings, line_of
from passcheck.bench.own_jobs import OwnJobs
from passcheck.bench.ports import Boards, Clock, JobFiles, JournalWriter, SettingsFile
from passcheck.errors import FileFault
from passcheck.job.arrival import Arrive, arrival_refusal
from passcheck.job.board import Board
from passcheck.job.commands import Refusal
from passcheck.job.ending import is_seal
from passcheck.job.events import JobOpened
from passcheck.job.fold import fold
from passcheck.job.journal_line import Line
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.replay import recorded
from passcheck.job.revising import marked_since
from passcheck.job.serial import read_serial
from passcheck.job.shelf_row import ShelfRow
from passcheck.job.state import Job
from passcheck.job.summary import summarise

Of = TypeVar("Of")
T = TypeVar("T")


class Counter:
    """Where units are taken in and up; a shop has one."""

    def __init__(
        self,
        files: JobFiles,
        boards: Boards,
        settings: SettingsFile,
        clock: Clock,
        tool: str,
        terminal: str,
        *,
        in_memory: bool = False,
        practice: bool,
    ) -> None:
        """Nothing is read or written yet; the arguments are those of `Shop`."""
        self._files = OwnJobs(files, practice=practice)
        self._practice = practice
        self._boards = boards
        self._settings = settings
        self._clock = clock
        self._tool = tool
        self._terminal = terminal
        self._in_memory = in_memory
        self._open: dict[str, Bench] = {}
        self._taking = asyncio.Lock()  # one unit at a time is taken in or up

    def summarise(self, lines: tuple[Line, ...]) -> ShelfRow:
        """The shelf's row of a job."""
        if not lines:
            raise FileFault("the journal is empty")
        job = fold(recorded(lines), self._boards.read)
        return summarise(job, Outside(self._settings.read()), job.last)

    def look(self, job_id: str) -> Job:
        """A job to look at, without taking it up.

        Raises:
            FileFault: there is no such job, or its journal can't be read.
        """
        return fold(recorded(self._files.read_job(job_id)), self._boards.read)

    def outside(self, job: Job) -> Outside:
        """What the core needs to know beside the job's own events."""
        today = next((board for board in self._boards.listed() if board.name == job.sequence.sequence), None)
        return Outside(
            settings=self._settings.read(),
            todays_digest=today.digest if today else None,
            changed_steps=_changed(job, today),
            terminal=self._terminal,
            records_faults=self._files.intact(job.id),
            records_marks=self._files.concerned(job.id),
        )

    async def arrive(self, arrive: Arrive) -> Bench | Refusal:
        """Take a unit in: its job is numbered, and on disk with the sequence's whole text, when this returns."""
        board = next((one for one in self._boards.listed() if one.name == arrive.sequence), None)
        if board is None or board.sequence is None:
            return Refusal(
                "entry", f"There is no usable sequence '{arrive.sequence}'.", "Run 'passcheck check' on its file."
            )
        refusal = arrival_refusal(arrive, board.sequence, self._settings.read())
        if refusal is not None:
            return refusal
        moment, serial = self._clock(), read_serial(arrive.serial)
        async with self._taking:
            together = await self._in_thread(self._together, arrive)
            if isinstance(together, Refusal):
                return together
            if (same := next((one for one in together if one.serial == serial), None)) is not None:
                return Refusal("unit", f"Unit {serial} came in already: it is job {same.job}.", "Scan the other unit.")
            arrived_with = together[0].job if together else ""

            def first(job_id: str, ledger: tuple[int, str]) -> Line:
                opening = self._opening(job_id, ledger, arrive, board, moment)
                return line_of(replace(opening, arrived_with=arrived_with), 0, arrive.by, moment)

            job_id, writer = await self._in_thread(self._files.new_job, first)
            return self._in_hand(job_id, writer, fresh=True)

    def came_together(self, job_id: str) -> tuple[Arrived, ...]:
        """All units of the arrival that this job belongs to, itself included, the first one first."""
        return came_together(self._files, job_id)

    def _together(self, arrive: Arrive) -> tuple[Arrived, ...] | Refusal:
        if arrive.with_job is None:
            return ()
        try:
            return came_together(self._files, arrive.with_job)
        except FileFault as fault:
            return Refusal("entry", str(fault), "Take the unit in as an arrival of its own.")

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
        lines = self._files.read_job(job_id)
        if lines and is_seal(lines[-1]):
            self._square(job_id)
            return Bench(None, fold(recorded(lines), self._boards.read), self._surroundings(), fresh=True)
        writer, _lines = await self._in_thread(self._files.open_job, job_id)
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
        job = fold(recorded(writer.lines), self._boards.read)
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
            practice=self._practice,
        )

    def _surroundings(self) -> Surroundings:
        return Surroundings(
            self._files, self._clock, self._boards.read, self.outside, self._tool, in_memory=self._in_memory
        )

    async def _in_thread(self, call: Callable[[Of], T], of: Of) -> T:
        return call(of) if self._in_memory else await asyncio.to_thread(call, of)


def _changed(job: Job, today: Board | None) -> tuple[str, ...]:
    """Steps that today's newer revision of the sequence marks as changed."""
    if today is None or today.sequence is None or today.digest == job.sequence_digest:
        return ()
    return marked_since(today.sequence, job.sequence.revision)
