"""Work on the unit is entered fast, and says what it makes worthless before it is kept."""

import pytest
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, settle, shown, type_in
from rig import Rig
from textual.pilot import Pilot

import sequences
from passcheck.app.screens.rework import ReworkScreen
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.widgets.choice import Choice
from passcheck.app.widgets.rework_words import ACTIONS, CASE_ONLY
from passcheck.app.widgets.tick import Tick
from passcheck.app.widgets.typed import Slot
from passcheck.job.commands import ReportIncident


async def open_form(pilot: Pilot[None]) -> ReworkScreen:
    await press(pilot, *"7Q22051", "enter", "r")
    assert isinstance(pilot.app.screen, ReworkScreen)
    return pilot.app.screen


def full(screen: ReworkScreen) -> list[str | None]:
    return [box.name for box in screen.query(Tick) if box.value]


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_typed_designators_tick_themselves_and_their_blocks_and_say_what_goes_stale(
    size: tuple[int, int],
) -> None:
    rig = Rig()
    await rig.walk(await rig.job())
    async with at_desk(rig, size) as pilot:
        screen = await open_form(pilot)
        await type_in(pilot, "c1, ds1 nothing")
        assert full(screen) == ["block:PWR", "part:C1", "block:LAMP", "part:DS1"]
        assert "This makes 3 results stale" in shown(pilot)
        matches_sample(pilot, f"rework-{size[0]}x{size[1]}")


async def test_a_part_left_old_beside_its_like_asks_for_the_reason_and_all_is_kept() -> None:
    rig = Rig()
    bench = await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        await type_in(pilot, "C1")
        screen.query_one("#reason", Slot).value = "[b]bulging[/b] top"
        screen.query_one("#photos", Slot).value = "p/1.jpg; p/2.jpg"
        screen.query_one(".old", Slot).value = "renewed last year"
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, TravellerScreen)
        assert "struck: rework 1" in shown(pilot)
    kept = bench.job.reworks[0]
    assert (kept.parts, kept.blocks, kept.action) == (("C1",), ("PWR",), "replaced")
    assert kept.reason == "[b]bulging[/b] top"
    assert kept.photos == ("p/1.jpg", "p/2.jpg")
    assert kept.left_old[0].reason == "renewed last year"


async def test_one_key_ticks_all_that_age_alike_and_nothing_is_left_to_explain() -> None:
    rig = Rig()
    bench = await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        await type_in(pilot, "C1")
        assert [field.name for field in screen.query(".old")] == ["C2"]
        await press(pilot, "f5")
        assert full(screen) == ["block:PWR", "part:C1", "part:C2"]
        assert not screen.query(".old")
        screen.query_one("#reason", Slot).value = "same age"
        await press(pilot, "f4")
    assert bench.job.reworks[0].parts == ("C1", "C2")


async def test_a_range_stands_for_every_part_in_it() -> None:
    rig = Rig()
    await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        await type_in(pilot, "c1-c9, ds1-2")
        assert full(screen) == ["block:PWR", "part:C1", "part:C2", "block:LAMP", "part:DS1", "part:DS2"]


async def test_a_block_goes_with_the_last_of_its_parts_and_ticks_made_by_hand_stay() -> None:
    blocks = {**sequences.BASE["blocks"], "CPU": {"title": "Processor", "parts": ["C12", "U1"]}}
    rig = Rig(sequences.sequence(blocks=blocks))
    await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        next(box for box in screen.query(Tick) if box.name == "part:RN3").value = True
        for sign in "C12":
            await type_in(pilot, sign)
        assert full(screen) == ["block:LAMP", "part:RN3", "block:CPU", "part:C12"]


async def test_a_block_can_be_typed_like_a_part_and_stays_while_it_is_typed() -> None:
    rig = Rig()
    bench = await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        await type_in(pilot, "DS1 lamp")
        assert full(screen) == ["block:LAMP", "part:DS1"]
        screen.query_one("#parts", Slot).value = "lamp"
        await settle(pilot)
        assert full(screen) == ["block:LAMP"]
        screen.query_one("#reason", Slot).value = "where the fault is"
        await press(pilot, "f4")
    assert bench.job.reworks[0].blocks == ("LAMP",)


