"""The ranking of suspects on the bench and on the traveller: read, walked on from, and never in the way."""

import hand
import pytest
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, settle, shown, type_in
from rig import Rig
from textual.pilot import Pilot
from textual.widgets import Button

import sequences
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.run_start import RunStartScreen
from passcheck.app.screens.suspects import SuspectsSlip
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.bench.bench import Bench
from passcheck.bench.past_repairs import PastRepairs
from passcheck.errors import BenchFailed
from passcheck.job.commands import CloseRun, LogRework, SignOff
from passcheck.job.confirmed import Confirmed
from sequences import GUARD, LAMPS, RAIL


async def dim(rig: Rig, serial: str = "7Q22051") -> Bench:
    """As found the rail is low and the lamps weren't looked at yet."""
    bench = await rig.job(serial=serial)
    await rig.do(bench, hand.start(bench.job, "as-found"))
    await rig.walk_step(bench, GUARD)
    await rig.power(bench, RAIL)
    return await rig.do(bench, hand.failing(bench.job, RAIL))


async def mended_before(rig: Rig, serial: str) -> None:
    """Another unit of the board that left signed off after its supply was reworked."""
    bench = await dim(rig, serial)
    await rig.make_safe(bench)
    await rig.do(bench, CloseRun("t1"), LogRework("t1", ("PWR",), ("F1",), "replaced", "tarnished"))
    await rig.do(await rig.walk(bench), SignOff("t1", serial))


async def ranked(pilot: Pilot[None]) -> SuspectsSlip:
    """The slip once its journals are read."""
    busy = [worker for worker in pilot.app.workers if worker.group == "suspects"]
    await pilot.app.workers.wait_for_complete(busy)
    await settle(pilot)
    assert isinstance(pilot.app.screen, SuspectsSlip)
    return pilot.app.screen


async def asked_on_the_bench(pilot: Pilot[None], bench: Bench) -> SuspectsSlip:
    await pilot.app.push_screen(BenchScreen(bench))
    await press(pilot, "ctrl+f")
    return await ranked(pilot)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_suspects_their_evidence_and_the_next_step_stand_on_one_slip(size: tuple[int, int]) -> None:
    rig = Rig()
    async with at_desk(rig, size) as pilot:
        await asked_on_the_bench(pilot, await dim(rig))
        matches_sample(pilot, f"suspects-{size[0]}x{size[1]}")
        words = " ".join(shown(pilot).split())
        for piece in (
            "SUSPECTS",
            "A help and no verdict",
            "NEXT Telltales, each alone: ",
            "Suspect 1: PWR (Supply), ",
            "5 V logic rail failed (+",
            "Suspect 2: ",
            "To that step (Enter)",
        ):
            assert piece in words
        assert "%" not in words


async def test_arrows_read_on_to_what_it_assumes() -> None:
    rig = Rig()
    async with at_desk(rig) as pilot:
        await asked_on_the_bench(pilot, await dim(rig))
        await press(pilot, "end")
        words = " ".join(shown(pilot).split())
        assert "BENCH stands for leads, dummies and supply" in words
        assert "No confirmed repair of LB-3 is known" in words


async def test_enter_goes_to_the_proposed_step_on_the_bench_and_escape_stays() -> None:
    rig = Rig()
    async with at_desk(rig) as pilot:
        bench = await dim(rig)
        await asked_on_the_bench(pilot, bench)
        await press(pilot, "escape")
        screen = pilot.app.screen
        assert isinstance(screen, BenchScreen)
        await press(pilot, "pagedown", "pagedown", "ctrl+f")
        await ranked(pilot)
        await press(pilot, "enter")
        assert screen.is_current
        assert screen.step is not None
        assert screen.step.id == LAMPS


async def test_the_button_does_what_enter_does() -> None:
    rig = Rig()
    async with at_desk(rig) as pilot:
        slip = await asked_on_the_bench(pilot, await dim(rig))
        slip.query_one(Button).press()
        await settle(pilot)
        assert isinstance(pilot.app.screen, BenchScreen)


