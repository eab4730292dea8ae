"""Work on the unit is entered fast, and says what it makes worthless before it is kept."""

import pytest
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, settle, shown, type_in
from rig import Rig
from textual.pilot import Pilot

from passcheck.app.screens.rework import ReworkScreen
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.widgets.choice import Choice
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
        screen.query_one("#old-C2", Slot).value = "renewed last year"
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, TravellerScreen)
        assert "struck: rework 1" in shown(pilot)
    kept = bench.job.reworks[0]
    assert (kept.parts, kept.blocks, kept.action) == (("C1",), ("PWR",), "replaced")
    assert kept.reason == "[b]bulging[/b] top"
    assert kept.photos == ("p/1.jpg", "p/2.jpg")
    assert kept.left_old[0].reason == "renewed last year"


async def test_another_action_asks_for_no_reason_of_parts_left_old() -> None:
    rig = Rig()
    await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        screen = await open_form(pilot)
        await type_in(pilot, "C1")
        screen.query_one(Choice).place = 1
        await settle(pilot)
        assert not screen.query("#old-C2")


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
        screen.query_one(Choice).place = 10
        screen.query_one("#reason", Slot).value = "looked at the fuse"
        await press(pilot, "f4")
    assert bench.job.changes[-1].kind == "case opened"
