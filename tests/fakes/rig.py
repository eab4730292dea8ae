"""A whole bench in memory: a Shop on ports that keep everything in lists, with a clock that a test moves.

rig = Rig(sequences.sequence())
bench = await rig.job()
await rig.do(bench, hand.start(bench.job), hand.passing(bench.job, "short-5v"))
rig.restart()                      # the program was killed; its journals are still there
bench = await rig.shop.open(bench.job.id, "t1")
"""

import hashlib
import itertools
import json
from collections.abc import Callable, Mapping
from collections.abc import Sequence as Many
from datetime import UTC, date, datetime, timedelta
from typing import Any

import hand

import sequences
from passcheck.bench.bench import Bench, Done
from passcheck.bench.shop import Shop
from passcheck.errors import BenchFailed
from passcheck.job.arrival import Arrive
from passcheck.job.board import Board
from passcheck.job.commands import CallMakeSafe, CloseRun, Command, Refusal
from passcheck.job.events import Purpose
from passcheck.job.journal_line import Line
from passcheck.job.power import told
from passcheck.job.settings import BenchSettings
from passcheck.practice.clock import SteppedClock
from passcheck.practice.memory import MemoryBoards, MemoryFiles, MemorySettings, MemoryShelf, MemoryWriter
from passcheck.sequence.model import Sequence

START = datetime(2031, 4, 2, 8, 0, 0, tzinfo=UTC)
SERIAL = "7Q22051"
TERMINAL = "xterm, local"
COMPLAINT = "Fuel goes to nothing after half an hour"


def settings(**members: Any) -> BenchSettings:
    """A bench with technicians t1 and t2, a lead k9 who may do hazardous-live work, and instruments in date but OLD."""
    one = {
        "voltmeter": "0.5 % + 3 digits",
        "ohmmeter": "0.8 % + 3 digits",
        "ammeter": "1 % + 3 digits",
    }
    return BenchSettings.model_validate(
        {
            "people": {
                "t1": {"name": "First technician", "role": "technician"},
                "t2": {"name": "Second technician", "role": "technician"},
                "k9": {"name": "The lead", "role": "lead", "hazardous_live": True},
            },
            "instruments": {
                "M1": {"title": "Hand multimeter", "due": date(2031, 12, 1), "fills": one},
                "M2": {"title": "Its twin", "due": date(2031, 12, 1), "fills": one},
                "M9": {
                    "title": "Bench multimeter",
                    "due": date(2031, 12, 1),
                    "fills": {"voltmeter": "0.02 % + 2 digits", "ohmmeter": "0.05 % + 2 digits"},
                },
                "OLD": {"title": "Meter past its date", "due": date(2031, 4, 1), "fills": one},
                "S1": {
                    "title": "Oscilloscope",
                    "due": date(2031, 11, 1),
                    "fills": {"scope": "3 % + 1 digit", "timer": "1 ms"},
                },
                "T1": {
                    "title": "Camera at 60 frames a second",
                    "due": date(2031, 11, 1),
                    "fills": {"timer": "17 ms", "camera": "17 ms"},
                },
                "H1": {"title": "Contact thermometer", "due": date(2031, 11, 1), "fills": {"thermometer": "1 K"}},
                "K1": {"title": "Radio clock", "due": date(2031, 11, 1), "fills": {"reference-clock": "0.1 s"}},
                "L1": {
                    "title": "Meter for capacitance and ESR",
                    "due": date(2031, 11, 1),
                    "fills": {"lcr-meter": "1 % + 3 digits"},
                },
                "P1": {
                    "title": "Bench supply",
                    "due": date(2031, 10, 1),
                    "fills": {"supply-display": "1 % + 2 digits", "supply-meter": "1 % + 5 mA"},
                },
            },
            "known_source": {"title": "9 V battery in the drawer", "limits": "8.5 V .. 9.8 V"},
            **members,
        }
    )


