"""Make safe from everywhere: recorded at the key, large lines, readings with their wait, and nothing claimed."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import hand
import pytest
from at_desk import LARGE, SMALL, at_desk, press, settle, type_in
from at_desk import shown as window_of
from rig import Rig
from textual import events
from textual.pilot import Pilot

import sequences
from passcheck.app.plain import Words
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.caution import CautionScreen
from passcheck.app.screens.make_safe import FIRST_LINE, MakeSafeScreen
from passcheck.app.widgets.fields import Fields
from passcheck.app.widgets.typed import Slot
from passcheck.bench.bench import Bench
from passcheck.job.fixed_words import REBOUND
from passcheck.job.power import proved_dead, told
from passcheck.sequence.model import Sequence


@asynccontextmanager
async def powered(
    sequence: Sequence, size: tuple[int, int] = SMALL
) -> AsyncIterator[tuple[Rig, Bench, Pilot[None], BenchScreen]]:
    """The supply is told on and the rail step lies on the bench."""
    rig = Rig(sequence)
    bench = await rig.job()
    if sequence.stored_energy:
        await rig.make_safe(bench)
    await rig.do(bench, hand.start(bench.job), hand.passing(bench.job, sequences.GUARD))
    await rig.power(bench, sequences.RAIL)
    async with at_desk(rig, size) as pilot:
        screen = BenchScreen(bench, dwell_s=0)
        await pilot.app.push_screen(screen)
        await settle(pilot)
        yield rig, bench, pilot, screen


async def fill(pilot: Pilot[None], *texts: str) -> None:
    for text in texts:
        await type_in(pilot, text)
        await press(pilot, "enter")


def sheet(pilot: Pilot[None]) -> MakeSafeScreen:
    screen = pilot.app.screen
    assert isinstance(screen, MakeSafeScreen)
    return screen


def states(bench: Bench) -> set[str]:
    return set(told(bench.job, bench.moment()).values())


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_first_line_says_what_the_key_doesn_t_do(size: tuple[int, int]) -> None:
    async with powered(sequences.much_energy(), size) as (_, _bench, pilot, _screen):
        await press(pilot, "f8")
        window = " ".join(window_of(pilot).split())
        assert FIRST_LINE in window
        assert "TP9 to TP0" in window
        assert REBOUND in " ".join(str(words.render()) for words in sheet(pilot).query(Words))


async def test_the_key_is_recorded_before_anything_is_asked() -> None:
    async with powered(sequences.sequence()) as (_, bench, pilot, _screen):
        await press(pilot, "f8")
        assert states(bench) == {"unknown"}


async def test_little_energy_takes_one_reading_at_the_supply() -> None:
    async with powered(sequences.sequence()) as (_, bench, pilot, screen):
        await press(pilot, "f8")
        await fill(pilot, "0.02")
        assert states(bench) == {"off"}
        assert proved_dead(bench.job)
        assert pilot.app.screen is screen


async def test_volts_that_are_still_there_are_refused_in_place_and_can_be_mended() -> None:
    async with powered(sequences.sequence()) as (_, bench, pilot, _screen):
        await press(pilot, "f8")
        await fill(pilot, "14.2")
        assert "14.2" in window_of(pilot)
        assert "REFUSED" in window_of(pilot)
        assert states(bench) == {"unknown"}
        slot = sheet(pilot).query_one(Fields).slots[1]
        slot.value = "0.1"
        await press(pilot, "enter")
        assert states(bench) == {"off"}


async def test_every_point_is_proved_with_source_both_ways_wait_again_and_source() -> None:
    async with powered(sequences.much_energy()) as (rig, bench, pilot, screen):
        await press(pilot, "f8")
        await fill(pilot, "9.01", "0.04", "-0.04")
        assert "WAIT 10 s" in str(sheet(pilot).query_one("#wait", Words).render())
        await fill(pilot, "0.11")
        assert "the wait isn't over" in window_of(pilot)
        rig.clock.pass_time(seconds=10)
        await press(pilot, "enter")
        await fill(pilot, "9.00", "no")
        assert pilot.app.screen is screen
        assert states(bench) == {"off"}
        assert proved_dead(bench.job)


async def test_the_wait_counts_down_without_a_key() -> None:
    async with powered(sequences.much_energy()) as (rig, _bench, pilot, _screen):
        await press(pilot, "f8")
        await fill(pilot, "9.01", "0.04", "-0.04")
        rig.clock.pass_time(seconds=7)
        await pilot.pause(0.3)
        assert "WAIT 3 s" in str(sheet(pilot).query_one("#wait", Words).render())
        rig.clock.pass_time(seconds=3)
        await pilot.pause(0.3)
        assert "READ TP9 to TP0 AGAIN" in str(sheet(pilot).query_one("#wait", Words).render())


async def test_ac_is_measured_where_the_sequence_names_it() -> None:
    async with powered(sequences.much_energy(ac=True)) as (rig, bench, pilot, _screen):
        await press(pilot, "f8")
        await fill(pilot, "9.01", "0.04", "-0.04", "0.01")
        rig.clock.pass_time(seconds=11)
        await fill(pilot, "0.11", "9.00", "no")
        assert proved_dead(bench.job)


async def test_a_shorting_lead_that_is_left_on_forbids_power_until_it_is_taken_off() -> None:
    async with powered(sequences.much_energy()) as (rig, bench, pilot, _screen):
        await press(pilot, "f8")
        await fill(pilot, "9.01", "0.04", "-0.04")
        rig.clock.pass_time(seconds=10)
        await fill(pilot, "0.11", "9.00", "yes")
        assert [it.change for it in bench.job.fitted] == ["shorting lead"]
        assert "Still fitted: shorting lead" in " ".join(window_of(pilot).split())


async def test_a_tester_that_fails_on_the_known_source_proves_nothing_and_loses_nothing() -> None:
    async with powered(sequences.much_energy()) as (rig, bench, pilot, _screen):
        await press(pilot, "f8")
        await fill(pilot, "9.01", "0.04", "-0.04")
        rig.clock.pass_time(seconds=10)
        await fill(pilot, "0.11", "3.20", "no")
        assert states(bench) == {"unknown"}
        assert "can't be trusted" in " ".join(window_of(pilot).replace("█", " ").split())
        assert [slot.value for slot in sheet(pilot).query_one(Fields).slots][1:4] == ["9.01", "0.04", "-0.04"]


async def test_it_can_be_left_and_says_that_power_stays_unknown() -> None:
    async with powered(sequences.much_energy()) as (_, bench, pilot, screen):
        await press(pilot, "f8", "escape")
        assert pilot.app.screen is screen
        assert states(bench) == {"unknown"}
        assert "battery unknown: make safe first (F8)" in window_of(pilot)


async def test_the_tester_is_today_s_meter() -> None:
    async with powered(sequences.sequence()) as (_, _bench, pilot, _screen):
        await press(pilot, "f8")
        assert sheet(pilot).query_one(Fields).slots[0].value == "M1"


async def test_the_key_works_while_an_entry_is_half_typed_and_the_entry_is_kept() -> None:
    async with powered(sequences.sequence()) as (_, bench, pilot, screen):
        await type_in(pilot, "5.0")
        await press(pilot, "f8")
        assert isinstance(pilot.app.screen, MakeSafeScreen)
        assert states(bench) == {"unknown"}
        assert [slot.value for slot in screen.query(Slot)] == ["5.0"]


async def test_the_key_works_over_an_open_sheet() -> None:
    async with powered(sequences.sequence()) as (_, bench, pilot, _screen):
        await pilot.app.push_screen(CautionScreen(bench, ("fault-current",), 3600))
        await press(pilot, "f8")
        assert isinstance(pilot.app.screen, MakeSafeScreen)


async def test_the_key_works_in_the_middle_of_a_paste() -> None:
    async with powered(sequences.sequence()) as (_, bench, pilot, _screen):
        pilot.app.post_message(events.Paste("9" * 10_000))
        pilot.app.post_message(events.Key("f8", None))
        await settle(pilot)
        assert isinstance(pilot.app.screen, MakeSafeScreen)
        assert states(bench) == {"unknown"}


async def test_discharging_shows_its_own_cautions() -> None:
    hot = {"signal": "CAUTION", "hazard": "The bank is charged.", "harm": "A slip burns.", "avoid": "Use the lead."}
    caution = {**hot, "stop_if": "it keeps climbing"}
    cautions = {"fault-current": sequences.FAULT_CURRENT, "bank": caution}
    place = {**sequences.MUCH_ENERGY, "cautions": ["bank"]}
    async with powered(sequences.sequence(stored_energy=[place], cautions=cautions)) as (_, _bench, pilot, _screen):
        await press(pilot, "f8")
        assert "The bank is charged." in " ".join(window_of(pilot).split())
