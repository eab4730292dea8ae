"""A newcomer at the practice screens of a bench in memory, whose units are simulated."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from at_desk import SMALL, settle
from rig import Rig
from textual.pilot import Pilot

import passcheck.practice
from passcheck.app.app import PasscheckApp
from passcheck.app.practice_desk import PracticeDesk
from passcheck.practice.at_the_bench import PracticeBench
from passcheck.practice.fault_list import FaultList, read_fault_list
from passcheck.sequence.load import read_sequence
from passcheck.sequence.model import Sequence

UNITS = Path(passcheck.practice.__file__).parent / "units"
BOARDS = Path(__file__).parents[2] / "sequences"


def board(name: str) -> Sequence:
    """A demo board's whole sequence."""
    return read_sequence((BOARDS / f"{name}.yaml").read_text(encoding="utf-8"), name)


def faults(sequence: Sequence) -> FaultList:
    """What the practice units of a board can have; nothing where no list lies there."""
    path = UNITS / f"{sequence.sequence.lower()}.yaml"
    if not path.exists():
        return FaultList(sequence.sequence, (), ())
    return read_fault_list(path.read_text(encoding="utf-8"), path.name, sequence)


def practice_desk(rig: Rig, *, coach: bool = True) -> PracticeDesk:
    """The simulated units over the rig's clock."""
    return PracticeDesk(PracticeBench(faults), lambda minutes: rig.clock.pass_time(minutes=minutes), coach)


@asynccontextmanager
async def at_practice(
    rig: Rig, size: tuple[int, int] = SMALL, *, coach: bool = True, person: str = "t1"
) -> AsyncIterator[Pilot[None]]:
    """The program over the rig's shop, for practice."""
    app = PasscheckApp(rig.shop, rig.settings.current, practice_desk(rig, coach=coach))
    app.person = person
    async with app.run_test(size=size, notifications=True) as pilot:
        await settle(pilot)
        yield pilot
