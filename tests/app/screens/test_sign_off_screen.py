"""The signature is refused with the gate's own sentences, each a jump, and is granted when nothing is in the way."""

import pytest
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, shown, type_in
from rig import Rig, settings
from textual.pilot import Pilot

import sequences
from passcheck.app.screens.sign_off import SignOffScreen
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.widgets.card import Card
from passcheck.app.widgets.typed import Slot
from passcheck.job.gate import blockers
from passcheck.job.pin import pin_hash


async def open_signature(pilot: Pilot[None]) -> SignOffScreen:
    await press(pilot, *"7Q22051", "enter", "s")
    assert isinstance(pilot.app.screen, SignOffScreen)
    return pilot.app.screen


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_what_is_in_the_way_is_listed_in_the_gates_words(size: tuple[int, int]) -> None:
    rig = Rig()
    bench = await rig.job()
    async with at_desk(rig, size) as pilot:
        await open_signature(pilot)
        matches_sample(pilot, f"sign-off-refused-{size[0]}x{size[1]}")
        for one in blockers(bench.job, bench.outside(), bench.moment()):
            assert one.sentence in shown(pilot)


async def test_a_refused_signature_is_kept_and_shown() -> None:
    rig = Rig()
    bench = await rig.job()
    async with at_desk(rig) as pilot:
        screen = await open_signature(pilot)
        screen.query_one("#serial", Slot).value = "7Q22051"
        await press(pilot, "f4")
        assert "Sign-off refused, and that is kept" in shown(pilot)
    assert bench.job.refused
    assert bench.job.ended is None


async def test_a_line_of_the_list_leads_to_its_step() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        await open_signature(pilot)
        await press(pilot, "down", "enter")
        assert isinstance(pilot.app.screen, TravellerScreen)
        assert pilot.app.screen.query_one(Card).step == sequences.RAIL


async def test_the_wrong_unit_in_hand_is_not_released() -> None:
    rig = Rig()
    bench = await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        await open_signature(pilot)
        await type_in(pilot, "7Q99999")
        await press(pilot, "f4")
        assert "7Q99999" in shown(pilot)
    assert bench.job.ended is None


async def test_a_signature_without_anything_in_the_way_releases_the_unit() -> None:
    rig = Rig()
    bench = await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        await open_signature(pilot)
        matches_sample(pilot, "sign-off-clear-80x24")
        await type_in(pilot, "7q22051")
        await press(pilot, "f4")
        matches_sample(pilot, "released-80x24")
        text = " ".join(shown(pilot).replace("▐", "").replace("▌", "").split())
        assert "R E L E A S E D" in text
        assert "Not an electrical safety" in text
    assert bench.job.ended == "signed off"


async def test_a_pin_is_asked_where_one_is_kept_and_never_shown() -> None:
    rig = Rig(settings_now=settings(pin_hashes={"t1": pin_hash("4711", b"0123456789abcdef")}))
    bench = await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        screen = await open_signature(pilot)
        await type_in(pilot, "7Q22051")
        screen.query_one("#pin", Slot).value = "1234"
        await press(pilot, "f4")
        assert "That is not t1's PIN." in shown(pilot)
        assert "1234" not in shown(pilot)
        screen.query_one("#pin", Slot).value = "4711"
        await press(pilot, "f4")
    assert bench.job.ended == "signed off"


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_whoever_signs_reads_what_a_closed_ledger_cannot_show_of_this_job(size: tuple[int, int]) -> None:
    rig = Rig()
    mark = "A31-0001 stands on a ledger that was found damaged. What it said of this job can't be checked."
    rig.files.marks = (mark,)
    bench = await rig.walk(await rig.job())
    async with at_desk(rig, size) as pilot:
        await open_signature(pilot)
        assert mark in " ".join(shown(pilot).split())
        await type_in(pilot, "7q22051")
        await press(pilot, "f4")
    assert bench.job.ended == "signed off"