async def test_a_designator_that_the_sequence_does_not_know_is_said_and_not_lost() -> None:
    rig = Rig()
    bench = await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        await type_in(pilot, "C1 R77")
        screen.query_one("#reason", Slot).value = "burnt"
        assert "Not in this sequence: R77." in shown(pilot)
        await press(pilot, "f4")
        assert "'R77' is no part and no block that this sequence names." in shown(pilot)
        assert isinstance(pilot.app.screen, ReworkScreen)
    assert bench.job.reworks == ()


async def test_a_part_swapped_in_asks_for_its_donor_and_stays_on_the_list() -> None:
    rig = Rig()
    bench = await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        assert not screen.query_one("#donor", Slot).region
        await type_in(pilot, "DS1")
        screen.query_one(Choice).place = ACTIONS.index("swapped in")
        await settle(pilot)
        assert screen.query_one("#donor", Slot).region
        matches_sample(pilot, "rework-swapped-80x24")
        screen.query_one("#reason", Slot).value = "is it the lamp?"
        await press(pilot, "f4")
        assert "The serial of the unit it came from is missing." in " ".join(shown(pilot).split())
        assert screen.take_scan("*7q22099*")
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, TravellerScreen)
        await press(pilot, "o", "f4")
        assert "Enter the rework on DS1 that clears it: put back" in " ".join(shown(pilot).split())
    assert bench.job.reworks[0].donor == "7Q22099"


async def test_a_jumper_ticks_the_repair_and_the_traveller_says_so() -> None:
    rig = Rig()
    await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        choice = screen.query_one(Choice)
        choice.place = ACTIONS.index("jumper")
        await settle(pilot)
        assert full(screen) == ["repair"]
        choice.place = 0
        await settle(pilot)
        assert full(screen) == []
        choice.place = ACTIONS.index("jumper")
        await settle(pilot)
        await type_in(pilot, "F1")
        screen.query_one("#reason", Slot).value = "track burnt open"
        await press(pilot, "f4")
        assert "rework 1: a repair, not as drawn." in shown(pilot)
        await press(pilot, "a")
        said = " ".join(shown(pilot).split())
        assert "rework 1, a repair, not as drawn" in said


@pytest.mark.parametrize(
    ("action", "words"),
    [
        ("replaced", "Enter 'put back' too: results go stale then as well"),
        ("put back", "results go stale now, as they did before"),
        ("leg lifted", "'put back', 'replaced' or 'reflowed'"),
    ],
)
async def test_the_form_says_what_an_action_brings_with_it(action: str, words: str) -> None:
    rig = Rig()
    await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        screen.query_one(Choice).place = ACTIONS.index(action)
        await settle(pilot)
        assert words in " ".join(shown(pilot).replace("▌", " ").replace("▐", " ").split())


async def test_another_action_asks_for_no_reason_of_parts_left_old() -> None:
    rig = Rig()
    await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        await type_in(pilot, "C1")
        screen.query_one(Choice).place = 1
        await settle(pilot)
        assert not screen.query(".old")


async def test_a_refusal_keeps_what_was_typed() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        await type_in(pilot, "C1")
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, ReworkScreen)
        assert "Make safe" in shown(pilot)
        assert screen.query_one("#parts", Slot).value == "C1"


async def test_an_incident_is_answered_by_the_rework() -> None:
    rig = Rig()
    bench = await rig.walk(await rig.job())
    await rig.do(bench, ReportIncident("t1", ("PWR",), "smoke"))
    await rig.make_safe(bench)
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        await type_in(pilot, "F1")
        screen.query_one("#reason", Slot).value = "burnt"
        screen.query_one(".incident", Tick).value = True
        await press(pilot, "f4")
    assert bench.job.open_incidents == ()


async def test_a_case_that_was_only_opened_is_entered_as_that() -> None:
    rig = Rig()
    bench = await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        screen.query_one(Choice).place = ACTIONS.index(CASE_ONLY)
        screen.query_one("#reason", Slot).value = "looked at the fuse"
        await press(pilot, "f4")
    assert bench.job.changes[-1].kind == "case opened"
