"""The papers of a job are made beside the work, and no key waits for one."""

import re
from collections.abc import Callable
from threading import Event
from typing import Any, get_args

import hand
import pytest
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, settle, shown
from paper_maker import MakerAtHand
from rig import Rig
from textual.pilot import Pilot
from textual.screen import Screen

from passcheck.app.screens.give_back import GiveBackSlip
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.papers import WORDS_OF, PapersSheet
from passcheck.app.screens.sign_off import SignOffScreen
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.commands import ReturnUnrepaired, SignOff
from passcheck.report.document import Kind

EVERY = ("findings", "test-record", "release-note", "returned-unrepaired", "returned-in-part", "blank-sheet")
LONGEST_WAIT_S = 20


def said(pilot: Pilot[None]) -> str:
    return " ".join(re.sub("[▐▌▶]", "", shown(pilot)).split())


def on(pilot: Pilot[None], kind: type[Screen[Any]]) -> bool:
    return isinstance(pilot.app.screen, kind)


async def made(pilot: Pilot[None]) -> None:
    """Wait until what was asked of the records is there."""
    busy = [worker for worker in pilot.app.workers if worker.group == "papers"]
    await pilot.app.workers.wait_for_complete(busy)
    await settle(pilot)


async def open_papers(pilot: Pilot[None]) -> PapersSheet:
    await press(pilot, *"7Q22051", "enter")
    if not isinstance(pilot.app.screen, TravellerScreen):
        await press(pilot, "enter")  # an ended job is chosen from the unit's visits
    await press(pilot, "p")
    assert isinstance(pilot.app.screen, PapersSheet)
    return pilot.app.screen


def raises(fault: Exception) -> Callable[[], None]:
    def refuse() -> None:
        raise fault

    return refuse


def test_every_kind_of_paper_has_its_words() -> None:
    assert set(WORDS_OF) == set(get_args(Kind))


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_what_can_be_made_is_listed_and_enter_makes_the_one_at_hand(size: tuple[int, int]) -> None:
    rig = Rig()
    maker = MakerAtHand(rig, EVERY, remarks=("Set as plain text: [b]typst[/b] is missing.",))
    await rig.job()
    async with at_desk(rig, size) as pilot:
        await open_papers(pilot)
        await press(pilot, "down", "enter")
        await made(pilot)
        matches_sample(pilot, f"papers-{size[0]}x{size[1]}")
        assert "Test record lies at logs/papers/2031/A31-0001-test-record.pdf" in said(pilot)
        assert "Set as plain text: [b]typst[/b] is missing." in said(pilot)
    assert maker.made == [("A31-0001", "test-record")]


async def test_while_a_paper_is_made_every_key_goes_on_and_no_second_one_is_begun() -> None:
    rig, gate = Rig(), Event()
    maker = MakerAtHand(rig, EVERY, before=lambda: assert_waited(gate))
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job))
    async with at_desk(rig) as pilot:
        await open_papers(pilot)
        await press(pilot, "enter")
        assert "Findings is being made ..." in said(pilot)
        await press(pilot, "down", "enter")
        assert "Findings is still being made." in said(pilot)
        await press(pilot, "f8")
        assert on(pilot, MakeSafeScreen)
        await press(pilot, "escape")
        gate.set()
        await made(pilot)
        assert on(pilot, PapersSheet)
        assert "Findings lies at" in said(pilot)
    assert maker.made == [("A31-0001", "findings")]


def assert_waited(gate: Event) -> None:
    assert gate.wait(LONGEST_WAIT_S)


async def test_a_sheet_that_is_left_meanwhile_says_nothing_more() -> None:
    rig, gate = Rig(), Event()
    MakerAtHand(rig, EVERY, before=lambda: assert_waited(gate))
    await rig.job()
    async with at_desk(rig) as pilot:
        await open_papers(pilot)
        await press(pilot, "enter", "escape")
        gate.set()
        await settle(pilot)
        assert isinstance(pilot.app.screen, TravellerScreen)


@pytest.mark.parametrize("fault", [BenchFailed("No room left on the disk."), FileFault("No room left on the disk.")])
async def test_a_paper_that_could_not_be_made_says_why(fault: Exception) -> None:
    rig = Rig()
    MakerAtHand(rig, EVERY, before=raises(fault))
    await rig.job()
    async with at_desk(rig) as pilot:
        await open_papers(pilot)
        await press(pilot, "enter")
        await made(pilot)
        assert "Findings was not made." in said(pilot)
        assert "No room left on the disk." in said(pilot)


async def test_without_a_maker_the_sheet_names_the_command_and_the_extra() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        await open_papers(pilot)
        assert "'passcheck paper A31-0001' makes them" in said(pilot)
        assert "pip install 'passcheck[report]'" in said(pilot)
        await press(pilot, "l", "b", "enter")
        assert isinstance(pilot.app.screen, PapersSheet)


async def test_a_job_that_bears_no_paper_says_so() -> None:
    rig = Rig()
    MakerAtHand(rig, ())
    await rig.job()
    async with at_desk(rig) as pilot:
        await open_papers(pilot)
        assert "As the job stands there is no paper to make." in said(pilot)


async def test_the_label_of_an_ended_job_is_shown() -> None:
    rig = Rig()
    MakerAtHand(rig)
    bench = await rig.walk(await rig.job())
    await rig.do(bench, SignOff("t1", "7Q22051"))
    async with at_desk(rig) as pilot:
        await open_papers(pilot)
        await press(pilot, "l")
        await made(pilot)
        matches_sample(pilot, "papers-label-80x24")
        for line in ("RELEASED 2031-04-02", "warranty to 2032-04-02", "unit 7Q22051"):
            assert line in said(pilot)


async def test_an_open_job_has_no_label_yet() -> None:
    rig = Rig()
    MakerAtHand(rig)
    await rig.job()
    async with at_desk(rig) as pilot:
        await open_papers(pilot)
        await press(pilot, "l")
        assert "The job is still open" in said(pilot)


async def test_a_label_whose_record_cannot_be_read_says_so() -> None:
    rig = Rig()
    MakerAtHand(rig, before=raises(BenchFailed("No rights to read the folder.")))
    bench = await rig.job()
    await rig.do(bench, ReturnUnrepaired("t1", "no parts"))
    async with at_desk(rig) as pilot:
        await open_papers(pilot)
        await press(pilot, "l")
        await made(pilot)
        assert "No rights to read the folder." in said(pilot)


async def test_the_stamp_of_a_release_leads_to_the_papers() -> None:
    rig = Rig()
    MakerAtHand(rig)
    bench = await rig.walk(await rig.job())
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter", "s", *"7Q22051", "f4")
        assert isinstance(pilot.app.screen, SignOffScreen)
        assert "p Papers" in said(pilot)
        await press(pilot, "p")
        assert isinstance(pilot.app.screen, PapersSheet)
    assert bench.job.ended == "signed off"


async def test_before_the_release_a_p_on_the_signature_is_no_key() -> None:
    rig = Rig()
    MakerAtHand(rig)
    await rig.job()
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter", "s", "p")
        assert isinstance(pilot.app.screen, SignOffScreen)
        assert "Papers" not in shown(pilot)


async def test_a_return_leads_to_the_papers() -> None:
    rig = Rig()
    MakerAtHand(rig)
    bench = await rig.job()
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter", "u")
        assert on(pilot, GiveBackSlip)
        await press(pilot, *"declined", "f4")
        assert "A31-0001: returned unrepaired. Its papers and its label: p." in said(pilot)
        await press(pilot, "p")
        assert on(pilot, PapersSheet)
    assert bench.job.ended == "returned unrepaired"
