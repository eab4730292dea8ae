"""A run begins with the unit in hand, and with what the day has carried over."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import date
from pathlib import Path

import hand
import pytest
import rig as rigs
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, settle, shown, type_in
from rig import Rig
from tapping import TapHand
from textual.pilot import Pilot

import sequences
from passcheck.app.screens.run_start import RunStartScreen
from passcheck.app.widgets.fields import Fields
from passcheck.app.widgets.job_head import head
from passcheck.bench.bench import Bench
from passcheck.job.commands import CloseRun, MapComplaint
from passcheck.job.kept_block import KeptBlock
from passcheck.job.plan import plan
from passcheck.sequence.load import read_sequence
from passcheck.sequence.model import Sequence


@asynccontextmanager
async def starting(
    sequence: Sequence | None = None, *, carried: bool = False, size: tuple[int, int] = SMALL, by: str = "t1"
) -> AsyncIterator[tuple[Rig, Bench, Pilot[None], RunStartScreen]]:
    rig = Rig(sequence or sequences.sequence())
    bench = await rig.job()
    if carried:
        rig.shop.carry({"voltmeter": "M2", "ohmmeter": "M2"}, "21.5")
    async with at_desk(rig, size, by) as pilot:
        screen = RunStartScreen(bench)
        await pilot.app.push_screen(screen)
        await settle(pilot)
        yield rig, bench, pilot, screen


def begun(bench: Bench) -> bool:
    return bench.job.open_run is not None


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_with_what_was_carried_over_the_serial_and_one_enter_start_the_run(size: tuple[int, int]) -> None:
    async with starting(carried=True, size=size) as (_, bench, pilot, _screen):
        await type_in(pilot, rigs.SERIAL)
        await press(pilot, "enter")
        run = bench.job.open_run
        assert run is not None
        assert run.purpose == "as-found"
        assert run.facts.ambient_c == "21.5"
        assert {(one.role, one.instrument) for one in run.facts.instruments} == {
            ("voltmeter", "M2"),
            ("ohmmeter", "M2"),
        }


async def test_the_first_run_of_the_day_asks_for_the_ambient_once() -> None:
    async with starting() as (rig, bench, pilot, _screen):
        await type_in(pilot, rigs.SERIAL)
        await press(pilot, "enter")
        assert not begun(bench)
        await type_in(pilot, "22")
        await press(pilot, "enter")
        assert begun(bench)
        assert rig.shop.carried().ambient_c == "22"


async def test_another_unit_is_refused_and_the_slip_stays() -> None:
    async with starting(carried=True) as (_, bench, pilot, screen):
        await type_in(pilot, "7Q22052")
        await press(pilot, "enter")
        assert not begun(bench)
        assert "7Q22052" in shown(pilot)
        assert "Fetch the right unit" in " ".join(shown(pilot).split())
        assert pilot.app.screen is screen


async def test_an_overdue_meter_is_said_in_words_before_the_run_begins() -> None:
    async with starting() as (rig, bench, pilot, _screen):
        rig.shop.carry({"voltmeter": "OLD"}, None)
        await pilot.app.push_screen(RunStartScreen(bench))
        await settle(pilot)
        assert "OVERDUE since 2031-04-01" in shown(pilot)


async def test_a_meter_that_the_bench_doesn_t_have_is_not_taken() -> None:
    async with starting(carried=True) as (_, bench, pilot, screen):
        slot = screen.query_one(Fields).slots[1]
        slot.focus()
        slot.value = "M77"
        await press(pilot, "enter")
        assert "is no instrument here" in shown(pilot)
        assert not begun(bench)


async def test_a_hazardous_live_sequence_asks_for_the_second_person() -> None:
    async with starting(sequences.hazardous_live(), carried=True, by="k9") as (_, bench, pilot, _screen):
        await type_in(pilot, rigs.SERIAL)
        await press(pilot, "enter")
        assert not begun(bench)
        await type_in(pilot, "t1")
        await press(pilot, "enter")
        assert bench.job.open_run is not None
        assert bench.job.open_run.facts.second == "t1"


@pytest.mark.parametrize(("named", "kept"), [("t2", "t2"), ("", None)])
async def test_a_sequence_with_a_witness_asks_who_it_is_and_takes_nobody(named: str, kept: str | None) -> None:
    async with starting(sequences.with_witness(), carried=True) as (_, bench, pilot, _screen):
        await type_in(pilot, rigs.SERIAL)
        await press(pilot, "enter")
        assert not begun(bench)
        assert "Second person, as witness" in shown(pilot)
        await type_in(pilot, named)
        await press(pilot, "enter")
        assert bench.job.open_run is not None
        assert bench.job.open_run.facts.second == kept


async def test_the_purpose_is_offered_and_can_be_changed() -> None:
    async with starting(carried=True) as (_, bench, pilot, _screen):
        assert "AS-FOUND" in shown(pilot)
        await press(pilot, "f2", "f2")
        assert "ACCEPTANCE" in shown(pilot)
        await type_in(pilot, rigs.SERIAL)
        await press(pilot, "enter")
        assert bench.job.open_run is not None
        assert bench.job.open_run.purpose == "acceptance"


async def test_after_a_rework_a_retest_is_offered() -> None:
    rig = Rig(sequences.sequence())
    bench = await rig.job()
    await rig.walk(bench, "as-found")
    await rig.do(bench, hand.rework("PWR", parts=("C1", "C2")))
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(RunStartScreen(bench))
        await settle(pilot)
        await type_in(pilot, rigs.SERIAL)
        await press(pilot, "enter")
        await type_in(pilot, "22")
        await press(pilot, "enter")
    assert bench.job.open_run is not None
    assert bench.job.open_run.purpose == "retest"


async def low_rail(rig: Rig) -> Bench:
    """Dim as found, the supply reworked since."""
    bench = await rig.job()
    await rig.do(bench, MapComplaint("t1", ("rail-low",)), hand.start(bench.job, "as-found"))
    await rig.do(bench, hand.passing(bench.job, sequences.GUARD))
    await rig.power(bench, sequences.RAIL)
    await rig.do(bench, hand.failing(bench.job, sequences.RAIL))
    await rig.make_safe(bench)
    await rig.do(bench, CloseRun("t1"), hand.rework("PWR", parts=("C1", "C2")))
    rig.shop.carry({"voltmeter": "M2", "ohmmeter": "M2"}, "21.5")
    return bench


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_every_choice_says_what_it_walks_and_how_long_that_takes(size: tuple[int, int]) -> None:
    rig = Rig(sequences.with_soak())
    bench = await low_rail(rig)
    async with at_desk(rig, size) as pilot:
        await pilot.app.push_screen(RunStartScreen(bench))
        await settle(pilot)
        matches_sample(pilot, f"run-start-{size[0]}x{size[1]}")
        for words in ("RETEST AGAIN", "BURN-IN", "GOOD-UNIT", "2 steps, 2 min", "3 steps, 3 min"):
            assert words in shown(pilot)


async def test_the_failed_symptom_is_walked_again_alone() -> None:
    rig = Rig(sequences.with_soak())
    bench = await low_rail(rig)
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(RunStartScreen(bench))
        await settle(pilot)
        await press(pilot, "f2")
        await type_in(pilot, rigs.SERIAL)
        await press(pilot, "enter")
    run = bench.job.open_run
    assert run is not None
    assert (run.purpose, run.facts.again) == ("retest", True)
    assert [one.step.id for one in plan(bench.job)] == [sequences.GUARD, sequences.RAIL]


async def test_a_good_unit_is_asked_for_by_its_own_serial() -> None:
    async with starting(carried=True) as (_, bench, pilot, screen):
        while "Serial of the good unit" not in shown(pilot):
            await press(pilot, "f2")
        await type_in(pilot, rigs.SERIAL)
        await press(pilot, "enter")
        assert "is the unit under repair" in " ".join(shown(pilot).split())
        screen.query_one(Fields).slots[0].value = "7Q22052"
        await press(pilot, "enter")
        run = bench.job.open_run
        assert run is not None
        assert (run.purpose, run.facts.serial_scanned) == ("good-unit", "7Q22052")
        assert "run 1 good-unit reads 7Q22052" in head(bench.job, bench.moment(), "t1").plain


async def test_a_purpose_is_chosen_by_a_click_too() -> None:
    async with starting(carried=True) as (_, bench, pilot, screen):
        await pilot.click("#purpose", offset=(4, 2))
        await settle(pilot)
        assert pilot.app.focused is screen.query_one(Fields).slots[0]
        await type_in(pilot, rigs.SERIAL)
        await press(pilot, "enter")
        assert bench.job.open_run is not None
        assert bench.job.open_run.purpose == "acceptance"


def test_the_rig_s_old_meter_is_overdue_on_the_rig_s_day() -> None:
    assert rigs.settings().instruments["OLD"].due < date(2031, 4, 2)


async def test_a_run_says_which_reference_trials_it_will_ask_for_and_why() -> None:
    board = (Path(__file__).parents[2] / "samples" / "tap-board.yaml").read_text("utf-8")
    async with starting(read_sequence(board, "tap-board.yaml")) as (rig, bench, pilot, screen):
        said = " ".join(shown(pilot).replace("▌", " ").replace("▐", " ").split())
        assert "TAPS 20 reference trials for limits of 0.5 s to 0.6 s (sw1, sw2): a hand alone is too slow" in said
        block = TapHand(1).block(0.55)
        day = bench.moment().local().date().isoformat()
        rig.settings.keep_block(KeptBlock("t1", day, day, rigs.TERMINAL, block.middle_s, block.trials, block.how))
        screen.action_purpose()
        await settle(pilot)
        said = " ".join(shown(pilot).replace("▌", " ").replace("▐", " ").split())
        assert "Today's block serves: 5 trials check it." in said
