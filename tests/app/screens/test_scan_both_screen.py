"""Unit and label are scanned one after the other, and nothing scanned is a key or stands beside an older answer."""

import re

import pytest
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, settle, shown
from paper_maker import MakerAtHand
from rig import Rig
from textual.events import Key
from textual.pilot import Pilot

from passcheck.app.screens.papers import PapersSheet
from passcheck.app.screens.scan_both import ScanBothSheet
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.widgets.big_word import BigWord
from passcheck.app.widgets.typed import Slot
from passcheck.errors import BenchFailed
from passcheck.job.commands import ReturnUnrepaired

UNIT = "7Q22051"
SCANNER_APART_S = 0.0005


async def given_back(rig: Rig) -> str:
    """A unit that left unrepaired; gives the last line of its label."""
    bench = await rig.job()
    await rig.do(bench, ReturnUnrepaired("t1", "no parts"))
    assert rig.shop.papers is not None
    return rig.shop.papers.label(bench.job.id)[-1]


async def open_both(pilot: Pilot[None]) -> ScanBothSheet:
    await press(pilot, *UNIT, "enter")
    if not isinstance(pilot.app.screen, TravellerScreen):
        await press(pilot, "enter")  # an ended job is chosen from the unit's visits
    await press(pilot, "p", "b")
    assert isinstance(pilot.app.screen, ScanBothSheet)
    return pilot.app.screen


def said(pilot: Pilot[None]) -> str:
    return " ".join(re.sub("[▐▌▶]", "", shown(pilot)).split())


def scan(pilot: Pilot[None], code: str) -> None:
    """As a scanner types it: in one burst, with Enter at its end."""
    at = 1000.0
    for sign in (*code, "enter"):
        event = Key("space" if sign == " " else sign, sign if len(sign) == 1 else None)
        event.time = at = at + SCANNER_APART_S
        pilot.app.post_message(event)


async def compared(pilot: Pilot[None]) -> None:
    busy = [worker for worker in pilot.app.workers if worker.group == "papers"]
    await pilot.app.workers.wait_for_complete(busy)
    await settle(pilot)


async def scans(pilot: Pilot[None], *codes: str) -> str:
    """One scan after the other; gives the large word."""
    for code in codes:
        scan(pilot, code)
        await settle(pilot)
    await compared(pilot)
    return pilot.app.screen.query_one(BigWord).word


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_two_scans_that_belong_together_match(size: tuple[int, int]) -> None:
    rig = Rig()
    MakerAtHand(rig)
    line = await given_back(rig)
    async with at_desk(rig, size) as pilot:
        await open_both(pilot)
        assert await scans(pilot, UNIT, line) == "MATCH"
        matches_sample(pilot, f"scan-both-{size[0]}x{size[1]}")
        assert "It is no release: returned unrepaired." in said(pilot)


@pytest.mark.parametrize(
    ("unit", "label", "word"),
    [
        ("7Q22064", None, "OTHER SERIAL"),
        (UNIT, "A31-0002 7Q22064 000000", "OTHER JOB"),
        (UNIT, "A31-0001 7Q22051 000000", "OTHER CODE"),
        (UNIT, "A31-0001 7Q22051", "NOT READ"),
        (UNIT, UNIT, "NOT READ"),
    ],
)
async def test_anything_else_says_what_differs(unit: str, label: str | None, word: str) -> None:
    rig = Rig()
    MakerAtHand(rig)
    line = await given_back(rig)
    async with at_desk(rig) as pilot:
        await open_both(pilot)
        assert await scans(pilot, unit, label or line) == word


async def test_the_answer_goes_with_the_next_scan_and_never_stands_beside_it() -> None:
    rig = Rig()
    MakerAtHand(rig)
    line = await given_back(rig)
    async with at_desk(rig) as pilot:
        sheet = await open_both(pilot)
        assert await scans(pilot, UNIT, line) == "MATCH"
        assert [slot.value for slot in sheet.query(Slot)] == ["", ""]
        assert await scans(pilot, "7Q22064") == ""
        assert await scans(pilot, line) == "OTHER SERIAL"


async def test_an_empty_scan_asks_nothing() -> None:
    rig = Rig()
    MakerAtHand(rig)
    await given_back(rig)
    async with at_desk(rig) as pilot:
        sheet = await open_both(pilot)
        await press(pilot, "enter", "enter", "tab", "enter")
        assert sheet.query_one(BigWord).word == ""


async def test_a_record_that_cannot_be_read_is_no_match() -> None:
    def refuse() -> None:
        raise BenchFailed("No rights to read the folder.")

    rig = Rig()
    maker = MakerAtHand(rig)
    line = await given_back(rig)
    maker.before = refuse
    async with at_desk(rig) as pilot:
        await open_both(pilot)
        assert await scans(pilot, UNIT, line) == ""
        assert "No rights to read the folder." in said(pilot)


async def test_a_scan_while_no_slot_has_the_cursor_goes_into_the_next_one() -> None:
    rig = Rig()
    MakerAtHand(rig)
    line = await given_back(rig)
    async with at_desk(rig) as pilot:
        sheet = await open_both(pilot)
        sheet.set_focus(None)
        await settle(pilot)
        await scans(pilot, UNIT)
        sheet.set_focus(None)
        await settle(pilot)
        assert await scans(pilot, line) == "MATCH"


@pytest.mark.parametrize("code", ["blbl", "A31-0001 7Q22051 000000"])
async def test_what_is_scanned_on_the_list_of_papers_is_no_key(code: str) -> None:
    rig = Rig()
    maker = MakerAtHand(rig)
    await given_back(rig)
    async with at_desk(rig) as pilot:
        await open_both(pilot)
        await press(pilot, "escape")
        sheet = pilot.app.screen
        assert isinstance(sheet, PapersSheet)
        scan(pilot, code)
        await settle(pilot)
        assert pilot.app.screen is sheet
        assert "press b first" in said(pilot)
    assert maker.made == []


async def test_a_label_scanned_on_the_traveller_leaves_the_job_in_hand() -> None:
    rig = Rig()
    MakerAtHand(rig)
    await rig.job()
    async with at_desk(rig) as pilot:
        await press(pilot, *UNIT, "enter")
        traveller = pilot.app.screen
        scan(pilot, "A31-0001 7Q22051 000000")
        await settle(pilot)
        assert pilot.app.screen is traveller
        assert "That is a label." in said(pilot)
