"""A hazard message is answered with a fact from the bench, never with a key that a pedal or a scanner could send."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import hand
import pytest
from at_desk import at_desk, press, settle, type_in
from at_desk import shown as window_of
from rig import Rig
from textual.pilot import Pilot

import sequences
from passcheck.app.plain import Words
from passcheck.app.screens.caution import CautionScreen
from passcheck.app.widgets.typed import Slot
from passcheck.bench.bench import Bench
from passcheck.sequence.model import Sequence


@asynccontextmanager
async def caution(
    sequence: Sequence, *names: str, dwell_s: float = 0, person: str = "t1", second: str | None = None
) -> AsyncIterator[tuple[Bench, Pilot[None], CautionScreen]]:
    rig = Rig(sequence)
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job, second=second))
    async with at_desk(rig, person=person) as pilot:
        screen = CautionScreen(bench, names or ("fault-current",), dwell_s)
        await pilot.app.push_screen(screen)
        await settle(pilot)
        yield bench, pilot, screen


def said(screen: CautionScreen, name: str) -> str:
    return str(screen.query_one(f"#{name}", Words).render())


async def test_hazard_harm_what_to_do_and_when_to_stop_stand_in_this_order() -> None:
    async with caution(sequences.with_signal("WARNING")) as (_, pilot, _screen):
        window = window_of(pilot)
        order = ("push 0.30 A into a fault", "Tracks and fingers burn", "DO ", "STOP IF ")
        places = [window.index(words) for words in order]
        assert places == sorted(places)


async def test_a_wrong_fact_is_refused_and_the_right_one_is_not_said() -> None:
    async with caution(sequences.with_signal("WARNING")) as (bench, pilot, screen):
        await type_in(pilot, "0.50")
        await press(pilot, "enter")
        assert bench.job.acknowledged == ()
        assert pilot.app.screen is screen
        window = window_of(pilot)
        assert "REFUSED" in window
        assert "0.285" not in window
        assert "± 5 %" not in window


async def test_the_fact_that_the_display_shows_is_taken_and_the_screen_goes() -> None:
    async with caution(sequences.with_signal("WARNING")) as (bench, pilot, screen):
        await type_in(pilot, "0.30")
        await press(pilot, "enter")
        assert [one.facts.given for one in bench.job.acknowledged] == ["0.30"]
        assert pilot.app.screen is not screen


@pytest.mark.parametrize("signal", ["WARNING", "DANGER"])
@pytest.mark.parametrize("key", ["enter", "space", "u", "y"])
async def test_no_single_key_answers_a_warning_or_a_danger(signal: str, key: str) -> None:
    async with caution(sequences.with_signal(signal)) as (bench, pilot, screen):
        await press(pilot, key)
        await press(pilot, "enter")
        assert bench.job.acknowledged == ()
        assert pilot.app.screen is screen


@pytest.mark.parametrize("key", ["enter", "space", "pagedown"])
async def test_a_pedal_s_key_doesn_t_answer_a_caution_either(key: str) -> None:
    async with caution(sequences.with_signal("CAUTION", confirm=False)) as (bench, pilot, _):
        await press(pilot, key)
        assert bench.job.acknowledged == ()


async def test_a_caution_takes_the_key_that_it_names() -> None:
    async with caution(sequences.with_signal("CAUTION", confirm=False)) as (bench, pilot, screen):
        assert "Press U" in said(screen, "ask")
        await press(pilot, "u")
        assert len(bench.job.acknowledged) == 1


async def test_nothing_is_taken_before_the_message_could_be_read() -> None:
    async with caution(sequences.with_signal("CAUTION", confirm=False), dwell_s=3600) as (bench, pilot, screen):
        assert "WAIT" in said(screen, "ask")
        await press(pilot, "u")
        assert bench.job.acknowledged == ()


async def test_the_slot_for_a_fact_opens_after_the_dwell_only() -> None:
    async with caution(sequences.with_signal("WARNING"), dwell_s=3600) as (_, _pilot, screen):
        assert screen.query_one("#fact", Slot).disabled


async def test_a_danger_names_the_person_and_defers_to_licensed_practice() -> None:
    async with caution(sequences.with_signal("DANGER"), person="k9") as (_, _pilot, screen):
        assert "The lead (k9) answers this" in said(screen, "person")
        assert "licensed or authorised people" in said(screen, "person")


async def test_several_messages_come_one_after_the_other_the_worst_first() -> None:
    both = ("fault-current", "mains")
    async with caution(sequences.hazardous_live(), *both, person="k9", second="t1") as (bench, pilot, screen):
        assert "mains potential" in said(screen, "hazard")
        await type_in(pilot, "230")
        await press(pilot, "enter")
        assert "0.30 A into a fault" in said(screen, "hazard")
        await type_in(pilot, "0.30")
        await press(pilot, "enter")
        assert [one.facts.caution for one in bench.job.acknowledged] == ["mains", "fault-current"]
        assert pilot.app.screen is not screen


async def test_escape_leaves_the_caution_unanswered() -> None:
    async with caution(sequences.with_signal("WARNING")) as (bench, pilot, screen):
        await press(pilot, "escape")
        assert bench.job.acknowledged == ()
        assert pilot.app.screen is not screen


async def test_a_message_longer_than_the_window_is_read_to_its_end_before_it_can_be_answered() -> None:
    long = {**sequences.FAULT_CURRENT, "avoid": [f"Step {n}: keep hands off the marked line." for n in range(30)]}
    rig = Rig(sequences.sequence(cautions={"fault-current": long}))
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job), hand.passing(bench.job, sequences.GUARD))
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(CautionScreen(bench, ("fault-current",), dwell_s=0))
        await settle(pilot)
        assert "MORE BELOW: Page Down reads on." in window_of(pilot)
        assert "STOP IF" not in window_of(pilot)
        assert pilot.app.screen.query_one("#fact").disabled
        for _ in range(12):
            await press(pilot, "pagedown")
        assert "STOP IF" in window_of(pilot)
        assert not pilot.app.screen.query_one("#fact").disabled
