"""A newer file of the sequence is told on the traveller, and a job goes on under it only knowingly."""

from at_desk import at_desk, matches_sample, press, shown, type_in
from rig import Rig

import sequences
from passcheck.app.screens.revise import ReviseSlip
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.bench.bench import Bench


async def walked_and_newer() -> tuple[Rig, Bench]:
    rig = Rig()
    bench = await rig.walk(await rig.job())
    rig.boards.put(sequences.changed_step(sequences.RAIL, changed_in=2).model_copy(update={"revision": 2}))
    return rig, bench


async def test_the_difference_is_shown_and_the_job_goes_on_under_the_new_text() -> None:
    rig, bench = await walked_and_newer()
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter")
        said = " ".join(shown(pilot).split())
        assert "Today's file of LB-3 is another than this job's: 1 of this job's steps changed in it." in said
        await press(pilot, "ctrl+r")
        assert isinstance(pilot.app.screen, ReviseSlip)
        matches_sample(pilot, "revise-80x24")
        assert "1 result goes stale." in shown(pilot)
        assert "Marked as changed: 5 V logic rail" in shown(pilot)
        await press(pilot, "f4")
        assert "A new revision needs its reason." in " ".join(shown(pilot).split())
        await type_in(pilot, "limits mended")
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, TravellerScreen)
        assert "rev 2" in shown(pilot)
        assert "Today's file" not in shown(pilot)
        await press(pilot, "w")
        assert "new revision 2: limits mended" in shown(pilot)
    assert bench.job.sequence.revision == 2


async def test_without_another_file_the_key_says_so() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter", "ctrl+r")
        assert isinstance(pilot.app.screen, TravellerScreen)
        assert "Today's file is the one this job already uses." in shown(pilot)


async def test_without_any_file_the_key_says_so_too() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter")
        rig.boards.take_away("LB-3")
        await press(pilot, "ctrl+r")
        assert "The folder has no usable file of LB-3 today." in shown(pilot)
