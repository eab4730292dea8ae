"""A repair of thirty tried steps, told as batches of events, or walked at the real bench by the robot technician.

A relay panel comes in with a rail that is low: as found, a rework, its retest, acceptance, sign-off.
"""

import asyncio
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, fields
from functools import cache
from pathlib import Path

import robot
from crash_walk import Batch, Happened
from rig import TERMINAL

from passcheck.bench.bench import Done
from passcheck.bench.ports import JobFiles
from passcheck.bench.shop import Shop
from passcheck.errors import BenchFailed
from passcheck.job.commands import AddNote, CloseRun, Command, Refusal
from passcheck.job.journal_line import Line
from passcheck.job.tags import encode
from passcheck.practice.at_work import AtWork
from passcheck.practice.clock import SteppedClock
from passcheck.practice.fault import Effect
from passcheck.practice.memory import MemoryFiles, MemorySettings, MemoryShelf, MemoryWriter
from passcheck.practice.serials import drawn_from
from passcheck.practice.technician import Technician
from passcheck.practice.visit import TOOL, Workshop, taken_in

PANEL = (Path(__file__).parents[1] / "samples" / "twenty-steps.yaml").read_text(encoding="utf-8")
LOW_RAIL = robot.broken(Effect("rail-12v", "reads", 9.1), name="low rail")
TRIED = 30
"""Steps that are tried until the unit leaves, at least."""


@dataclass(frozen=True, slots=True)
class OnFiles(Workshop):
    """The robot's bench with its journals where the test wants them."""

    files: JobFiles
    in_memory: bool

    def shop(self, clock: SteppedClock, chance: Callable[[], float]) -> Shop:
        """A shop on these journals."""
        shelf, settings = MemoryShelf(MemoryFiles()), MemorySettings(self.settings)
        return Shop(
            self.files, shelf, self.boards, settings, clock, lambda: TOOL, TERMINAL, chance, in_memory=self.in_memory
        )


async def taken_in_on(files: JobFiles, *, in_memory: bool = False) -> AtWork:
    """The robot with the panel before it, its job opened in these journals. Raises what the records raise."""
    bench = robot.workshop(PANEL)
    place = OnFiles(bench.boards, bench.faults, bench.settings, files, in_memory)
    (board,) = place.boards.listed()
    return await taken_in(place, board, (LOW_RAIL,), robot.FLAWLESS, drawn_from("thirty steps", 1))


class BatchedWriter(MemoryWriter):
    """A journal in memory that remembers what came in one call."""

    def __init__(self, files: "BatchedFiles", job_id: str) -> None:
        super().__init__(files, job_id)
        self._batches = files.batches

    def append(self, lines: Sequence[Line], *, fail: bool = False, seal: bool = False) -> None:
        super().append(lines, fail=fail, seal=seal)
        self._batches.append(tuple((line.event, line.data) for line in lines))


class BatchedFiles(MemoryFiles):
    """Journals in memory; `batches` holds what their writers were handed after the opening."""

    def __init__(self) -> None:
        super().__init__()
        self.batches: list[Batch] = []

    def _writer(self, job_id: str) -> BatchedWriter:
        return BatchedWriter(self, job_id)


@cache
def thirty_steps() -> Sequence[Batch]:
    """The whole repair, as the bench hands it to the records."""
    files = BatchedFiles()

    async def repaired() -> AtWork:
        work = await taken_in_on(files, in_memory=True)
        await Technician(work).repair(())
        return work

    work = asyncio.run(repaired())
    assert (work.job.ended, len(work.reworks)) == ("signed off", 1)
    assert len(work.job.attempts) >= TRIED
    ((opening, *_),) = files.journals.values()
    facts = {name: fact for name, fact in opening.data.items() if name not in ("job", "ledger_bytes", "ledger_digest")}
    return (((opening.event, facts),), *files.batches)


@dataclass(slots=True)
class Patient(AtWork):
    """The robot, whose disk may refuse: then it looks after the disk and takes the unit up again.

    `shown` is what a screen would have shown; `refusals` are the sentences of the disk.
    """

    mend_disk: Callable[[], None] = lambda: None
    shown: list[Happened] = field(default_factory=list)
    refusals: list[str] = field(default_factory=list)

    async def ask(self, command: Command) -> Done | Refusal:
        done = await AtWork.ask(self, command)
        if isinstance(done, Done):
            self.shown += [encode(event) for event in done.events]
        return done

    async def repaired(self) -> str | None:
        """How the job ended."""
        while self.job.ended is None:
            try:
                await self._go_on()
            except BenchFailed as failure:
                self.refusals.append(str(failure))
                self.mend_disk()
        return self.job.ended

    async def _go_on(self) -> None:
        if self.refusals:
            await self.ask(AddNote(self.by, "the disk was looked after"))
        if self.job.ended is None:
            if self.job.open_run is not None:
                await self.make_safe()
                await self.do(CloseRun(self.by))
            told = await Technician(self).repair(())
            assert told.ended == "released", told


def patient(work: AtWork, mend_disk: Callable[[], None]) -> Patient:
    """The same robot with patience."""
    return Patient(**{one.name: getattr(work, one.name) for one in fields(work)}, mend_disk=mend_disk)
