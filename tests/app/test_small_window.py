"""A window made too small and large again: nothing typed is lost and the next key goes where the last one went."""

from pathlib import Path

import hand
import pytest
from at_desk import SMALL, at_desk, press, settle, shown, type_in
from rig import Rig
from textual.pilot import Pilot

import sequences
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.jot import JotSlip
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.who import Who
from passcheck.app.widgets.typed import Slot
from passcheck.bench.bench import Bench
from passcheck.job.plan import plan

TOO_SMALL = "passcheck needs 60 columns and 18 lines"
BOARD = Path(__file__).parents[2] / "sequences" / "ov-24p.yaml"


async def on_the_bench(rig: Rig) -> Bench:
    bench = await rig.job()
    return await rig.do(bench, hand.start(bench.job))


async def resize(pilot: Pilot[None], width: int, height: int) -> None:
    await pilot.resize_terminal(width, height)
    await settle(pilot)


@pytest.mark.parametrize("size", [(50, 24), (80, 12)])
async def test_after_a_window_too_small_the_cursor_is_back_in_the_half_typed_entry(size: tuple[int, int]) -> None:
    rig = Rig()
    bench = await on_the_bench(rig)
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(BenchScreen(bench, dwell_s=0))
        await settle(pilot)
        await type_in(pilot, "12")
        await resize(pilot, *size)
        assert TOO_SMALL in " ".join(shown(pilot).split())
        unseen = pilot.app.focused
        assert unseen is None
        await resize(pilot, *SMALL)
        assert isinstance(pilot.app.focused, Slot)
        await press(pilot, "k", "enter")
        assert [(one.step, one.judgement.verdict) for one in bench.job.attempts] == [(sequences.GUARD, "pass")]


async def test_a_sheet_laid_over_a_screen_says_that_the_window_is_too_small_and_gets_its_cursor_back() -> None:
    rig = Rig()
    bench = await on_the_bench(rig)
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(JotSlip(bench))
        await settle(pilot)
        await press(pilot, "tab")
        before = pilot.app.focused
        await resize(pilot, 50, 24)
        assert TOO_SMALL in " ".join(shown(pilot).split())
        await resize(pilot, *SMALL)
        assert before is not None
        assert pilot.app.focused is before


async def test_who_is_asked_in_a_window_too_small_is_answered_once_it_is_larger() -> None:
    async with at_desk(Rig(), (50, 24), person="") as pilot:
        assert isinstance(pilot.app.screen, Who)
        assert TOO_SMALL in " ".join(shown(pilot).split())
        await resize(pilot, *SMALL)
        await press(pilot, "down", "enter")
        assert "Second technician" in shown(pilot)


async def test_make_safe_called_in_a_window_too_small_takes_its_reading_once_it_is_larger() -> None:
    rig = Rig()
    bench = await on_the_bench(rig)
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(BenchScreen(bench, dwell_s=0))
        await settle(pilot)
        await resize(pilot, 50, 24)
        await press(pilot, "f8")
        await resize(pilot, *SMALL)
        assert isinstance(pilot.app.screen, MakeSafeScreen)
        assert isinstance(pilot.app.focused, Slot)


@pytest.mark.parametrize("size", [(60, 18), (60, 20), (80, 18)])
async def test_in_the_smallest_window_the_entry_is_in_sight_beneath_long_words_and_the_last_verdict(
    size: tuple[int, int],
) -> None:
    rig = Rig(BOARD.read_text(encoding="utf-8"))
    bench = await rig.job()
    await rig.make_safe(bench)
    await rig.do(bench, hand.start(bench.job))
    while (step := plan(bench.job)[0].step.id) != "a09-high":
        await rig.walk_step(bench, step)
    await rig.do(bench, *hand.answers_to_cautions(bench.job, step, "t1", bench.moment()))
    async with at_desk(rig, size) as pilot:
        await pilot.app.push_screen(BenchScreen(bench, dwell_s=0))
        await settle(pilot)
        await press(pilot, *"5.01", "enter")
        assert bench.job.attempts[-1].step == step
        rows = shown(pilot).splitlines()
        assert any("Reading  K" in row for row in rows), rows
        assert any("CAUTION" in row for row in rows)
        assert any("is inside" in row for row in rows)