class RigClock(SteppedClock):
    """The bench's clocks; beside letting time go by, a test may restart the machine and set the clock on the wall."""

    def __init__(self) -> None:
        super().__init__(START, offset_min=120)

    def reboot(self, *, minutes: float = 2) -> None:
        """The machine starts again: wall time went on, the other clock begins anew."""
        self._utc += timedelta(minutes=minutes)
        self._boottime_ms = 5_000
        self._boots += 1

    def set_wall(self, *, hours: float) -> None:
        """Somebody sets the clock on the wall; nothing else moves."""
        self._utc += timedelta(hours=hours)


class RigWriter(MemoryWriter):
    """A writer whose disk refuses when the test says so, and that keeps a line as a file would give it back."""

    def __init__(self, files: "RigFiles", job_id: str) -> None:
        super().__init__(files, job_id)
        self._files = files

    def append(self, lines: Many[Line], *, fail: bool = False, seal: bool = False) -> None:
        if self.writing:
            self._ask_the_disk()
        super().append([_as_read(line) for line in lines], fail=fail, seal=seal)
        self._files.fails += fail
        self._files.seals += seal

    def _ask_the_disk(self) -> None:
        if self._files.before_append is not None:
            self._files.before_append()
        try:
            self._files.refuse()
        except BenchFailed:
            self._alive = False
            raise


class RigFiles(MemoryFiles):
    """Journals in memory on a disk that may refuse, with records that may be found damaged."""

    def __init__(self) -> None:
        super().__init__()
        self.refusals = 0
        """How many of the next writes the disk refuses."""
        self.faults: tuple[str, ...] = ()
        """What the records say is wrong."""
        self.marks: tuple[str, ...] = ()
        """What stays said of every job since a damaged ledger was closed."""
        self.before_append: Callable[[], None] | None = None
        """Called in the writer's thread before anything is kept."""
        self.fails = 0
        self.seals = 0

    def new_job(self, first: Callable[[str, tuple[int, str]], Line]) -> tuple[str, MemoryWriter]:
        self.refuse()
        return super().new_job(lambda job_id, ledger: _as_read(first(job_id, ledger)))

    def intact(self, job_id: str) -> tuple[str, ...]:
        return self.faults

    def concerned(self, job_id: str) -> tuple[str, ...]:
        return self.marks

    def refuse(self) -> None:
        """Refuse one write where refusals are left."""
        if self.refusals:
            self.refusals -= 1
            raise BenchFailed("No room left on the disk. Make room and go on.")

    def _writer(self, job_id: str) -> RigWriter:
        return RigWriter(self, job_id)


class RigBoards(MemoryBoards):
    """Sequence files: texts, or model objects under a text that stands for them."""

    def __init__(self, *given: Sequence | str) -> None:
        super().__init__()
        for one in given:
            self.put(one)

    def put(self, given: Sequence | str) -> Board:
        """Lay a file into the folder, in place of an older one of the same board."""
        return self._lay(given, self.read(given)) if isinstance(given, str) else self._lay(_text_of(given), given)

    def take_away(self, name: str) -> None:
        """Remove a file from the folder."""
        del self._today[name]


