"""The practice line on the screens of a bench in memory: what it says, what its keys do; work has none of it."""

from typing import Any

import hand
import pytest
import soaking
from at_desk import LARGE, SMALL, at_desk, press, rows, settle, shown, type_in
from practising import PracticeRig, at_practice, line, sheet_of
from rig import Rig
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widget import Widget

from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.caution import CautionScreen
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.power_on import PowerOnScreen
from passcheck.app.screens.rack import RackScreen
from passcheck.app.screens.rework import ReworkScreen
from passcheck.app.screens.run_start import RunStartScreen
from passcheck.app.screens.sign_off import SignOffScreen
from passcheck.app.screens.soak import LookSlip
from passcheck.app.screens.supply_read import SupplyReadScreen
from passcheck.app.screens.tap_trials import TapTrialsScreen
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.widgets.fields import Fields
from passcheck.app.widgets.practice_line import PracticeLine
from passcheck.app.widgets.typed import Slot
from passcheck.bench.bench import Bench
from passcheck.job.commands import AddNote, CloseRun, FinishSoak, ReturnUnrepaired, UndoChange
from passcheck.job.power import told

SUPPLY = "battery"


async def arrived() -> tuple[PracticeRig, Bench]:
    rig = PracticeRig(sheet_of())
    return rig, await rig.job()


async def powered() -> tuple[PracticeRig, Bench]:
    rig, bench = await arrived()
    await rig.make_safe(bench)
    await rig.do(bench, hand.start(bench.job, "as-found"))
    for step in ("a01", "a02", "a03", "a04-5v", "a04-3v3", "a05"):
        await rig.walk_step(bench, step)
    return rig, bench


async def on_soak() -> tuple[PracticeRig, Bench]:
    """All passed, the soak was started and its first look walked."""
    rig, bench = await arrived()
    await rig.walk(bench)
    for one in bench.job.fitted:
        await rig.do(bench, UndoChange("t1", one.change, "as it was"))
    await rig.do(bench, hand.start(bench.job, "burn-in"))
    await rig.power(bench, "a23")
    await rig.do(bench, soaking.start(bench.job))
    await walk_look(rig, bench)
    return rig, bench


async def walk_look(rig: PracticeRig, bench: Bench) -> None:
    for name in soaking.soak_of(bench.job).check:
        await rig.do(bench, *hand.answers_to_cautions(bench.job, name, moment=bench.moment()))
        await rig.do(bench, hand.passing(bench.job, name))


async def lay(pilot: Pilot[None], *screens: Screen[Any]) -> None:
    for screen in screens:
        pilot.app.push_screen(screen)
        await settle(pilot)


def entry_in_sight(pilot: Pilot[None]) -> bool:
    """Is the entry with the cursor on the window and not under the line?"""
    focused, said = pilot.app.focused, pilot.app.screen.query_one(PracticeLine)
    assert focused is not None
    region = pilot.app.screen.find_widget(focused).visible_region
    return region.height > 0 and not region.intersection(said.region).area


async def test_the_shelf_says_that_its_units_do_not_exist() -> None:
    rig, _bench = await arrived()
    async with at_practice(rig) as pilot:
        assert "PRACTICE SHELF: units that don't exist" in shown(pilot)
        assert line(pilot) == "PRACTICE  Down, then Enter: take the unit that waits in hand."


async def test_nothing_of_practice_is_there_at_work() -> None:
    rig = Rig()
    bench = await rig.job()
    async with at_desk(rig) as pilot:
        before = bench.moment()
        for _ in range(2):
            assert not pilot.app.screen.query(PracticeLine)
            assert "PRACTICE" not in shown(pilot)
            await press(pilot, "ctrl+g", "ctrl+l")
            assert bench.moment() == before
            await press(pilot, "f1")
            assert "practice-" not in shown(pilot)
            await press(pilot, "escape", "down", "enter")


