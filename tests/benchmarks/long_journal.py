"""What does a job look like that has had a hundred thousand events?

A robot technician repairs simulated units of one demo board over the program's own bench, so each of these events was
decided by the core. The visits, one after the other, become the story of one job: later openings and all endings are
left out, numbers go on counting, and so does the clock. Beside them lies what makes a job long in truth: a soak that
is looked at for weeks, signs of life, notes and loose readings.
"""

import asyncio
import dataclasses
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from functools import cache
from itertools import chain, cycle, islice
from pathlib import Path
from random import Random  # noqa: TID251 - the same seed gives the same journal

from passcheck.bench.shop import Shop
from passcheck.cli.folders import Folders, demo_boards
from passcheck.cli.practice_auto import workshop_on
from passcheck.job import events as happened
from passcheck.job.ending import SEALING_EVENTS
from passcheck.job.events import Event
from passcheck.job.journal_line import Line
from passcheck.job.tags import decode, encode
from passcheck.practice.clock import SteppedClock
from passcheck.practice.manner import drawn_manner
from passcheck.practice.memory import MemoryFiles, MemorySettings, MemoryShelf
from passcheck.practice.visit import TERMINAL, TOOL, WORKS, Workshop, drawn_faults, walked
from passcheck.records.line_codec import encode_line, new_digest

BOARD = "EK-8"
START = datetime(2031, 1, 1, 8, 0, tzinfo=UTC)
VISITS = 12
"""So many are walked; a longer story tells them again under other numbers."""
COUNTED = ("attempt", "run", "rework", "incident", "block", "reference")
"""Members of events that count within one job."""
BETWEEN_MS = 20_000
"""From one event to the next: well under the fifteen minutes of an absence."""


@dataclass(frozen=True, slots=True)
class Mix:
    """How many more events of each kind come with one visit; a visit itself is some 240."""

    looks: int = 0
    notes: int = 0
    jottings: int = 0
    signs_of_life: int = 0


VISITS_ONLY = Mix()
"""Some 590 bytes a line, half of them attempts: the heaviest events there are."""
WEEKS_OF_SOAK = Mix(looks=300, notes=700, jottings=1200, signs_of_life=1400)
"""Some 240 bytes a line: a unit that somebody stays with and looks at, and now and then walks."""


@dataclass(frozen=True)
class _Kept(Workshop):
    """A workshop whose journals can be looked at afterwards."""

    files: list[MemoryFiles] = field(default_factory=list)

    def shop(self, clock: SteppedClock, chance: Callable[[], float]) -> Shop:
        """A shop like any other of practice."""
        self.files.append(MemoryFiles())
        kept, settings = self.files[-1], MemorySettings(self.settings)
        return Shop(
            kept, MemoryShelf(kept), self.boards, settings, clock, lambda: TOOL, TERMINAL, chance,
            in_memory=True, practice=True,
        )  # fmt: skip


@cache
def workshop() -> Workshop:
    """The robot's bench."""
    return workshop_on(Folders(Path("no logs"), demo_boards()), BOARD)


def long_journal(
    events: int,
    mix: Mix,
    *,
    sealed: bool = False,
    job: str = "A31-0001",
    ledger: tuple[int, str] = (0, ""),
) -> Iterator[Line]:
    """The lines of one job with so many events, the last of them a seal where that is asked for.

    `ledger` is the place in the ledger that the job stands on.
    """
    visits = _visits()
    first = visits[0][0]
    assert isinstance(first, happened.JobOpened)
    opening = replace(first, job=job, practice=False, ledger_bytes=ledger[0], ledger_digest=ledger[1])
    story = chain([opening], _told(visits, mix))
    ending = [happened.ReturnedUnrepaired("the owner took it back")] * sealed
    for number, event in enumerate(chain(islice(story, events - sealed), ending)):
        tag, data = encode(event)
        yield Line(number, _at(number), WORKS, 1_000_000 + number * BETWEEN_MS, tag, data)


def encoded(lines: Sequence[Line]) -> Iterator[bytes]:
    """The lines' bytes as a journal has them."""
    running = new_digest()
    for line in lines:
        taken = encode_line(line, running)
        running.update(taken)
        yield taken


def _at(number: int) -> str:
    moment = START + timedelta(milliseconds=number * BETWEEN_MS)
    return f"{moment:%Y-%m-%dT%H:%M:%S}.{moment.microsecond // 1000:03d}Z"


@cache
def _visits() -> tuple[tuple[Event, ...], ...]:
    """What happened in each visit, its opening first and its ending left out."""
    kept = _Kept(workshop().boards, workshop().faults, workshop().settings)
    for number in range(1, VISITS + 1):
        draw = Random(f"1/{number}")  # noqa: S311 - no secret
        board = kept.boards.listed()[0]
        faults = drawn_faults(kept.faults[board.name], draw)
        asyncio.run(walked(kept, board, faults, drawn_manner(draw), draw, number))
    return tuple(
        tuple(decode(line.event, line.data) for line in lines if line.event not in SEALING_EVENTS)
        for files in kept.files
        for lines in files.journals.values()
    )


def _told(visits: Sequence[Sequence[Event]], mix: Mix) -> Iterator[Event]:
    """The visits over and over, each with what lies beside it, and the program started anew before each."""
    before = dict.fromkeys(COUNTED, 0)
    for visit in cycle(visits):
        yield happened.Resumed("boot-1", 0, TOOL, BETWEEN_MS)
        reached = dict(before)
        looks = mix.looks
        for event in visit[1:]:
            numbers = {name: value + before[name] for name, value in _counted(event).items()}
            reached |= {name: max(number, reached[name]) for name, number in numbers.items()}
            yield replace(event, **numbers)  # type: ignore[arg-type]  # each is a member that it has
            if isinstance(event, happened.SoakChecked):
                yield from [event] * looks
                looks = 0
        yield from _beside(visit, mix)
        before = reached


def _counted(event: Event) -> dict[str, int]:
    """The members of an event that count within its job."""
    found = {each.name: getattr(event, each.name) for each in dataclasses.fields(event)}
    return {name: value for name, value in found.items() if name in COUNTED and isinstance(value, int)}


def _beside(visit: Sequence[Event], mix: Mix) -> Iterator[Event]:
    """What needs nobody's decision; each text is another one, as texts of people are."""
    supplies = next(event.supplies for event in visit if isinstance(event, happened.PowerTold))
    for number in range(mix.signs_of_life):
        yield happened.PowerTold("on", supplies[:1], "")
        if number < mix.jottings:
            yield happened.Jotted(f"TP{number % 30}", f"{number % 997 / 100:.2f} V", "M1")
        if number < mix.notes:
            yield happened.NoteAdded(f"Fan at {number % 60} µs of its period, µ-metal shield {number} still warm")
