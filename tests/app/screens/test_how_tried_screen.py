"""Conditions and a witness are chosen once and go with the tries that follow."""

import hand
from at_desk import SMALL, at_desk, press, settle, shown, type_in
from rig import Rig
from textual.pilot import Pilot

import sequences
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.how_tried import HowTriedSlip
from passcheck.bench.bench import Bench
from passcheck.job.commands import MapComplaint
from passcheck.job.events import Purpose
from sequences import GUARD, LAMPS, RAIL


async def at_step(pilot: Pilot[None], bench: Bench, step: str) -> None:
    await pilot.app.push_screen(BenchScreen(bench, step, dwell_s=0))
    await settle(pilot)


async def ready(rig: Rig, step: str, purpose: Purpose = "as-found") -> Bench:
    bench = await rig.job()
    await rig.do(bench, MapComplaint("t1", ("rail-low",)), hand.start(bench.job, purpose))
    await rig.do(bench, hand.passing(bench.job, GUARD))
    return await rig.power(bench, step)


async def test_a_step_that_shows_the_complaint_says_what_is_still_to_be_tried() -> None:
    rig = Rig()
    bench = await ready(rig, RAIL)
    async with at_desk(rig, SMALL) as pilot:
        await at_step(pilot, bench, RAIL)
        assert "to try: warm (Ctrl+N)" in shown(pilot)


async def test_what_is_ticked_and_written_goes_with_the_try() -> None:
    rig = Rig()
    bench = await ready(rig, RAIL)
    async with at_desk(rig, SMALL) as pilot:
        await at_step(pilot, bench, RAIL)
        await press(pilot, "ctrl+n", "space", "tab")
        await type_in(pilot, "16 V, tapped")
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, BenchScreen)
        assert "UNDER warm, 16 V, tapped" in " ".join(shown(pilot).replace("▌", " ").split())
        await type_in(pilot, "5.00 V")
        await press(pilot, "enter")
        assert bench.job.attempts[-1].conditions == ("warm", "16 V", "tapped")


async def test_escape_leaves_it_as_it_was() -> None:
    rig = Rig()
    bench = await ready(rig, RAIL)
    async with at_desk(rig, SMALL) as pilot:
        await at_step(pilot, bench, RAIL)
        await press(pilot, "ctrl+n", "space", "escape")
        assert "UNDER" not in shown(pilot)


async def test_a_witness_is_somebody_else_whom_the_bench_knows() -> None:
    rig = Rig(sequences.with_witness())
    bench = await ready(rig, LAMPS, "acceptance")
    async with at_desk(rig, SMALL) as pilot:
        await at_step(pilot, bench, LAMPS)
        assert "name them (Ctrl+N)" in " ".join(shown(pilot).replace("▌", " ").split())
        await press(pilot, "ctrl+n", "tab", "tab")
        for typed, words in (("t1", "The second person is the one who tests"), ("t2", "seen by t2")):
            field = pilot.app.screen.query_one("#second")
            field.value = typed  # type: ignore[attr-defined]
            await press(pilot, "f4")
            assert words in " ".join(shown(pilot).replace("▌", " ").split())
        assert not isinstance(pilot.app.screen, HowTriedSlip)


async def test_a_sign_of_life_keeps_power_as_it_was_told() -> None:
    rig = Rig()
    bench = await ready(rig, RAIL)
    async with at_desk(rig, SMALL) as pilot:
        await at_step(pilot, bench, RAIL)
        screen = pilot.app.screen
        assert isinstance(screen, BenchScreen)
        rig.clock.pass_time(minutes=11)
        screen.look_again()
        await settle(pilot)
        assert "Still at the bench? Ctrl+Y says so. Without any entry power counts as unknown in 4 min." in " ".join(
            shown(pilot).replace("▌", " ").split()
        )
        await press(pilot, "ctrl+y")
        rig.clock.pass_time(minutes=9)
        await type_in(pilot, "5.00 V")
        await press(pilot, "enter")
        assert bench.job.attempts[-1].step == RAIL
