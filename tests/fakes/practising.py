"""A newcomer at the practice screens of a bench in memory, whose units are simulated."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from at_desk import SMALL, settle
from rig import TERMINAL, Rig
from textual.pilot import Pilot

from passcheck.app.app import PasscheckApp
from passcheck.app.practice_desk import PracticeDesk
from passcheck.app.widgets.practice_line import PracticeLine
from passcheck.bench.shop import Shop
from passcheck.practice.at_the_bench import PracticeBench
from passcheck.practice.lists import list_for
from passcheck.practice.memory import MemoryShelf
from passcheck.practice.sheet import ShortSoak, short_sheet
from passcheck.sequence.load import read_sequence
from passcheck.sequence.model import Sequence

BOARDS = Path(__file__).parents[2] / "sequences"
PANEL = "ov-24p"


def text_of(name: str) -> str:
    """A demo board's file."""
    return (BOARDS / f"{name}.yaml").read_text(encoding="utf-8")


def whole(name: str = PANEL) -> Sequence:
    """A demo board's whole sequence."""
    return read_sequence(text_of(name), name)


def sheet_of(name: str = PANEL) -> str:
    """A demo board's short practice sheet."""
    return short_sheet(text_of(name), list_for(whole(name)).short or None, ShortSoak())


def practice_bench(name: str = PANEL) -> PracticeBench:
    """The units of one demo board."""
    faults = list_for(whole(name))
    return PracticeBench(lambda _sheet: faults)


class PracticeRig(Rig):
    """A bench in memory whose jobs are all practice."""

    def _new_shop(self) -> Shop:
        shelf, chance = MemoryShelf(self.files), self.chance
        return Shop(
            self.files, shelf, self.boards, self.settings, self.clock, lambda: "passcheck test", TERMINAL, chance,
            practice=True,
        )  # fmt: skip


@asynccontextmanager
async def at_practice(
    rig: Rig, size: tuple[int, int] = SMALL, *, coach: bool = True, person: str = "t1"
) -> AsyncIterator[Pilot[None]]:
    """The program over the rig's shop, for practice."""
    desk = PracticeDesk(practice_bench(), lambda minutes: rig.clock.pass_time(minutes=minutes), coach)
    app = PasscheckApp(rig.shop, rig.settings.current, desk)
    app.person = person
    async with app.run_test(size=size, notifications=True) as pilot:
        await settle(pilot)
        yield pilot


def line(pilot: Pilot[None]) -> str:
    """What the practice line of the screen on top says now."""
    found = pilot.app.screen.query_one(PracticeLine)
    found.paint()
    return str(found.said)
