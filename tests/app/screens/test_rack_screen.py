"""The rack, a look at one of its units, and the bench on which its steps are walked."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import hand
import pytest
import soaking
from at_desk import LARGE, SMALL, at_desk, press, settle, shown, type_in
from rig import Rig
from textual.pilot import Pilot

import sequences
from passcheck.app.app import PasscheckApp
from passcheck.app.plain import Words
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.rack import RackScreen
from passcheck.app.screens.soak import LookSlip, StartSoakSlip, continuity_of
from passcheck.app.widgets.big_word import BigWord
from passcheck.app.widgets.rack_board import RackBoard
from passcheck.bench.bench import Bench
from passcheck.errors import BenchFailed
from passcheck.job.shelf_row import ShelfRow
from passcheck.job.soak import soak_now

BOARD = sequences.with_soak()


async def powered(rig: Rig, serial: str) -> Bench:
    """An accepted unit, powered in a burn-in run."""
    bench = await rig.job(serial=serial)
    await rig.walk(bench)
    await rig.do(bench, hand.start(bench.job, "burn-in"))
    return await rig.power(bench, "soak")


async def on_soak(rig: Rig, serial: str) -> Bench:
    """A unit on soak with its first look done."""
    bench = await powered(rig, serial)
    await rig.do(bench, soaking.start(bench.job))
    await rig.walk_step(bench, sequences.RAIL)
    return bench


@asynccontextmanager
async def the_rack(rig: Rig, size: tuple[int, int] = SMALL) -> AsyncIterator[Pilot[None]]:
    async with at_desk(rig, size) as pilot:
        await pilot.app.push_screen(RackScreen())
        await settle(pilot)
        yield pilot


async def enter(pilot: Pilot[None], *texts: str) -> None:
    for text in texts:
        if text:
            await type_in(pilot, text)
        await press(pilot, "enter")


async def test_tags_that_cannot_be_read_are_told_as_not_read(monkeypatch: pytest.MonkeyPatch) -> None:
    def unreadable() -> tuple[ShelfRow, ...]:
        raise BenchFailed("No rights to read the folder.")

    rig = Rig(BOARD)
    monkeypatch.setattr(rig.shop, "shelf", unreadable)
    async with the_rack(rig) as pilot:
        assert "NOT READ  No rights to read the folder." in shown(pilot)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_every_soaking_unit_stands_there_with_when_it_is_due(size: tuple[int, int]) -> None:
    rig = Rig(BOARD)
    await on_soak(rig, "7Q22051")
    rig.clock.pass_time(minutes=35)
    await on_soak(rig, "7Q22052")
    async with the_rack(rig, size) as pilot:
        window = shown(pilot)
        assert window.index("7Q22051") < window.index("7Q22052")
        assert "in 25 min" in window
        assert "in 1 h 00 min" in window
        assert "Between checks nobody is watching. This screen sees no smoke, heat or current." in window


async def test_an_empty_rack_says_so() -> None:
    async with the_rack(Rig(BOARD)) as pilot:
        assert "No unit is on soak" in shown(pilot)


async def test_time_alone_makes_a_look_due_late_and_missed_and_rings(monkeypatch: pytest.MonkeyPatch) -> None:
    rig = Rig(BOARD)
    await on_soak(rig, "7Q22051")
    async with the_rack(rig) as pilot:
        rung: list[str] = []
        monkeypatch.setattr(pilot.app, "bell", lambda: rung.append("bell"))
        screen = pilot.app.screen
        assert isinstance(screen, RackScreen)
        screen.tick()
        assert rung == []
        for minutes, words in ((60, "DUE NOW"), (20, "LATE by 20 min"), (60, "MISSED, late by 1 h 20 min")):
            rig.clock.pass_time(minutes=minutes)
            screen.tick()
            await settle(pilot)
            assert words in shown(pilot)
        assert rung == ["bell"], "once, and then once a minute of the screen's own time"


async def test_scanning_a_serial_opens_its_look_and_the_steps_follow() -> None:
    rig = Rig(BOARD)
    bench = await on_soak(rig, "7Q22051")
    rig.clock.pass_time(minutes=60)
    async with the_rack(rig) as pilot:
        await enter(pilot, "7q22051")
        assert isinstance(pilot.app.screen, LookSlip)
        await enter(pilot, "24.0", "0.15", "no", "1205.60 h")
        assert bench.job.soaks[-1].looks[-1].continuity == "1205.60 h"
        await settle(pilot)
        assert "5 V logic rail" in shown(pilot)


async def test_a_line_of_the_rack_asks_for_the_serial_off_the_unit() -> None:
    rig = Rig(BOARD)
    await on_soak(rig, "7Q22051")
    async with the_rack(rig) as pilot:
        await press(pilot, "down", "enter")
        screen = pilot.app.screen
        assert isinstance(screen, LookSlip)
        assert screen.query_one("Fields").slots[0].value == ""  # type: ignore[attr-defined]
        assert screen.query_one("Fields").slots[0].has_focus  # type: ignore[attr-defined]


async def test_what_is_wrong_at_a_look_is_asked_once_more_and_then_ends_the_soak() -> None:
    rig = Rig(BOARD)
    bench = await on_soak(rig, "7Q22051")
    async with the_rack(rig) as pilot:
        await enter(pilot, "7Q22051")
        await enter(pilot, "9.0", "0.15", "no", "lost: breaker was down")
        assert "not a unit at rest on soak" in shown(pilot)
        await enter(pilot, "9.0", "0.15", "no", "lost: breaker was down")
        assert bench.job.open_soak is None
        assert bench.job.soaks[-1].looks[-1].lost == "breaker was down"
        assert "unknown" in shown(pilot)


async def test_a_unit_found_without_power_ends_its_soak() -> None:
    rig = Rig(BOARD)
    bench = await on_soak(rig, "7Q22051")
    async with the_rack(rig) as pilot:
        await enter(pilot, "7Q22051")
        await press(pilot, "f6")
        assert bench.job.soaks[-1].ended == "found without power"


async def test_a_look_that_falls_due_is_called_for_on_other_screens(monkeypatch: pytest.MonkeyPatch) -> None:
    rig = Rig(BOARD)
    await on_soak(rig, "7Q22051")
    other = await powered(rig, "7Q22052")
    async with at_desk(rig, LARGE) as pilot:
        await pilot.app.workers.wait_for_complete()
        await pilot.app.push_screen(BenchScreen(other, dwell_s=0))
        await settle(pilot)
        assert isinstance(pilot.app, PasscheckApp)
        rung: list[str] = []
        monkeypatch.setattr(pilot.app, "bell", lambda: rung.append("bell"))
        pilot.app.call_for_looks()
        rig.clock.pass_time(minutes=61)
        pilot.app.call_for_looks()
        pilot.app.call_for_looks()
        await settle(pilot)
        assert "On soak: 7Q22051, DUE NOW." in shown(pilot)
        assert rung == ["bell"]


async def test_a_look_that_was_made_is_called_for_no_longer() -> None:
    rig = Rig(BOARD)
    bench = await on_soak(rig, "7Q22051")
    async with at_desk(rig) as pilot:
        await pilot.app.workers.wait_for_complete()
        assert isinstance(pilot.app, PasscheckApp)
        await pilot.app.push_screen(BenchScreen(bench, dwell_s=0))
        rig.clock.pass_time(minutes=60)
        pilot.app.call_for_looks()
        await settle(pilot)
        assert "On soak: 7Q22051, DUE NOW." in shown(pilot)
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, LookSlip)
        await enter(pilot, "7Q22051", "24.0", "0.15", "no", "1205.60 h")
        assert len(bench.job.soaks[-1].looks) == 2
        assert "On soak" not in shown(pilot)
        await rig.walk_step(bench, sequences.RAIL)
        rig.clock.pass_time(minutes=30)
        pilot.app.call_for_looks()
        await settle(pilot)
        assert "On soak" not in shown(pilot)


async def test_a_serial_that_does_not_soak_is_told() -> None:
    async with the_rack(Rig(BOARD)) as pilot:
        await enter(pilot, "7Q99999")
        assert "7Q99999 is not on soak." in shown(pilot)


async def test_the_bench_starts_a_soak_walks_its_first_look_and_ends_it() -> None:
    rig = Rig(BOARD)
    bench = await powered(rig, "7Q22051")
    async with at_desk(rig, SMALL) as pilot:
        await pilot.app.push_screen(BenchScreen(bench, dwell_s=0))
        await settle(pilot)
        assert "The unit has power and is not on soak yet." in shown(pilot)
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, StartSoakSlip)
        await enter(pilot, "", "0.15", "no", soaking.METER_AT_START)
        assert bench.job.open_soak is not None
        await settle(pilot)
        assert "5 V logic rail" in shown(pilot)
        await rig.walk_step(bench, sequences.RAIL)
        for hour in range(1, 5):
            rig.clock.pass_time(hours=1)
            await rig.do(bench, soaking.check(bench.job, continuity=soaking.meter_after(bench.job, 3600 * hour)))
            await rig.walk_step(bench, sequences.RAIL)
        assert soak_now(bench.job, soaking.soak_of(bench.job)).complete
        screen = pilot.app.screen
        assert isinstance(screen, BenchScreen)
        await screen.redraw()
        await settle(pilot)
        assert "End the soak" in shown(pilot)
        await press(pilot, "enter")
        assert bench.job.attempts[-1].judgement.verdict == "pass"
        assert bench.job.attempts[-1].step == "soak"
        verdict = str(screen.query_one("#verdict", Words).render())
        assert verdict == f"Four hours at power: {bench.job.attempts[-1].judgement.sentence}"
        assert screen.query_one("#word", BigWord).word == "PASS"
        assert screen.query_one("#result").display


async def test_a_soak_that_is_refused_says_why_on_a_slip_that_fills_the_window() -> None:
    rig = Rig(sequences.with_steps({**sequences.SOAK_STEP, "ambient": "10 °C .. 35 °C", "unattended": True}))
    bench = await powered(rig, "7Q22051")
    async with at_desk(rig, SMALL) as pilot:
        await pilot.app.push_screen(BenchScreen(bench, dwell_s=0))
        await settle(pilot)
        await press(pilot, "enter")
        await enter(pilot, "", "0.15", "no", soaking.METER_AT_START, "22", "F1, 500 mA", "", "", "")
        assert bench.job.open_soak is None
        assert "REFUSED" in shown(pilot)


async def test_a_look_half_done_is_gone_on_with_and_no_new_one_is_opened() -> None:
    rig = Rig(BOARD)
    bench = await powered(rig, "7Q22051")
    await rig.do(bench, soaking.start(bench.job))
    async with the_rack(rig) as pilot:
        assert "LOOK OPEN, 1 step to pass" in shown(pilot)
        await enter(pilot, "7Q22051")
        assert isinstance(pilot.app.screen, BenchScreen)


async def test_a_dip_that_hit_two_units_is_seen_on_the_rack() -> None:
    rig = Rig(BOARD)
    benches = [await on_soak(rig, serial) for serial in ("7Q22051", "7Q22052")]
    rig.clock.pass_time(minutes=60)
    for bench in benches:
        await rig.do(bench, soaking.check(bench.job, continuity=None, lost="mains dip at 03:12"))
        await rig.walk_step(bench, sequences.RAIL)
    async with the_rack(rig, LARGE) as pilot:
        window = " ".join(shown(pilot).split())
        assert "2 units may have lost power between" in window
        assert "lost: mains dip" in window


async def test_the_shelf_opens_the_rack_and_escape_goes_back() -> None:
    rig = Rig(BOARD)
    async with at_desk(rig, SMALL) as pilot:
        await press(pilot, "f7")
        assert isinstance(pilot.app.screen, RackScreen)
        assert pilot.app.screen.query_one(RackBoard)
        await press(pilot, "escape")
        assert not isinstance(pilot.app.screen, RackScreen)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("1205.6 h", ("1205.6 h", "")),
        ("held", ("held", "")),
        ("lost", (None, "")),
        ("Lost: breaker was down", (None, "breaker was down")),
        ("no, mains dip", (None, "mains dip")),
        ("not seen to drop", ("not seen to drop", "")),
        ("", (None, "")),
    ],
)
def test_lost_is_told_apart_from_what_shows_power(typed: str, meant: tuple[str | None, str]) -> None:
    assert continuity_of(typed) == meant
