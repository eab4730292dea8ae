"""A reading off a sheet of paper is entered with its own time, and marked as late."""

import hand
from at_desk import at_desk, press, settle, shown, type_in
from rig import Rig
from textual.pilot import Pilot

from passcheck.app.screens.bench import BenchScreen
from passcheck.bench.bench import Bench
from sequences import GUARD, LAMPS, RAIL


async def on_paper(rig: Rig, step: str) -> Bench:
    """Power was told on for a step, then the laptop was away for an hour; the rail was read meanwhile, at 10:02."""
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job), hand.passing(bench.job, GUARD))
    await rig.power(bench, step)
    rig.clock.pass_time(minutes=60)
    return bench


async def slip_at(pilot: Pilot[None], bench: Bench, step: str) -> None:
    await pilot.app.push_screen(BenchScreen(bench, step, dwell_s=0))
    await settle(pilot)
    await press(pilot, "ctrl+s")


async def give(pilot: Pilot[None], *texts: str) -> None:
    for text in texts:
        await type_in(pilot, text)
        await press(pilot, "enter")


async def test_a_reading_off_paper_is_kept_with_the_time_it_was_read() -> None:
    rig = Rig()
    bench = await on_paper(rig, RAIL)
    async with at_desk(rig) as pilot:
        await slip_at(pilot, bench, RAIL)
        assert "LATE ENTRY: 5 V logic rail" in shown(pilot)
        await give(pilot, "5.01", "", "10:02")
        assert "LATE ENTRY" not in shown(pilot)
    kept = bench.job.attempts[-1]
    assert (kept.step, kept.judgement.verdict) == (RAIL, "pass")
    assert kept.measured_at == "2031-04-02T08:02:00+00:00"
    assert kept.moment.utc.hour == 9


async def test_out_of_its_limits_it_is_asked_for_once_more_and_then_kept_as_a_fail() -> None:
    rig = Rig()
    bench = await on_paper(rig, RAIL)
    async with at_desk(rig) as pilot:
        await slip_at(pilot, bench, RAIL)
        await give(pilot, "4.20", "", "10:02")
        assert "Outside its limits." in shown(pilot)
        assert bench.job.attempts[-1].step == GUARD
        await give(pilot, "4.20", "", "10:02")
    kept = bench.job.attempts[-1]
    assert (kept.judgement.verdict, kept.typed_twice, bool(kept.measured_at)) == ("fail", True, True)


async def test_a_time_at_which_power_was_not_told_on_is_refused_and_nothing_is_lost() -> None:
    rig = Rig()
    bench = await rig.job()
    rig.clock.pass_time(minutes=5)
    await rig.do(bench, hand.start(bench.job), hand.passing(bench.job, GUARD))
    rig.clock.pass_time(minutes=10)
    async with at_desk(rig) as pilot:
        await slip_at(pilot, bench, RAIL)
        await give(pilot, "5.01", "", "10:06")
        assert "Supply battery was not told on at that time." in shown(pilot)
        assert "5.01" in shown(pilot)
        await press(pilot, "escape")
    assert bench.job.attempts[-1].step == GUARD


async def test_what_is_no_reading_is_walked_and_never_entered_late() -> None:
    rig = Rig()
    bench = await on_paper(rig, LAMPS)
    async with at_desk(rig) as pilot:
        await slip_at(pilot, bench, LAMPS)
        assert isinstance(pilot.app.screen, BenchScreen)
        assert "Only readings may be entered late." in shown(pilot)
