"""A practice unit answers the taps of a hand on the very sheet on which they are taken."""

import time
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path

import hand
import pytest
from at_desk import at_desk, press, settle
from rig import TERMINAL, Rig, settings
from tapping import TapHand
from textual.events import Key
from textual.pilot import Pilot

from passcheck.app.desk import Desk
from passcheck.app.plain import Words
from passcheck.app.practice_desk import PracticeDesk
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.tap_trials import TapTrialsScreen
from passcheck.app.widgets import walk_list
from passcheck.app.widgets.lamp import Lamp
from passcheck.app.widgets.tap_unit import ARC, TapUnit
from passcheck.bench.bench import Bench
from passcheck.job.kept_latency import KeptLatency
from passcheck.practice.at_the_bench import PracticeBench
from passcheck.practice.fault import Effect, Fault
from passcheck.practice.fault_list import FaultList
from passcheck.practice.shows import Responds

BOARD = (Path(__file__).parents[2] / "samples" / "tap-board.yaml").read_text("utf-8")
SEEN_LATE_S = 0.05
KEPT = KeptLatency(f"{SEEN_LATE_S}", "0.002", ("12",) * 5, "240", "2031-04-01", TERMINAL)
FAR_S = 10_000.0  # in the future, so that nothing comes of it before the test is over


class Taps:
    """A hand at the sheet of taps."""

    def __init__(self, bench: Bench, pilot: Pilot[None]) -> None:
        self.bench, self.pilot = bench, pilot

    async def tap(self, at_s: float) -> None:
        event = Key("space", " ")
        event.time = at_s
        self.pilot.app.post_message(event)
        await self.pilot.pause()
        await self.pilot.pause()

    @property
    def lamp(self) -> Lamp:
        return self.pilot.app.screen.query_one(Lamp)

    @property
    def pointer(self) -> int:
        """The column in which the pointer stands."""
        lines = str(self.pilot.app.screen.query_one(TapUnit).query_one(".dial", Words).render()).splitlines()
        return lines[1].index("V")

    async def until(self, what: Callable[[], bool]) -> None:
        for _ in range(500):
            if what():
                return
            await self.pilot.pause(0.01)
        raise AssertionError("it never came to that")


@pytest.fixture(autouse=True)
def _eyes_as_quick_as_a_test(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(walk_list, "QUICKEST_S", 0.0)


@asynccontextmanager
async def taps(step: str, *effects: Effect, practice: bool = True) -> AsyncIterator[Taps]:
    """The step's taps are begun."""
    rig = Rig(BOARD, settings_now=settings().model_copy(update={"latency": KEPT, "tap_key": "space"}))
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job), TapHand(1).block(0.55))
    faults = (Fault("broken", "it broke", "CTL", (), effects),) if effects else ()
    async with at_desk(rig) as pilot:
        assert isinstance(pilot.app, Desk)
        if practice:
            units = PracticeBench(lambda of: FaultList(of.sequence, (), (), faults))
            pilot.app.practice = PracticeDesk(units, lambda _minutes: None)
        await pilot.app.push_screen(BenchScreen(bench, step, dwell_s=0))
        await settle(pilot)
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, TapTrialsScreen)
        yield Taps(bench, pilot)


async def test_the_first_tap_presses_the_button_and_the_lamp_lights_once_the_unit_answers() -> None:
    async with taps("sw1") as one:
        assert not one.lamp.lit
        await one.tap(time.monotonic() - 1.0)  # the unit answers well within a second
        await one.until(lambda: one.lamp.lit)
        await one.tap(time.monotonic())
        assert not one.lamp.lit


async def test_before_its_delay_is_over_nothing_lights() -> None:
    async with taps("sw1") as one:
        await one.tap(time.monotonic() + FAR_S)
        assert not one.lamp.lit


async def test_a_dead_button_is_never_answered() -> None:
    async with taps("sw1", Effect("SW1", "dead spots", 1.0)) as one:
        await one.tap(time.monotonic() - 1.0)
        await one.pilot.pause(0.05)
        assert not one.lamp.lit


async def test_each_trial_has_its_own_delay_less_what_this_screen_is_seen_late(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    async with taps("sw1") as one:
        asked: list[float] = []
        monkeypatch.setattr(TapUnit, "_at", lambda _unit, at_s, _call: asked.append(at_s))
        begun = [time.monotonic() + FAR_S + 20 * nth for nth in range(2)]
        for start_s in begun:
            await one.tap(start_s)
            await one.tap(start_s + 0.6)
        practice = one.pilot.app.practice  # type: ignore[attr-defined]
        found = practice.bench.shows(one.bench.job, one.bench.job.sequence.step("sw1"), one.bench.moment())
        assert isinstance(found, Responds)
        after = [at_s - start_s for at_s, start_s in zip(asked, begun, strict=True)]
        assert after == pytest.approx([(delay_s or 0) - SEEN_LATE_S for delay_s in found.delays_s[:2]], abs=1e-5)


async def test_a_time_that_is_judged_by_hand_alone_is_shown_at_its_own_moment(monkeypatch: pytest.MonkeyPatch) -> None:
    async with taps("home", Effect("home", "delays", 2.0)) as one:
        asked: list[float] = []
        monkeypatch.setattr(TapUnit, "_at", lambda _unit, at_s, _call: asked.append(at_s))
        start_s = time.monotonic() + FAR_S
        await one.tap(start_s)
        assert asked == pytest.approx([start_s + 2.0], abs=0.1)


async def test_the_pointer_runs_from_the_first_tap_and_rests_where_the_next_row_begins() -> None:
    async with taps("sweep") as one:
        assert one.pointer == 0
        start_s = time.monotonic() - 1.0
        await one.tap(start_s)
        await one.until(lambda: 0 < one.pointer < ARC - 1)
        for nth in range(1, 4):
            await one.tap(start_s + 0.7 * nth)
        await one.until(lambda: one.pointer == ARC - 1)


async def test_a_lamp_blinks_from_the_beginning_without_any_tap() -> None:
    async with taps("blink") as one:
        await one.until(lambda: one.lamp.lit)
        await one.until(lambda: not one.lamp.lit)
        await one.until(lambda: one.lamp.lit)


async def test_the_sheet_of_the_unit_stays_away_while_taps_are_taken() -> None:
    async with taps("sw1") as one:
        await press(one.pilot, "f10")
        assert isinstance(one.pilot.app.screen, TapTrialsScreen)
        assert one.pilot.app.screen.is_armed


async def test_at_work_nothing_on_the_sheet_answers() -> None:
    async with taps("sw1", practice=False) as one:
        assert not one.pilot.app.screen.query(TapUnit)
        assert not one.pilot.app.screen.query(Lamp)
