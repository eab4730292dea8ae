"""Every attempt at a step: all that is kept of one can be read, in a small window too."""

import hand
from at_desk import SMALL, at_desk, press, settle, shown
from rig import Rig

import sequences
from passcheck.app.screens.attempts import AttemptsScreen
from passcheck.job.commands import AddNote


async def test_the_conditions_of_an_attempt_are_told() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job, "as-found"))
    await rig.walk_step(bench, sequences.GUARD)
    await rig.walk_step(bench, sequences.RAIL, under=("warm", "16 V"))
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(AttemptsScreen(bench, sequences.RAIL))
        await settle(pilot)
        assert "warm, 16 V" in shown(pilot)


async def test_what_is_longer_than_the_window_is_read_by_key_and_another_attempt_begins_at_its_top() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job))
    await rig.walk_step(bench, sequences.GUARD)
    await rig.walk_step(bench, sequences.GUARD)
    notes = (AddNote("t1", f"note {number}: the probe was set down anew", sequences.GUARD) for number in range(20))
    await rig.do(bench, *notes)
    async with at_desk(rig, SMALL) as pilot:
        await pilot.app.push_screen(AttemptsScreen(bench, sequences.GUARD))
        await settle(pilot)
        assert "Who, when" in shown(pilot)
        assert "note 19" not in shown(pilot)
        await press(pilot, *["pagedown"] * 6)
        assert "note 19" in shown(pilot)
        await press(pilot, "pageup")
        assert "note 19" not in shown(pilot)
        await press(pilot, "down")
        assert "Who, when" in shown(pilot)
