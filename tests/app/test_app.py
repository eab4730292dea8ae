"""What works from everywhere: make safe, quitting, scans, help, other keys, any size of window."""

import hand
import pytest
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, settle, shown, type_in
from rig import Rig, settings
from textual import events
from textual.dom import DOMNode
from textual.pilot import Pilot

import sequences
from passcheck.app.app import PasscheckApp
from passcheck.app.keys import EVERYWHERE, bindings_under
from passcheck.app.screens.arrival import ArrivalScreen
from passcheck.app.screens.ask_quit import AskQuit
from passcheck.app.screens.jot import JotSlip
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.shelf import ShelfScreen
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.screens.who import Who
from passcheck.app.widgets.typed import Slot
from passcheck.bench.bench import Bench
from passcheck.job.power import told


async def powered(rig: Rig) -> Bench:
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job))
    await rig.make_safe(bench)
    await rig.do(bench, hand.passing(bench.job, sequences.GUARD))
    return await rig.power(bench, sequences.RAIL)


async def open_unit(pilot: Pilot[None]) -> None:
    await press(pilot, *"7Q22051", "enter")
    assert isinstance(pilot.app.screen, TravellerScreen)


def scan(pilot: Pilot[None], code: str) -> None:
    at = 100.0
    for name in (*code, "enter"):
        event = events.Key(name, name if len(name) == 1 else "\r")
        event.time = at
        at += 0.0005
        pilot.app.post_message(event)


async def test_make_safe_works_from_the_traveller_and_is_recorded_at_once() -> None:
    rig = Rig()
    bench = await powered(rig)
    async with at_desk(rig) as pilot:
        await open_unit(pilot)
        assert told(bench.job, bench.moment())["battery"] == "on"
        await press(pilot, "f8")
        assert isinstance(pilot.app.screen, MakeSafeScreen)
        assert told(bench.job, bench.moment())["battery"] == "unknown"
        assert "This key switches nothing. Your hand: supply OFF, plug OUT." in shown(pilot).replace("\n", " ")


async def test_make_safe_works_with_an_entry_focused_in_a_sheet_that_is_open() -> None:
    rig = Rig()
    bench = await powered(rig)
    async with at_desk(rig) as pilot:
        await open_unit(pilot)
        await press(pilot, "j")
        assert isinstance(pilot.app.screen, JotSlip)
        assert isinstance(pilot.app.focused, Slot)
        await type_in(pilot, "TP3")
        await press(pilot, "f8")
        assert isinstance(pilot.app.screen, MakeSafeScreen)
        assert told(bench.job, bench.moment())["battery"] == "unknown"
        await press(pilot, "escape")
        assert pilot.app.screen.query_one("#point", Slot).value == "TP3"


async def test_make_safe_overtakes_a_paste() -> None:
    rig = Rig()
    await powered(rig)
    async with at_desk(rig) as pilot:
        await open_unit(pilot)
        await press(pilot, "j")
        pilot.app.post_message(events.Paste("x" * 10_000))
        pilot.app.post_message(events.Key("f8", None))
        await settle(pilot)
        assert isinstance(pilot.app.screen, MakeSafeScreen)


async def test_make_safe_comes_up_even_when_the_disk_refuses() -> None:
    rig = Rig()
    await powered(rig)
    async with at_desk(rig) as pilot:
        await open_unit(pilot)
        rig.files.refusals = 1
        await press(pilot, "f8")
        assert isinstance(pilot.app.screen, MakeSafeScreen)
        assert "NOT KEPT" in shown(pilot)


async def test_make_safe_without_a_unit_says_what_the_hand_does() -> None:
    async with at_desk(Rig()) as pilot:
        await press(pilot, "f8")
        assert "This key switches nothing." in shown(pilot)
        matches_sample(pilot, "make-safe-without-a-unit")


async def test_a_scan_where_no_entry_has_the_focus_opens_the_unit_and_commands_nothing() -> None:
    rig = Rig()
    await powered(rig)
    async with at_desk(rig) as pilot:
        await open_unit(pilot)
        scan(pilot, "RSJ7Q220")
        await settle(pilot)
        assert isinstance(pilot.app.screen, ArrivalScreen)
        assert pilot.app.screen.query_one("#first", Slot).value == "RSJ7Q220"


async def test_scanning_the_unit_in_hand_stays_on_its_card() -> None:
    rig = Rig()
    await powered(rig)
    async with at_desk(rig) as pilot:
        await open_unit(pilot)
        scan(pilot, "7q22051")
        await settle(pilot)
        assert isinstance(pilot.app.screen, TravellerScreen)


