"""A proposal is written over what fails or over the one before, and the owner's answer starts from its lines."""

import re

import hand
import pytest
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, shown, type_in
from rig import Rig
from textual.pilot import Pilot
from textual.widgets import TextArea

import sequences
from passcheck.app.screens.agreed import AgreedSlip
from passcheck.app.screens.propose import ProposeSlip
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.widgets.typed import Slot
from passcheck.bench.bench import Bench
from passcheck.job.commands import CloseRun, Propose
from sequences import GUARD, RAIL

LINES = ("Renew C1, C2 together (Supply)", "[b]Polish the lens[/b]")


def said(pilot: Pilot[None]) -> str:
    return " ".join(re.sub("[▐▌▶]", "", shown(pilot)).split())


async def dim(rig: Rig) -> Bench:
    """As found the rail is low."""
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job, "as-found"))
    await rig.walk_step(bench, GUARD)
    await rig.power(bench, RAIL)
    await rig.do(bench, hand.failing(bench.job, RAIL))
    await rig.make_safe(bench)
    return await rig.do(bench, CloseRun("t1"))


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_slip_begins_with_what_fails_and_keeps_what_is_made_of_it(size: tuple[int, int]) -> None:
    rig = Rig()
    bench = await dim(rig)
    async with at_desk(rig, size) as pilot:
        await press(pilot, *"7Q22051", "enter", "d")
        assert isinstance(pilot.app.screen, ProposeSlip)
        matches_sample(pilot, f"propose-{size[0]}x{size[1]}")
        await press(pilot, "end", "enter", "enter")
        await type_in(pilot, "[b]Polish the lens[/b]")
        await press(pilot, "enter", "f4")
        assert isinstance(pilot.app.screen, TravellerScreen)
        assert "Proposed to the owner on 2031-04-02, no answer entered yet." in said(pilot)
        await press(pilot, "w")
        assert "PROPOSED TO THE OWNER" in said(pilot)
        assert "[b]Polish the lens[/b]" in said(pilot)
    assert [one.lines for one in bench.job.proposed] == [LINES]


async def test_the_next_proposal_begins_with_the_one_before() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.do(bench, Propose("t2", LINES))
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter", "d")
        assert pilot.app.screen.query_one(TextArea).text == "\n".join(LINES)
        assert "The proposal of 02.04. 10:00, by t2" in said(pilot)


async def test_nothing_is_proposed_in_no_words() -> None:
    rig = Rig()
    bench = await rig.job()
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter", "d")
        assert "Nothing fails so far." in said(pilot)
        await press(pilot, "f4")
        assert "A line of the proposal is empty." in said(pilot)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, TravellerScreen)
    assert bench.job.proposed == ()


async def test_what_the_owner_agrees_to_is_taken_over_line_by_line() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.do(bench, Propose("t1", ("never mind",)), Propose("t1", LINES))
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter", "ctrl+o")
        assert isinstance(pilot.app.screen, AgreedSlip)
        matches_sample(pilot, "agreed-proposed-80x24")
        scope = pilot.app.screen.query_one("#scope", Slot)
        assert scope.value == ""
        await press(pilot, "down", "enter", "enter")
        assert scope.value == LINES[1]
        await press(pilot, "up", "enter")
        assert scope.value == f"{LINES[1]}; {LINES[0]}"
        await press(pilot, "tab", "tab")
        await type_in(pilot, "Ms Orme")
        await press(pilot, "enter")
    assert bench.job.agreed[-1].scope == f"{LINES[1]}; {LINES[0]}"


async def test_a_proposal_that_was_begun_is_called_to_mind_before_the_program_ends() -> None:
    rig = Rig(sequences.sequence())
    await rig.job()
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter", "d")
        await type_in(pilot, "C1")
        await press(pilot, "ctrl+q")
        assert "an entry is not finished" in said(pilot)