async def test_a_job_of_practice_says_so_in_its_head_and_on_its_card() -> None:
    rig, _bench = await arrived()
    async with at_practice(rig) as pilot:
        await press(pilot, "down", "enter")
        assert isinstance(pilot.app.screen, TravellerScreen)
        window = rows(pilot)
        assert window[0].startswith(" PRACTICE A31-0001")
        assert "n" not in window[1][:6]  # the head keeps its two lines at 80 columns
        assert "TRAVELLER  PRACTICE  Street-sweeper" in shown(pilot)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_line_hides_no_entry(size: tuple[int, int]) -> None:
    rig, bench = await powered()
    async with at_practice(rig, size) as pilot:
        step = bench.job.sequence.step("a06")
        await lay(pilot, BenchScreen(bench, "a06"))
        assert entry_in_sight(pilot)
        for sheet in (
            RunStartScreen(bench),
            PowerOnScreen(bench, step),
            SupplyReadScreen(bench, SUPPLY),
            MakeSafeScreen(bench),
            ReworkScreen(bench),
        ):
            await lay(pilot, sheet)
            slots = [
                slot
                for slot in pilot.app.screen.query(Slot)
                if all(one.display for one in slot.ancestors_with_self if isinstance(one, Widget))
            ]
            for slot in slots:
                slot.focus()
                await settle(pilot)
                assert entry_in_sight(pilot), (sheet, slot.id, shown(pilot))
            assert line(pilot).startswith("PRACTICE  ")
            pilot.app.pop_screen()
            await settle(pilot)


async def test_a_caution_shows_the_fact_that_its_display_has_and_takes_it() -> None:
    rig = PracticeRig()  # its one caution is a WARNING
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job))
    async with at_practice(rig) as pilot:
        await lay(pilot, CautionScreen(bench, tuple(bench.job.sequence.cautions), dwell_s=0))
        said = line(pilot)
        assert "Type what the display shows, below, all its digits; Enter." in said
        figure = said.rpartition("The display shows ")[2]
        assert entry_in_sight(pilot)
        assert pilot.app.screen.query_one("#fact", Slot).value == ""
        await type_in(pilot, figure)
        await press(pilot, "enter")
        assert not isinstance(pilot.app.screen, CautionScreen)


async def test_make_safe_is_filled_in_by_its_displays_alone() -> None:
    rig, bench = await powered()
    async with at_practice(rig) as pilot:
        await lay(pilot, BenchScreen(bench))
        await press(pilot, "f8")
        assert isinstance(pilot.app.screen, MakeSafeScreen)
        await press(pilot, "ctrl+g")
        assert line(pilot).startswith("PRACTICE  10 minutes went by")
        for _ in range(3):
            await type_in(pilot, line(pilot).rpartition("shows ")[2])
            await press(pilot, "enter")
        rig.clock.pass_time(seconds=10)
        for _ in range(2):
            await type_in(pilot, line(pilot).rpartition("shows ")[2])
            await press(pilot, "enter")
        await type_in(pilot, "no")
        await press(pilot, "enter")
        assert told(bench.job, bench.moment())[SUPPLY] == "off"


async def test_a_run_begins_with_what_label_and_thermometer_show() -> None:
    rig, bench = await arrived()
    await rig.make_safe(bench)
    async with at_practice(rig) as pilot:
        await lay(pilot, RunStartScreen(bench))
        assert line(pilot).endswith(f"The label on the unit reads {bench.job.serial}")
        fields = pilot.app.screen.query_one(Fields)
        air = next(place for place, ask in enumerate(fields.asks) if ask.label == "Ambient")
        fields.slots[air].focus()
        await settle(pilot)
        assert "The thermometer shows 2" in line(pilot)


async def test_ctrl_l_turns_the_coaching_off_and_on_and_practice_stays_said() -> None:
    rig, _bench = await arrived()
    async with at_practice(rig, coach=False) as pilot:
        assert line(pilot) == "PRACTICE  This unit doesn't exist. Ctrl+L: what to do next."
        await press(pilot, "ctrl+l")
        assert "take the unit that waits in hand" in line(pilot)
        await press(pilot, "ctrl+l")
        assert line(pilot).startswith("PRACTICE  This unit doesn't exist.")


