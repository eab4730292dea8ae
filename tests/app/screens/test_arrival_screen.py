"""A unit is taken in: serial twice, the owner's words, variants; nothing typed is lost by a refusal."""

import pytest
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, settle, shown, type_in
from rig import Rig
from textual.pilot import Pilot

from passcheck.app.screens.arrival import ArrivalScreen
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.widgets.typed import Slot
from passcheck.app.widgets.writing import Writing

HOSTILE = (
    "[b]x[/b] [@click=app.exit]77[/] [/red] \x1b[2J\x1b]52;c;QUJD\x07 \u202eevil\u2066 \x9b31m "
    "Z\u0300\u0301\u0302\u0303\u0304"
)


async def open_form(pilot: Pilot[None], serial: str = "7Q22051") -> ArrivalScreen:
    await press(pilot, *serial, "enter")
    screen = pilot.app.screen
    assert isinstance(screen, ArrivalScreen)
    return screen


async def fill(pilot: Pilot[None], screen: ArrivalScreen, complaint: str, second: str = "7Q22051") -> None:
    screen.query_one("#second", Slot).value = second
    screen.query_one("#complaint", Writing).text = complaint
    await settle(pilot)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_form_fits_the_window(size: tuple[int, int]) -> None:
    async with at_desk(Rig(), size) as pilot:
        await open_form(pilot)
        matches_sample(pilot, f"arrival-{size[0]}x{size[1]}")


async def test_a_unit_taken_in_lies_on_its_card() -> None:
    rig = Rig()
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        await press(pilot, "enter", *"7q22051", "enter")
        assert "both readings agree" in shown(pilot)
        screen.query_one("#complaint", Writing).focus()
        await settle(pilot)
        await type_in(pilot, "Fuel goes to nothing\nafter half an hour")
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, TravellerScreen)
    job = rig.shop.look("A31-0001")
    assert job.facts.complaint == "Fuel goes to nothing\nafter half an hour"
    assert job.opened_by == "t1"


async def test_another_unit_of_the_same_arrival_is_asked_for_its_serial_alone() -> None:
    rig = Rig()
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        await fill(pilot, screen, "both dim when warm")
        screen.query_one("#condition", Slot).value = "seal broken"
        await press(pilot, "f5")
        assert pilot.app.screen is screen
        assert pilot.app.focused is screen.query_one("#first")
        assert screen.query_one("#condition", Slot).value == ""
        matches_sample(pilot, "arrival-another-80x24")
        await type_in(pilot, "7Q22051")
        await press(pilot, "enter")
        await type_in(pilot, "7Q22051")
        await press(pilot, "f4")
        assert "Unit 7Q22051 came in already: it is job A31-0001." in " ".join(shown(pilot).split())
        for field in ("#first", "#second"):
            screen.query_one(field, Slot).value = "7Q22052"
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, TravellerScreen)
        assert "Came with A31-0001." in shown(pilot)
        await press(pilot, "w")
        assert "A31-0001  unit 7Q22051" in shown(pilot)
    second = rig.shop.look("A31-0002")
    assert (second.facts.arrived_with, second.facts.complaint) == ("A31-0001", "both dim when warm")
    assert (second.facts.condition, rig.shop.look("A31-0001").facts.condition) == ("", "seal broken")


async def test_an_arrival_that_was_begun_may_be_left_with_what_was_taken_in() -> None:
    rig = Rig()
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        await fill(pilot, screen, "dim")
        await press(pilot, "f5", "escape")
        assert "1 in the shop" in shown(pilot)
    assert rig.shop.look("A31-0001").facts.arrived_with == ""


async def test_two_readings_that_differ_are_refused_and_nothing_is_lost() -> None:
    async with at_desk(Rig()) as pilot:
        screen = await open_form(pilot)
        await fill(pilot, screen, "dead", second="7Q22057")
        assert "the two readings differ" in shown(pilot)
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, ArrivalScreen)
        assert "The two readings of the serial differ." in shown(pilot)
        assert screen.query_one("#complaint", Writing).text == "dead"


async def test_an_empty_complaint_is_refused_in_place() -> None:
    async with at_desk(Rig()) as pilot:
        screen = await open_form(pilot)
        await fill(pilot, screen, "  ")
        await press(pilot, "f4")
        assert "The complaint is empty." in shown(pilot)


async def test_a_disk_that_refuses_is_one_clear_sentence_and_the_form_stays() -> None:
    rig = Rig()
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        await fill(pilot, screen, "dead")
        rig.files.refusals = 1
        await press(pilot, "f4")
        assert "NOT KEPT" in shown(pilot)
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, TravellerScreen)


async def test_hostile_words_are_kept_as_they_came_and_shown_as_text() -> None:
    rig = Rig()
    async with at_desk(rig, LARGE) as pilot:
        screen = await open_form(pilot)
        await fill(pilot, screen, HOSTILE)
        screen.query_one("#condition", Slot).value = HOSTILE
        await settle(pilot)
        assert not raw_signs(pilot)
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, TravellerScreen)
        assert "[@click=app.exit]77[/] [/red]" in shown(pilot)
        assert not raw_signs(pilot)
    assert rig.shop.look("A31-0001").facts.complaint == HOSTILE


async def test_ten_thousand_characters_of_complaint_are_kept_whole() -> None:
    rig = Rig()
    long = "needle drops, " * 714
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        screen.query_one("#complaint", Writing).focus()
        await settle(pilot)
        await type_in(pilot, long)
        screen.query_one("#second", Slot).value = "7Q22051"
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, TravellerScreen)
        assert "TRAVELLER" in shown(pilot)
    assert rig.shop.look("A31-0001").facts.complaint == long


@pytest.mark.parametrize("serial", ["[b]7Q", "7Q\x1b[2J", "\u202e7Q", "x" * 100])
async def test_a_serial_that_is_none_is_refused_in_words(serial: str) -> None:
    async with at_desk(Rig()) as pilot:
        await press(pilot, "f6")
        screen = pilot.app.screen
        screen.query_one("#first", Slot).value = serial
        screen.query_one("#second", Slot).value = serial
        screen.query_one("#complaint", Writing).text = "dead"
        await press(pilot, "f4")
        assert "That is no serial number" in shown(pilot)
        assert not raw_signs(pilot)


def raw_signs(pilot: Pilot[None]) -> list[str]:
    picture = pilot.app.export_screenshot()
    return [sign for sign in ("\x1b", "\x07", "\x9b", "\u202e", "\u2066") if sign in picture]
