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
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.arrival import Arrive
from passcheck.job.board import Board
from passcheck.job.carried import Carried
from passcheck.job.commands import CallMakeSafe, CloseRun, Command, Refusal
from passcheck.job.events import Purpose
from passcheck.job.journal_line import Line
from passcheck.job.kept_block import KeptBlock
from passcheck.job.moment import Moment
from passcheck.job.power import told
from passcheck.job.settings import BenchSettings
from passcheck.job.shelf_row import ShelfRow
from passcheck.sequence.load import read_sequence
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


class RigClock:
    """The bench's clocks; they stand still until a test moves them."""

    def __init__(self) -> None:
        self._utc = START
        self._boottime_ms = 1_000_000
        self._boots = 1

    def __call__(self) -> Moment:
        return Moment(self._utc, 120, self._boottime_ms, f"boot-{self._boots}")

    def pass_time(self, *, hours: float = 0, minutes: float = 0, seconds: float = 0) -> None:
        """Let time go by on every clock."""
        gone = timedelta(hours=hours, minutes=minutes, seconds=seconds)
        self._utc += gone
        self._boottime_ms += int(gone.total_seconds() * 1000)

    def reboot(self, *, minutes: float = 2) -> None:
        """The machine starts again: wall time went on, the other clock begins anew."""
        self._utc += timedelta(minutes=minutes)
        self._boottime_ms = 5_000
        self._boots += 1

    def set_wall(self, *, hours: float) -> None:
        """Somebody sets the clock on the wall; nothing else moves."""
        self._utc += timedelta(hours=hours)


class MemoryWriter:
    """The one writer of a journal that is a list; it dies at its first failure, as the records' own does."""

    def __init__(self, files: "MemoryFiles", job_id: str) -> None:
        self._files = files
        self._job_id = job_id
        self._alive = True
        files.holders[job_id] = self

    @property
    def lines(self) -> tuple[Line, ...]:
        return tuple(self._files.journals[self._job_id])

    @property
    def next_number(self) -> int:
        return len(self._files.journals[self._job_id])

    @property
    def writing(self) -> bool:
        return self._alive and self._files.holders.get(self._job_id) is self

    def append(self, lines: Many[Line], *, fail: bool = False, seal: bool = False) -> None:
        if not self.writing:
            raise BenchFailed(f"{self._job_id}: the journal is closed.")
        if self._files.before_append is not None:
            self._files.before_append()
        if self._files.refusals:
            self._files.refusals -= 1
            self._alive = False
            raise BenchFailed("No room left on the disk. Make room and go on.")
        for line in lines:
            assert line.number == self.next_number
            self._files.journals[self._job_id].append(_as_read(line))
        self._files.fails += fail
        self._files.seals += seal
        if seal:
            self.close()

    def close(self) -> None:
        self._alive = False
        if self._files.holders.get(self._job_id) is self:
            del self._files.holders[self._job_id]


class MemoryFiles:
    """Journals as lists of lines."""

    def __init__(self) -> None:
        self.journals: dict[str, list[Line]] = {}
        self.holders: dict[str, MemoryWriter] = {}
        self.refusals = 0
        """How many of the next appends the disk refuses."""
        self.faults: tuple[str, ...] = ()
        """What the records say is wrong."""
        self.before_append: Callable[[], None] | None = None
        """Called in the writer's thread before anything is kept."""
        self.fails = 0
        self.seals = 0

    def job_ids(self) -> tuple[str, ...]:
        return tuple(self.journals)

    def new_job(self, first: Callable[[str, tuple[int, str]], Line]) -> tuple[str, MemoryWriter]:
        if self.refusals:
            self.refusals -= 1
            raise BenchFailed("No room left on the disk. Make room and go on.")
        job_id = f"A31-{len(self.journals) + 1:04d}"
        self.journals[job_id] = [_as_read(first(job_id, (0, "")))]
        return job_id, MemoryWriter(self, job_id)

    def open_job(self, job_id: str) -> tuple[MemoryWriter, tuple[Line, ...]]:
        lines = self.read_job(job_id)
        holder = self.holders.get(job_id)
        if holder is not None and holder.writing:
            raise BenchFailed(f"Job {job_id} is in use by another passcheck. Close it there first.")
        return MemoryWriter(self, job_id), lines

    def read_job(self, job_id: str) -> tuple[Line, ...]:
        if job_id not in self.journals:
            raise FileFault(f"There is no job {job_id} on this bench.")
        return tuple(self.journals[job_id])

    def intact(self, job_id: str) -> tuple[str, ...]:
        return self.faults


class MemoryShelf:
    """A shelf that summarises every journal each time."""

    def __init__(self, files: MemoryFiles) -> None:
        self._files = files

    def rows(self, summarise: Callable[[tuple[Line, ...]], ShelfRow]) -> tuple[ShelfRow, ...]:
        return tuple(summarise(tuple(lines)) for lines in self._files.journals.values())


class MemoryBoards:
    """Sequence files: texts, or model objects under a text that stands for them."""

    def __init__(self, *given: Sequence | str) -> None:
        self._models: dict[str, Sequence] = {}
        self._today: dict[str, Board] = {}
        for one in given:
            self.put(one)

    def put(self, given: Sequence | str) -> Board:
        """Lay a file into the folder, in place of an older one of the same board."""
        model = self.read(given) if isinstance(given, str) else given
        text = given if isinstance(given, str) else self._text_of(given)
        self._models[text] = model
        board = Board(model.sequence, f"{model.sequence}.yaml", text, _digest(text), model)
        self._today[board.name] = board
        return board

    def take_away(self, name: str) -> None:
        """Remove a file from the folder."""
        del self._today[name]

    def listed(self) -> tuple[Board, ...]:
        return tuple(self._today.values())

    def read(self, text: str) -> Sequence:
        if text in self._models:
            return self._models[text]
        return read_sequence(text, "the journal")

    @staticmethod
    def _text_of(model: Sequence) -> str:
        return f"# a test's own: {_digest(repr(model))}\nsequence: {model.sequence}\nrevision: {model.revision}\n"


class MemorySettings:
    """bench.yaml as a value; `current` may be replaced at any time."""

    def __init__(self, current: BenchSettings) -> None:
        self.current = current
        self.kept_blocks: list[KeptBlock] = []
        self._carried: dict[date, Carried] = {}

    def read(self) -> BenchSettings:
        return self.current

    def carried(self, day: date) -> Carried:
        return self._carried.get(day, Carried({}))

    def carry(self, day: date, carried: Carried) -> None:
        self._carried = {day: carried}

    def keep_tap_key(self, key: str) -> None:
        self.current = self.current.model_copy(update={"tap_key": key})

    def blocks(self) -> tuple[KeptBlock, ...]:
        return tuple(self.kept_blocks)

    def keep_block(self, block: KeptBlock) -> None:
        self.kept_blocks.append(block)


class Rig:
    """A bench in memory; every part is open to the test."""

    def __init__(self, *boards: Sequence | str, settings_now: BenchSettings | None = None) -> None:
        """Boards are model objects or YAML texts; without any there is the three-step lamp board."""
        self.clock = RigClock()
        self.chance = itertools.cycle((0.5, 0.1, 0.9, 0.3, 0.7)).__next__
        self.files = MemoryFiles()
        self.boards = MemoryBoards(*(boards or (sequences.sequence(),)))
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


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()