async def test_what_is_half_typed_on_the_bench_is_not_thrown_away() -> None:
    rig = Rig()
    async with at_desk(rig) as pilot:
        bench = await dim(rig)
        await pilot.app.push_screen(BenchScreen(bench, RAIL))
        await settle(pilot)
        await type_in(pilot, "4.9")
        await press(pilot, "ctrl+f")
        await ranked(pilot)
        await press(pilot, "enter")
        assert "An entry is half typed." in shown(pilot)
        assert "4.9" in shown(pilot)


async def test_without_a_fail_a_sentence_stands_there_and_enter_does_nothing() -> None:
    rig = Rig()
    async with at_desk(rig) as pilot:
        bench = await rig.job()
        await rig.do(bench, hand.start(bench.job, "as-found"))
        await asked_on_the_bench(pilot, bench)
        assert "No fail stands in run 1 (as-found)" in shown(pilot)
        assert "To that step" not in shown(pilot)
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, SuspectsSlip)


async def test_the_traveller_opens_it_with_the_same_key_and_enter_takes_the_step_to_the_bench() -> None:
    rig = Rig()
    await dim(rig)
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter")
        assert isinstance(pilot.app.screen, TravellerScreen)
        await press(pilot, "ctrl+f")
        await ranked(pilot)
        await press(pilot, "enter")
        screen = pilot.app.screen
        assert isinstance(screen, BenchScreen)
        assert screen.step is not None
        assert screen.step.id == LAMPS


async def test_from_the_traveller_a_run_is_started_first_where_none_is_open() -> None:
    rig = Rig()
    bench = await dim(rig)
    await rig.make_safe(bench)
    await rig.do(bench, CloseRun("t1"))
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter", "ctrl+f")
        await ranked(pilot)
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, RunStartScreen)


async def test_earlier_repairs_of_the_board_refine_it() -> None:
    rig = Rig()
    for serial in ("7Q22061", "7Q22062"):
        await mended_before(rig, serial)
    async with at_desk(rig, (100, 60)) as pilot:
        await asked_on_the_bench(pilot, await dim(rig))
        assert "2 confirmed repair(s) in 2 signed-off job(s) of LB-3" in " ".join(shown(pilot).split())


async def test_a_damaged_journal_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    rig = Rig()
    async with at_desk(rig, (100, 60)) as pilot:
        one_damaged = PastRepairs(Confirmed("LB-3"), ("A31-0009",))
        monkeypatch.setattr(rig.shop, "past_repairs", lambda _board: one_damaged)
        await asked_on_the_bench(pilot, await dim(rig))
        assert "couldn't be read: A31-0009." in " ".join(shown(pilot).split())


async def test_a_disk_that_refuses_leaves_the_ranking_without_the_past(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuses(_board: str) -> PastRepairs:
        raise BenchFailed("No rights to read the folder.")

    rig = Rig()
    async with at_desk(rig, (100, 60)) as pilot:
        monkeypatch.setattr(rig.shop, "past_repairs", refuses)
        await asked_on_the_bench(pilot, await dim(rig))
        words = " ".join(shown(pilot).split())
        assert "Earlier repairs couldn't be read: No rights to read the folder." in words
        assert "Suspect 1: PWR (Supply)" in words


async def test_make_safe_works_from_it() -> None:
    rig = Rig()
    async with at_desk(rig) as pilot:
        await asked_on_the_bench(pilot, await dim(rig))
        await press(pilot, "f8")
        assert isinstance(pilot.app.screen, MakeSafeScreen)


async def test_a_title_from_a_file_does_not_act_on_the_slip() -> None:
    blocks = {**sequences.BASE["blocks"], "PWR": {"title": "[red]Supply[/] \x1b[2J", "feeds": ["LAMP"]}}
    rig = Rig(sequences.sequence(blocks=blocks))
    async with at_desk(rig, (100, 60)) as pilot:
        await asked_on_the_bench(pilot, await dim(rig))
        assert "PWR ([red]Supply[/] " in shown(pilot)
        assert "\x1b" not in shown(pilot)
