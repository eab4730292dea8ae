"""What becomes of one simulated unit that one robot technician takes in?

Everything of a visit follows from the seed and its number: the unit, what is broken, who works, how their hand taps and
how their instruments err. Two visits share nothing, so they can be walked in any order and by several processes.
"""

import asyncio
from collections.abc import Callable, Mapping
from collections.abc import Sequence as Many
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from random import Random

from passcheck.bench.bench import Bench
from passcheck.bench.ports import Boards
from passcheck.bench.shop import Shop
from passcheck.errors import OurBug
from passcheck.job.arrival import Arrive
from passcheck.job.board import Board
from passcheck.job.settings import BenchSettings
from passcheck.practice.at_work import AtWork
from passcheck.practice.clock import SteppedClock
from passcheck.practice.fault import Fault
from passcheck.practice.hand import Hand
from passcheck.practice.manner import Manner, drawn_manner
from passcheck.practice.memory import MemoryFiles, MemorySettings, MemoryShelf
from passcheck.practice.meter import Meters
from passcheck.practice.person import draw_person
from passcheck.practice.serials import serial_by_mask
from passcheck.practice.technician import Technician, Told
from passcheck.practice.unit import SimulatedUnit
from passcheck.sequence.model import Sequence

START = datetime(2031, 1, 1, 8, 0, tzinfo=UTC)
"""When visits begin; the year is an invented one."""
WORKS, SEES = "l1", "t2"
"""Who works and who is within call, of the people of the first bench.yaml."""
TOOL, TERMINAL = "passcheck practice", "simulated"
NO_COMPLAINT = "Please look it over before the season."
DAY = timedelta(days=1)
GOOD_SHARE, TWO_SHARE = 0.15, 0.2
"""Of the units that come in: those with nothing wrong, and those with two faults."""


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit as whoever asked for it gets it.

    Attributes:
        number: which of the visits.
        board, serial: the unit.
        faults: what was broken on arrival, by name.
        told: how it ended, and what is true of the unit then.
        tries: attempts that were kept.
        hands_on_min, days: time with hands at the unit, and from arrival to the end.
        slips, caught, slipped_through: wrong entries, those that the bench didn't keep, those it kept.
        signatures_refused: signatures asked for in vain.
        passed_wrongly, failed_wrongly: tries by step, held against what the unit did in them.
        mistyped_to_pass: of the first those that a wrong entry made.
        refused: what the bench refused, by code.
    """

    number: int
    board: str
    serial: str
    faults: tuple[str, ...]
    told: Told
    tries: int
    hands_on_min: float
    days: float
    slips: int
    caught: int
    slipped_through: int
    signatures_refused: int
    passed_wrongly: Mapping[str, int]
    failed_wrongly: Mapping[str, int]
    mistyped_to_pass: Mapping[str, int]
    refused: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Workshop:
    """What all visits have in common.

    Attributes:
        boards: the sequences.
        faults: what can be wrong, by board.
        settings: people and instruments.
    """

    boards: Boards
    faults: Mapping[str, Many[Fault]]
    settings: BenchSettings

    def start_of(self, number: int) -> datetime:  # noqa: ARG002 - whoever keeps the journals lets the days go by
        """When a visit begins."""
        return START

    def shop(self, clock: SteppedClock, chance: Callable[[], float]) -> Shop:
        """An empty shop on journals that are lists in memory; whoever wants to keep them gives another."""
        files, settings = MemoryFiles(), MemorySettings(self.settings)
        return Shop(
            files, MemoryShelf(files), self.boards, settings, clock, lambda: TOOL, TERMINAL, chance,
            in_memory=True, practice=True,
        )  # fmt: skip


def visit(workshop: Workshop, seed: int, number: int) -> Visit:
    """Draw a unit and have it repaired."""
    draw = Random(f"{seed}/{number}")
    board = draw.choice(workshop.boards.listed())
    faults = drawn_faults(workshop.faults.get(board.name, ()), draw)
    return asyncio.run(walked(workshop, board, faults, drawn_manner(draw), draw, number))


def drawn_faults(listed: Many[Fault], draw: Random) -> tuple[Fault, ...]:
    """What is wrong with a unit: mostly one thing, sometimes nothing, sometimes two that sit in different blocks."""
    share = draw.random()
    if not listed or share < GOOD_SHARE:
        return ()
    first = draw.choice(list(listed))
    others = [fault for fault in listed if fault.block != first.block]
    if others and share > 1 - TWO_SHARE:
        return (first, draw.choice(others))
    return (first,)


async def walked(
    workshop: Workshop, board: Board, faults: tuple[Fault, ...], manner: Manner, draw: Random, number: int = 1
) -> Visit:
    """Have a unit with these faults repaired by somebody of that manner."""
    work = await taken_in(workshop, board, faults, manner, draw, number)
    symptoms = tuple(dict.fromkeys(name for fault in faults for name in fault.symptoms))
    told = await Technician(work).repair(symptoms)
    await work.bench.close()
    return _kept(number, board.name, work, told, work.clock().utc - workshop.start_of(number))


async def taken_in(
    workshop: Workshop, board: Board, faults: tuple[Fault, ...], manner: Manner, draw: Random, number: int = 1
) -> AtWork:
    """Somebody of that manner with a unit before them that has these faults, at a bench of their own."""
    clock = SteppedClock(workshop.start_of(number))
    shop = workshop.shop(clock, draw.random)
    sequence = sequence_of(board)
    serial = serial_by_mask(sequence.serial, draw)
    complaint = next((fault.complaint for fault in faults if fault.complaint), NO_COMPLAINT)
    bench = await shop.arrive(Arrive(WORKS, board.name, serial, complaint, "seal whole"))
    if not isinstance(bench, Bench):
        raise OurBug(f"a practice unit was not taken in: {bench.sentence}")
    latency = bench.outside().latency_at(clock()).latency
    return AtWork(
        bench=bench,
        unit=SimulatedUnit(sequence, faults, draw),
        clock=clock,
        by=WORKS,
        second=SEES,
        manner=manner,
        hand=Hand(draw_person(draw), draw, latency),
        meters=Meters(workshop.settings.instruments, draw),
        uniforms=shop.uniforms,
        draw=draw,
    )


def _kept(number: int, board: str, work: AtWork, told: Told, gone: timedelta) -> Visit:
    tally = work.tally
    return Visit(
        number=number,
        board=board,
        serial=work.job.serial,
        faults=tuple(fault.name for fault in work.unit.faults),
        told=told,
        tries=tally.tries,
        hands_on_min=tally.hands_on_min,
        days=gone / DAY,
        slips=tally.slips,
        caught=tally.caught,
        slipped_through=tally.slipped_through,
        signatures_refused=tally.signatures_refused,
        passed_wrongly=dict(tally.passed_wrongly),
        failed_wrongly=dict(tally.failed_wrongly),
        mistyped_to_pass={step: count for step, count in tally.mistyped_to_pass.items() if count},
        refused=dict(tally.refused),
    )


def sequence_of(board: Board) -> Sequence:
    """The model of a board's file.

    Raises:
        OurBug: the file isn't good, which was to be looked at before.
    """
    if board.sequence is None:
        raise OurBug(f"{board.name}: a practice bench was given a sequence that can't be used")
    return board.sequence
