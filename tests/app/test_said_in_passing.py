"""Where what is said in passing stands: it covers nothing that is needed."""

import hand
import pytest
from at_desk import LARGE, SMALL, at_desk, press, rows, settle
from rig import Rig
from textual.pilot import Pilot

import sequences
from passcheck.app.plain import tell
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.incident import IncidentSlip
from passcheck.bench.bench import Bench

SAID = "On soak: 7Q22052, LATE by 3 min. Rack: F7 on the shelf."


async def at_power(rig: Rig) -> Bench:
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job), hand.passing(bench.job, sequences.GUARD))
    return await rig.power(bench, sequences.RAIL)


def words_of(pilot: Pilot[None]) -> set[str]:
    return {" ".join(row.replace("▌", " ").split()) for row in rows(pilot)}


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_bench_keeps_its_caution_its_verdict_and_its_keys_in_sight(size: tuple[int, int]) -> None:
    rig = Rig()
    bench = await at_power(rig)
    async with at_desk(rig, size) as pilot:
        await pilot.app.push_screen(BenchScreen(bench, dwell_s=0))
        await settle(pilot)
        await press(pilot, *"5.01", "enter")
        before = words_of(pilot)
        tell(pilot.app, SAID, "warning")
        await settle(pilot)
        await pilot.pause(0.1)  # lines of their own are laid out with the next drawing
        now = words_of(pilot)
        assert SAID in now
        assert before <= now


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_a_slip_keeps_its_fields_and_its_button_in_sight(size: tuple[int, int]) -> None:
    rig = Rig()
    bench = await at_power(rig)
    async with at_desk(rig, size) as pilot:
        slip = IncidentSlip(bench)
        await pilot.app.push_screen(slip)
        await settle(pilot)
        tell(pilot.app, SAID, "warning")
        await settle(pilot)
        await pilot.pause(0.1)  # lines of their own are laid out with the next drawing
        assert SAID in words_of(pilot)
        button = slip.query_one("#keep").region
        foot = next(place for place, row in enumerate(rows(pilot)) if SAID in row)
        assert button.y < foot
        assert any("(F4)" in row for row in rows(pilot))