class Rig:
    """A bench in memory; every part is open to the test."""

    def __init__(self, *boards: Sequence | str, settings_now: BenchSettings | None = None) -> None:
        """Boards are model objects or YAML texts; without any there is the three-step lamp board."""
        self.clock = RigClock()
        self.chance = itertools.cycle((0.5, 0.1, 0.9, 0.3, 0.7)).__next__
        self.files = RigFiles()
        self.boards = RigBoards(*(boards or (sequences.sequence(),)))
        self.settings = MemorySettings(settings_now or settings())
        self.shop = self._new_shop()

    def restart(self) -> Shop:
        """The program was killed and started again over the same journals."""
        for writer in tuple(self.files.holders.values()):
            writer.close()
        self.shop = self._new_shop()
        return self.shop

    def second_program(self) -> Shop:
        """Another passcheck on the same folder, while the first still runs."""
        return self._new_shop()

    async def job(
        self,
        *,
        sequence: str | None = None,
        serial: str = SERIAL,
        complaint: str = COMPLAINT,
        by: str = "t1",
        variants: tuple[str, ...] = (),
    ) -> Bench:
        """Take a unit in; the first board of the folder unless `sequence` names another."""
        name = sequence or self.boards.listed()[0].name
        taken = await self.shop.arrive(Arrive(by, name, serial, complaint, "seal broken", variants))
        assert isinstance(taken, Bench), taken
        return taken

    async def do(self, bench: Bench, *commands: Command) -> Bench:
        """Carry out commands that are all expected to be granted."""
        for command in commands:
            done = await bench.do(command)
            assert isinstance(done, Done), done
        return bench

    async def refused(self, bench: Bench, command: Command) -> Refusal:
        """Ask for something that is expected to be refused."""
        refusal = await bench.do(command)
        assert isinstance(refusal, Refusal), refusal
        return refusal

    async def power(self, bench: Bench, step: str, by: str = "t1") -> Bench:
        """Answer the step's cautions and tell its supply on."""
        await self.do(bench, *hand.answers_to_cautions(bench.job, step, by, bench.moment()))
        return await self.do(bench, hand.energise(bench.job, step, by))

    async def walk(self, bench: Bench, purpose: Purpose = "acceptance", by: str = "t1") -> Bench:
        """A known-good run from the first step to the last, ended made safe and closed."""
        await self.do(bench, hand.start(bench.job, purpose, by))
        walked: set[tuple[str, str]] = set()
        while planned := hand.still_open(bench.job, walked):
            await self.walk_step(bench, planned.step.id, by, under=planned.under)
        await self.make_safe(bench, by)
        return await self.do(bench, CloseRun(by))

    async def make_safe(self, bench: Bench, by: str = "t1") -> Bench:
        """Press the make-safe key and prove the unit dead."""
        return await self.do(bench, CallMakeSafe(by), hand.proved_dead(bench.job, by))

    async def walk_step(self, bench: Bench, step: str, by: str = "t1", under: tuple[str, ...] = ()) -> None:
        """Bring power and cautions to where the step may be tried, and try it with an answer that passes."""
        supply = bench.job.sequence.step(step).power
        if any(state != "off" for name, state in _told(bench).items() if name != supply or state == "unknown"):
            await self.make_safe(bench, by)
        await self.do(bench, *hand.answers_to_cautions(bench.job, step, by, bench.moment()))
        if hand.powered(bench.job, step) and _told(bench)[supply] not in ("on", "soaking"):
            await self.do(bench, hand.energise(bench.job, step, by))
        await self.do(bench, hand.passing(bench.job, step, by, under=under))

    def _new_shop(self) -> Shop:
        shelf = MemoryShelf(self.files)
        return Shop(
            self.files, shelf, self.boards, self.settings, self.clock, lambda: "passcheck test", TERMINAL, self.chance
        )


def _told(bench: Bench) -> Mapping[str, str]:
    return told(bench.job, bench.moment())


def _as_read(line: Line) -> Line:
    """The line as a file would give it back; a value that JSON or the journal doesn't take fails here."""
    text = json.dumps(line.data, ensure_ascii=True, allow_nan=False)

    def no_fraction(number: str) -> float:
        raise AssertionError(f"a fraction in a journal line: {number}")

    data = json.loads(text, parse_float=no_fraction)
    return Line(line.number, line.at, line.by, line.clock, line.event, data)


def _text_of(model: Sequence) -> str:
    digest = hashlib.sha256(repr(model).encode()).hexdigest()
    return f"# a test's own: {digest}\nsequence: {model.sequence}\nrevision: {model.revision}\n"