async def test_a_scan_over_an_open_sheet_changes_nothing() -> None:
    rig = Rig()
    await powered(rig)
    async with at_desk(rig) as pilot:
        await open_unit(pilot)
        await press(pilot, "f1")
        before = pilot.app.screen
        scan(pilot, "9S99999")
        await settle(pilot)
        assert pilot.app.screen is before


def test_no_single_printable_key_is_bound_to_quitting() -> None:
    ending = [one for one in (*EVERYWHERE, *bindings_under(DOMNode)) if "quit" in one.action]
    assert ending
    assert [one.key for one in ending if any(len(key) == 1 for key in one.key.split(","))] == []


@pytest.mark.parametrize("key", "qxz")
async def test_no_single_printable_key_ends_the_program_from_the_card(key: str) -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        await open_unit(pilot)
        await press(pilot, key)
        assert pilot.app.is_running
        assert not isinstance(pilot.app.screen, ShelfScreen)


async def test_quitting_asks_while_a_supply_is_told_on() -> None:
    rig = Rig()
    await powered(rig)
    async with at_desk(rig) as pilot:
        await open_unit(pilot)
        await press(pilot, "ctrl+q")
        assert isinstance(pilot.app.screen, AskQuit)
        assert "battery told on" in shown(pilot)
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, TravellerScreen)
        await press(pilot, "ctrl+q", "down", "enter")
        assert pilot.app.return_code == 0


async def test_quitting_asks_while_something_is_half_typed() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        await open_unit(pilot)
        await press(pilot, "j")
        await type_in(pilot, "TP3")
        await press(pilot, "ctrl+q")
        assert isinstance(pilot.app.screen, AskQuit)


async def test_quitting_with_nothing_open_ends_at_once_and_lets_the_journals_go() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        await press(pilot, "ctrl+q")
        assert pilot.app.return_code == 0
    assert rig.files.holders == {}


async def test_several_people_are_asked_who_is_at_the_bench() -> None:
    async with at_desk(Rig(), person="") as pilot:
        assert isinstance(pilot.app.screen, Who)
        matches_sample(pilot, "who")
        await press(pilot, "down", "enter")
        assert isinstance(pilot.app, PasscheckApp)
        assert pilot.app.person == "t2"
        assert "Second technician" in shown(pilot)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_help_tells_every_key_of_the_card(size: tuple[int, int]) -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig, size) as pilot:
        await open_unit(pilot)
        await press(pilot, "f1")
        matches_sample(pilot, f"keys-{size[0]}x{size[1]}")


def test_every_key_has_a_name_of_its_own_and_words_that_explain_it() -> None:
    found = (*EVERYWHERE, *bindings_under(DOMNode))
    assert len(found) > 50
    assert [one.action for one in found if not one.id or not one.tooltip] == []


async def test_a_key_of_the_users_own_takes_the_place_of_ours() -> None:
    rig = Rig(settings_now=settings(keys={"traveller.rework": "w", "no-such-key": "x"}))
    await rig.job()
    async with at_desk(rig) as pilot:
        assert "'no-such-key'" in shown(pilot)
        await open_unit(pilot)
        await press(pilot, "w")
        assert type(pilot.app.screen).__name__ == "ReworkScreen"


async def test_the_palette_offers_the_acts_of_the_screen() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        await open_unit(pilot)
        titles = {command.title for command in pilot.app.get_system_commands(pilot.app.screen)}
        assert {"Rework", "Sign", "Make safe", "Keys", "Quit"} <= titles


@pytest.mark.parametrize("size", [(1, 1), (3, 40), (20, 3), (59, 24), (80, 17), (60, 18), (200, 60)])
async def test_no_size_of_window_stops_the_program(size: tuple[int, int]) -> None:
    rig = Rig()
    await powered(rig)
    async with at_desk(rig, size) as pilot:
        pilot.app.push_screen(TravellerScreen(await rig.shop.open("A31-0001", "t1")))
        await settle(pilot)
        await pilot.resize_terminal(80, 24)
        await pilot.resize_terminal(*size)
        await settle(pilot)
        if size in ((59, 24), (80, 17)):
            assert "passcheck needs 60 columns and 18 lines" in " ".join(shown(pilot).split())
        if size == (60, 18):
            assert "TRAVELLER" in shown(pilot)