async def test_ctrl_g_lets_ten_minutes_go_by_and_says_that_somebody_is_there() -> None:
    rig, bench = await powered()
    async with at_practice(rig) as pilot:
        await lay(pilot, BenchScreen(bench, "a06"))
        for _ in range(3):
            before = bench.moment()
            await press(pilot, "ctrl+g")
            gone = bench.moment().since(before)
            assert gone is not None
            assert gone.total_seconds() == 600
            assert "10 minutes went by" in line(pilot)
            assert "Still at the bench: told." in line(pilot)
            assert told(bench.job, bench.moment())[SUPPLY] == "on"


async def test_ctrl_g_tells_nothing_of_a_supply_that_is_off() -> None:
    rig, bench = await arrived()
    await rig.make_safe(bench)
    async with at_practice(rig) as pilot:
        lines = bench.job.lines
        await press(pilot, "ctrl+g")
        assert "10 minutes went by" in line(pilot)
        assert "Still" not in line(pilot)
        assert bench.job.lines == lines


async def test_ctrl_g_takes_back_no_doubt_that_was_there_before() -> None:
    rig, bench = await powered()
    rig.clock.pass_time(minutes=20)
    async with at_practice(rig) as pilot:
        await lay(pilot, BenchScreen(bench, "a06"))
        await press(pilot, "ctrl+g")
        assert told(bench.job, bench.moment())[SUPPLY] == "unknown"


async def test_ctrl_g_waits_until_a_slip_is_done() -> None:
    rig, bench = await powered()
    async with at_practice(rig) as pilot:
        await lay(pilot, BenchScreen(bench, "a06"), SupplyReadScreen(bench, SUPPLY))
        before = bench.moment()
        await press(pilot, "ctrl+g")
        assert bench.moment() == before
        assert "close this first" in line(pilot)


async def test_ctrl_g_lets_no_time_go_by_while_taps_are_taken() -> None:
    rig, bench = await powered()
    rig.settings.keep_tap_key("space")
    async with at_practice(rig) as pilot:
        pilot.app.push_screen(TapTrialsScreen(bench, "space", bench.job.sequence.step("a14-fuel")))
        await settle(pilot)
        before = bench.moment()
        await press(pilot, "ctrl+g")
        assert bench.moment() == before


async def test_on_the_rack_ctrl_g_goes_up_to_the_look_and_stops_there() -> None:
    rig, bench = await on_soak()
    async with at_practice(rig) as pilot:
        await press(pilot, "f7")
        assert isinstance(pilot.app.screen, RackScreen)
        assert "Nothing is due. Ctrl+G lets time go by up to the next look." in line(pilot)
        await press(pilot, "ctrl+g")
        assert "went by" in line(pilot)
        await press(pilot, "ctrl+g")
        assert f"The look at {bench.job.serial} is due" in line(pilot)
        assert "DUE NOW" in shown(pilot)


async def test_a_look_is_taken_by_what_the_line_shows() -> None:
    rig, bench = await on_soak()
    async with at_practice(rig) as pilot:
        await press(pilot, "f7")
        await press(pilot, "ctrl+g")
        await type_in(pilot, bench.job.serial)
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, LookSlip)
        for _ in range(5):
            assert entry_in_sight(pilot), shown(pilot)
            figure = line(pilot).split()[-1]
            unit = {"dark": "no", "V": None, "A": None, "h": None, "°C": None}.get(figure, figure)
            await type_in(pilot, unit if unit is not None else " ".join(line(pilot).split()[-2:]))
            await press(pilot, "enter")
        assert "LOOK AT" not in shown(pilot)
        assert bench.job.open_soak is not None
        assert len(bench.job.open_soak.looks) == 2
        assert bench.job.open_soak.looks[-1].good


