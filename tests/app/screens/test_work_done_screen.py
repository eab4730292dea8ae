"""All that was done to the unit lies one key from its card."""

import hand
import pytest
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, shown
from rig import Rig

from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.screens.work_done import WorkDoneSheet
from passcheck.job.commands import LogRework


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_every_entry_is_there_to_read_and_hostile_words_stay_words(size: tuple[int, int]) -> None:
    rig = Rig()
    bench = await rig.walk(await rig.job())
    lifted = LogRework("t1", ("PWR",), ("C1", "C2"), "leg lifted", "[red]which one[/red] pulls the rail down?")
    await rig.do(bench, lifted, hand.rework("LAMP", parts=("DS1",)))
    async with at_desk(rig, size) as pilot:
        await press(pilot, *"7Q22051", "enter", "w")
        assert isinstance(pilot.app.screen, WorkDoneSheet)
        matches_sample(pilot, f"work-{size[0]}x{size[1]}")
        assert "[red]which" in shown(pilot)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, TravellerScreen)


async def test_a_unit_that_nothing_was_done_to_says_so() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter", "w")
        assert "nothing" in shown(pilot)
