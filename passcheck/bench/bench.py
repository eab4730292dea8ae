"""How is one job carried: a command in, its events kept, the new state out?

One queue a job: a command is decided on the state that the one before it left, and nobody is told of its events before
they are on disk. Make safe is stamped at the key and overtakes what waits.
"""

import asyncio
import heapq
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from datetime import timedelta
from functools import partial
from typing import TypeVar

from passcheck.bench.ports import Clock, JobFiles, JournalWriter
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.commands import CallMakeSafe, Command, Refusal
from passcheck.job.decide import decide
from passcheck.job.ending import is_failure, is_seal
from passcheck.job.events import Event, Resumed
from passcheck.job.fold import ReadSequence, evolve, fold
from passcheck.job.journal_line import Line
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.replay import recorded, stamp
from passcheck.job.state import Job, Recorded
from passcheck.job.tags import encode

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Done:
    """A command was carried out: what happened, and the job after it."""

    events: tuple[Event, ...]
    job: Job


@dataclass(order=True, slots=True)
class _Waiting:
    """A command in the queue; make safe has the smaller rank, then first come first served."""

    rank: int
    turn: int
    command: Command = field(compare=False)
    stamped: Moment | None = field(compare=False)
    answer: "asyncio.Future[Done | Refusal]" = field(compare=False)


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What a bench asks while it carries a job.

    `in_memory` is True where no disk is behind the files, so that keeping a line keeps nobody waiting.
    """

    files: JobFiles
    clock: Clock
    read_sequence: ReadSequence
    outside: Callable[[Job], Outside]
    tool: str
    in_memory: bool = False


class Bench:
    """One job in hand."""

    def __init__(self, writer: JournalWriter | None, job: Job, around: Surroundings, *, fresh: bool) -> None:
        """Use `Shop.arrive` or `Shop.open`.

        Args:
            writer: the journal's writer; None for a job that has ended and is only looked at.
            job: the state that the journal's lines make.
            around: clock, files and settings.
            fresh: True when this process opened the job's journal as a new one.
        """
        self.job = job
        self.closed = False
        self._writer = writer
        self._around = around
        self._resumed = fresh
        self._turns = 0
        self._queue: list[_Waiting] = []
        self._runner: asyncio.Task[None] | None = None
        self._thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix=f"journal-{job.id}")

    def moment(self) -> Moment:
        """Now, by the bench's clocks, to the millisecond that a journal keeps."""
        now = self._around.clock()
        finer = now.utc.microsecond % 1000
        return replace(now, utc=now.utc - timedelta(microseconds=finer)) if finer else now

    def outside(self) -> Outside:
        """Settings, today's sequence file and the state of the records, as the core asks for them."""
        return self._around.outside(self.job)

    async def do(self, command: Command) -> Done | Refusal:
        """Carry out a command, after those that came before it.

        Raises:
            BenchFailed: the events could not be kept; nothing happened, and the next command opens the journal again.
            FileFault: the journal can't be used.
        """
        if self.closed:
            raise BenchFailed(f"Job {self.job.id} was put back on the shelf. Open it again.")
        first = isinstance(command, CallMakeSafe)
        self._turns += 1
        answer: asyncio.Future[Done | Refusal] = asyncio.get_running_loop().create_future()
        stamped = self.moment() if first else None
        heapq.heappush(self._queue, _Waiting(0 if first else 1, self._turns, command, stamped, answer))
        if self._runner is None or self._runner.done():
            self._runner = asyncio.create_task(self._run())
        return await answer

    async def resume(self, by: str) -> None:
        """Record that this process took the job up, when it has not been recorded yet."""
        if not self._resumed and self.job.ended is None:
            moment = self.moment()
            away = moment.since(self.job.last)
            away_ms = None if away is None else int(away.total_seconds() * 1000)
            await self._keep((Resumed(moment.boot_id, moment.offset_min, self._around.tool, away_ms),), by, moment)
        self._resumed = True

    async def close(self) -> None:
        """Finish what waits, then let another process write; this bench takes no command any more."""
        if self.closed:
            return
        self.closed = True
        if self._runner is not None:
            await asyncio.wait([self._runner])
        if self._writer is not None:
            await self._in_thread(self._writer.close)
        self._thread.shutdown()

    async def _run(self) -> None:
        while self._queue:
            waiting = heapq.heappop(self._queue)
            try:
                done = await self._carry_out(waiting)
            except Exception as error:
                if not waiting.answer.cancelled():
                    waiting.answer.set_exception(error)
            else:
                if not waiting.answer.cancelled():
                    waiting.answer.set_result(done)

    async def _carry_out(self, waiting: _Waiting) -> Done | Refusal:
        command = waiting.command
        if self.job.ended is None:
            await self._writable()
            await self.resume(command.by)
        moment = waiting.stamped or self.moment()
        decided = decide(self.job, command, moment, self.outside())
        if isinstance(decided, Refusal):
            return decided
        try:
            await self._keep(decided, command.by, moment)
        except FileFault as error:
            return Refusal("entry", str(error), "Nothing was kept. Change the entry.")
        return Done(decided, self.job)

    async def _writable(self) -> None:
        """After a failure the journal is read again from the disk: only what is there happened."""
        if self._writer is not None and self._writer.writing:
            return
        writer, lines = await self._in_thread(partial(self._around.files.open_job, self.job.id))
        self._writer = writer
        self.job = fold(recorded(lines), self._around.read_sequence)
        self._resumed = False

    async def _keep(self, events: tuple[Event, ...], by: str, moment: Moment) -> None:
        writer = self._writer
        if writer is None:
            raise FileFault(f"{self.job.id}: the job has ended; nothing is added to it")
        lines = tuple(
            line_of(event, number, by, moment) for number, event in enumerate(events, start=writer.next_number)
        )
        fail, seal = any(is_failure(line) for line in lines), is_seal(lines[-1])
        after = self.job  # folded first: what can't be folded must not reach the disk
        for line, event in zip(lines, events, strict=True):
            after = evolve(after, Recorded(line.number, moment, by, event), self._around.read_sequence)
        await self._in_thread(partial(writer.append, lines, fail=fail, seal=seal))
        self.job = after

    async def _in_thread(self, call: Callable[[], T]) -> T:
        """A disk is waited for in the journal's own thread; memory is not."""
        if self._around.in_memory:
            return call()
        return await asyncio.get_running_loop().run_in_executor(self._thread, call)


def line_of(event: Event, number: int, by: str, moment: Moment) -> Line:
    """The journal's line for an event."""
    tag, data = encode(event)
    return Line(number=number, at=stamp(moment), by=by, clock=moment.boottime_ms, event=tag, data=data)