async def test_the_end_says_that_no_real_unit_was_released_and_what_was_wrong() -> None:
    rig, bench = await on_soak()
    while True:
        rig.clock.pass_time(minutes=10)
        await rig.do(bench, soaking.check(bench.job, cycles=1))
        await walk_look(rig, bench)
        now = await bench.do(FinishSoak("t1", "a23"))
        if bench.job.open_soak is None:
            break
        assert now is not None
    await rig.make_safe(bench)
    await rig.do(bench, CloseRun("t1"))
    for one in bench.job.fitted:
        await rig.do(bench, UndoChange("t1", one.change, "as it was"))
    await rig.walk(bench)
    for one in bench.job.fitted:
        await rig.do(bench, UndoChange("t1", one.change, "as it was"))
    async with at_practice(rig) as pilot:
        await lay(pilot, SignOffScreen(bench, lambda _step: None))
        assert "Enter on a line leads to the step that lifts it." in line(pilot)
        pilot.app.pop_screen()
        for name in ("a01", "final"):
            await rig.do(bench, AddNote("t1", "", name, ("photo.jpg",)))
        await lay(pilot, SignOffScreen(bench, lambda _step: None))
        assert "NOTHING STANDS AGAINST IT" in shown(pilot), shown(pilot)
        assert line(pilot).endswith(f"The label on the unit reads {bench.job.serial}")
        await type_in(pilot, bench.job.serial)
        await press(pilot, "f4")
        assert bench.job.ended == "signed off"
        window = shown(pilot)
        assert "P R A C T I C E" in window
        assert "no real unit was released" in " ".join(window.replace("▌", "").replace("▐", "").split())
        assert "It left with this:" in line(pilot)


async def test_what_was_wrong_is_told_once_it_is_over_even_without_coaching() -> None:
    rig, bench = await arrived()
    await rig.make_safe(bench)
    async with at_practice(rig, coach=False) as pilot:
        await lay(pilot, TravellerScreen(bench))
        assert "It left with this:" not in line(pilot)
        await rig.do(bench, ReturnUnrepaired("t1", "the owner wants it back"))
        assert "It left with this:" in line(pilot)


async def test_a_sheet_laid_over_a_screen_is_the_only_one_that_says_what_to_do() -> None:
    rig, bench = await powered()
    async with at_practice(rig) as pilot:
        await lay(pilot, TravellerScreen(bench), PowerOnScreen(bench, bench.job.sequence.step("a06")))
        assert [row.startswith(" PRACTICE  ") for row in rows(pilot)].count(True) == 1
        await press(pilot, "escape")
        assert [row.startswith(" PRACTICE  ") for row in rows(pilot)].count(True) == 1
        assert "Your hand switches" not in shown(pilot)


async def test_while_the_unit_is_made_safe_its_panel_shows_the_supply_off_and_the_charge_that_is_left() -> None:
    rig, bench = await powered()
    async with at_practice(rig, LARGE) as pilot:
        await lay(pilot, BenchScreen(bench, "a06"))
        await press(pilot, "f8")
        await press(pilot, "f10")
        window = shown(pilot)
        assert "battery off, 0 V" in window
        assert "tester at TP9 to TP0" in window
        assert "TP3 to TP0" not in window.split("PRACTICE UNIT")[1].split("ASKED")[0]


async def test_before_any_run_the_panel_shows_what_the_tester_shows() -> None:
    rig, bench = await arrived()
    async with at_practice(rig, LARGE) as pilot:
        await lay(pilot, TravellerScreen(bench))
        await press(pilot, "f8", "f10")
        assert "tester at TP9 to TP0: 0.0" in shown(pilot)
        assert "no instrument" not in shown(pilot)


async def test_a_charge_that_still_falls_is_to_be_waited_for() -> None:
    rig, bench = await powered()
    async with at_practice(rig, LARGE) as pilot:
        await lay(pilot, BenchScreen(bench, "a06"))
        await press(pilot, "f8")
        await type_in(pilot, "12")
        await press(pilot, "enter")
        assert "It still falls, wait for it." in line(pilot)
        rig.clock.pass_time(seconds=20)
        assert "still falls" not in line(pilot)
        assert "The tester shows 0." in line(pilot)
        for volts in ("0.3", "-0.3"):
            await type_in(pilot, volts)
            await press(pilot, "enter")
        assert "Wait 10 s more." in line(pilot)
        rig.clock.pass_time(seconds=10)
        assert "s more" not in line(pilot)
