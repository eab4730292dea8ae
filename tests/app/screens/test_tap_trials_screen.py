"""Taps at the bench: what they come to, what breaks them off, and that a pedal does nothing else."""

import time
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from functools import partial
from pathlib import Path

import hand
import pytest
from at_desk import SMALL, at_desk, press, settle, shown, type_in
from rig import TERMINAL, Rig, settings
from tapping import TapHand
from textual.events import Key
from textual.pilot import Pilot

from passcheck.app import job_screen
from passcheck.app.plain import tell
from passcheck.app.reader_lost import ReaderLost
from passcheck.app.screens import bench as bench_module
from passcheck.app.screens import timing
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.learn_key import LearnKey
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.reference import ReferenceScreen
from passcheck.app.screens.rework import ReworkScreen
from passcheck.app.screens.tap_trials import TapTrialsScreen
from passcheck.app.widgets import walk_list
from passcheck.app.widgets.lamp import Lamp
from passcheck.app.widgets.tick import Tick
from passcheck.bench.bench import Bench
from passcheck.job.answers import TapPairsAnswer, TapRowsAnswer
from passcheck.job.kept_block import KeptBlock
from passcheck.job.kept_latency import KeptLatency
from passcheck.job.state import Attempt

BOARD = (Path(__file__).parents[2] / "samples" / "tap-board.yaml").read_text("utf-8")
KEPT = KeptLatency("0.05", "0.002", ("12",) * 5, "240", "2031-04-01", TERMINAL)
FAR_S = 10_000.0  # taps in the future, so that no time-out comes between them


class Pedal:
    """A unit on the bench, and a foot."""

    def __init__(self, rig: Rig, bench: Bench, pilot: Pilot[None]) -> None:
        self.rig, self.bench, self.pilot = rig, bench, pilot
        self.at_s = time.monotonic() + FAR_S

    async def tap(self, *times_s: float, key: str = "space") -> None:
        """Tap at these seconds of the trial's own clock."""
        for time_s in times_s:
            event = Key(key, " " if key == "space" else None)
            event.time = self.at_s + time_s
            self.pilot.app.post_message(event)
            await self.pilot.pause()

    async def trial(self, *times_s: float) -> None:
        """Trials of two taps."""
        for time_s in times_s:
            self.at_s += 20
            await self.tap(0.0, time_s)

    async def until_judged(self) -> Attempt:
        """Wait until the course has settled and its attempt is kept."""
        for _ in range(500):
            if not isinstance(self.pilot.app.screen, TapTrialsScreen):
                break
            await self.pilot.pause(0.02)
        await settle(self.pilot)
        return self.bench.job.attempts[-1]

    def keep_block_of_today(self, middle_s: float) -> str:
        """Reference trials around `middle_s`, tapped at six this morning; gives the day."""
        block = TapHand(1).block(middle_s)
        day = self.bench.moment().local().date().isoformat()
        self.rig.settings.keep_block(
            KeptBlock("t1", day, f"{day}T06:00:00Z", TERMINAL, block.middle_s, block.trials, block.how)
        )
        return day

    @property
    def events(self) -> list[str]:
        return [line.event for line in self.rig.files.journals[self.bench.job.id]]


@asynccontextmanager
async def pedal(
    step: str, *, begun: bool = True, key: str | None = "space", block: bool = True, size: tuple[int, int] = SMALL
) -> AsyncIterator[Pedal]:
    """The step lies on the bench; with `begun` its taps are taken already."""
    rig = Rig(BOARD, settings_now=settings().model_copy(update={"latency": KEPT, "tap_key": key}))
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job))
    if block:
        await rig.do(bench, TapHand(1).block(0.55))
    async with at_desk(rig, size) as pilot:
        await pilot.app.push_screen(BenchScreen(bench, step, dwell_s=0))
        await settle(pilot)
        one = Pedal(rig, bench, pilot)
        if begun:
            await press(pilot, "enter")
            assert isinstance(pilot.app.screen, TapTrialsScreen)
        yield one


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(walk_list, "QUICKEST_S", 0.0)
    monkeypatch.setattr(timing, "SETTLE_S", 0.02)


async def test_three_quick_trials_pass_and_the_number_line_stands_under_the_sentence() -> None:
    async with pedal("sw1") as one:
        assert "Trial 1 of 3" in shown(one.pilot)
        await one.trial(0.45, 0.46)
        assert "Trial 3 of 3" in shown(one.pilot)
        assert "0.4" not in shown(one.pilot)  # no running times between trials
        await one.trial(0.44)
        kept = await one.until_judged()
        assert (kept.judgement.verdict, kept.reference) == ("pass", 1)
        window = shown(one.pilot)
        assert "is inside at most 0.5 s" in " ".join(window.split())
        assert "┃" in window
        assert "timing begun" in one.events


async def test_a_slow_unit_is_told_how_many_more_trials_may_decide_it_and_fails() -> None:
    async with pedal("sw1") as one:
        await one.trial(1.1, 1.12, 1.09)
        assert "2 more trials may decide it" in shown(one.pilot)
        await one.trial(1.1, 1.1)
        assert (await one.until_judged()).judgement.verdict == "fail"
        assert isinstance(one.pilot.app.screen, BenchScreen)


async def test_a_unit_that_never_answers_fails_by_the_time_out() -> None:
    async with pedal("sw1") as one:
        one.at_s = time.monotonic() - 2.9  # 3 s are waited for
        await one.tap(0.0)
        kept = await one.until_judged()
        assert kept.judgement.sentence.startswith("No response")


@pytest.mark.parametrize("why", ["the window changed its size", "another window took the keys"])
async def test_what_comes_between_makes_the_taps_void_says_so_and_begins_clean(why: str) -> None:
    async with pedal("sw1") as one:
        await one.trial(0.45)
        if "size" in why:
            await one.pilot.resize_terminal(90, 30)
        else:
            one.pilot.app.app_focus = False
        await settle(one.pilot)
        assert f"Void: {why}. It begins anew." in shown(one.pilot)
        assert "Trial 1 of 3" in shown(one.pilot)
        assert one.events[-2:] == ["timing interrupted", "timing begun"]
        line = one.rig.files.journals[one.bench.job.id][-2]
        assert len(line.data["pairs"]) == 1  # type: ignore[arg-type]
        one.pilot.app.app_focus = True
        await one.trial(0.45, 0.46, 0.44)
        kept = await one.until_judged()
        assert isinstance(kept.answer, TapPairsAnswer)
        assert len(kept.answer.pairs) == 3


async def test_make_safe_goes_first_and_breaks_the_taps_off() -> None:
    async with pedal("sw1") as one:
        await one.trial(0.45)
        await one.tap(10.0)
        await press(one.pilot, "f8")
        assert isinstance(one.pilot.app.screen, MakeSafeScreen)
        assert one.events[-1] in ("timing interrupted", "power told")
        assert "timing interrupted" in one.events
        await one.tap(10.5)  # does nothing here
        await press(one.pilot, "escape")
        assert isinstance(one.pilot.app.screen, BenchScreen)
        assert one.bench.job.attempts == ()


async def test_a_lost_reader_voids_the_begun_trial_and_marks_the_step() -> None:
    async with pedal("sw1") as one:
        await one.trial(0.45)
        await one.tap(20.0)
        one.pilot.app.post_message(ReaderLost())
        await settle(one.pilot)
        assert "was lost; the screen stamps now" in " ".join(shown(one.pilot).split())
        one.at_s += 30
        await one.trial(0.46, 0.44)
        kept = await one.until_judged()
        assert kept.judgement.verdict == "pass"
        assert "stamped by the screen" in kept.judgement.sentence
        assert isinstance(kept.answer, TapPairsAnswer)
        assert (kept.answer.how.stamped_by, kept.answer.how.resolution_s) == ("screen", "0.024")


async def test_a_trial_is_taken_back_with_a_reason_and_stays_on_record() -> None:
    async with pedal("sw1") as one:
        await one.trial(0.45, 3.0)
        await press(one.pilot, "f4")
        await type_in(one.pilot, "3")
        await press(one.pilot, "enter")
        assert "Trial 2 of 3" in shown(one.pilot)
        assert "looked away" in shown(one.pilot)
        await one.trial(0.46, 0.44)
        kept = await one.until_judged()
        assert isinstance(kept.answer, TapPairsAnswer)
        assert [pair.void for pair in kept.answer.pairs] == ["", "looked away", "", ""]
        assert kept.judgement.verdict == "pass"


async def test_escape_breaks_off_and_the_bench_says_so() -> None:
    async with pedal("sw1") as one:
        await one.trial(0.45)
        await press(one.pilot, "escape")
        assert isinstance(one.pilot.app.screen, BenchScreen)
        assert "Taps broken off (left by the person who taps): void." in " ".join(shown(one.pilot).split())


async def test_a_held_key_is_no_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(timing, "SETTLE_S", 5.0)  # nothing is judged before it shows what the last tap was
    async with pedal("sw1") as one:
        await one.trial(0.45, 0.45)
        one.at_s += 20
        await one.tap(0.0, 0.5, 0.533, 0.566, 0.6, 0.633)
        await one.pilot.pause(0.05)
        assert "Trial 3 of 3" in shown(one.pilot)
        assert "a tap came double or from a held key" in shown(one.pilot)


async def test_nothing_is_drawn_by_time_while_taps_are_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    calls: list[str] = []
    monkeypatch.setattr(job_screen, "HEAD_REFRESH_S", 0.01)
    monkeypatch.setattr(bench_module, "LOOK_AGAIN_S", 0.01)
    monkeypatch.setattr(BenchScreen, "look_again", lambda _: calls.append("look"))
    monkeypatch.setattr(job_screen.JobScreen, "refresh_head", lambda _: calls.append("head"))
    async with pedal("sw1", begun=False) as one:
        tell(one.pilot.app, "said before the taps began")
        await press(one.pilot, "enter")
        assert isinstance(one.pilot.app.screen, TapTrialsScreen)
        assert "said before" not in shown(one.pilot)
        calls.clear()
        await one.pilot.pause(0.1)
        assert calls == []
        await press(one.pilot, "escape")
        await one.pilot.pause(0.1)
        assert "head" in calls


async def test_a_pedal_is_learned_with_the_first_step_that_needs_it() -> None:
    async with pedal("home", begun=False, key=None) as one:
        await press(one.pilot, "enter")
        assert isinstance(one.pilot.app.screen, LearnKey)
        await press(one.pilot, "enter", "f4", "b")
        assert "B can't be the tap key: it does something else" in " ".join(shown(one.pilot).split())
        await one.tap(0.0, key="space")
        await press(one.pilot, "y")
        assert "Y came. Press it once more" in shown(one.pilot)
        await press(one.pilot, "y")
        assert one.rig.settings.current.tap_key == "y"
        assert "Trial 1 of 3" in shown(one.pilot)


async def test_the_tap_key_does_nothing_where_no_taps_are_taken() -> None:
    async with pedal("home", begun=False) as one:
        await one.pilot.app.push_screen(ReworkScreen(one.bench))
        await settle(one.pilot)
        tick = one.pilot.app.screen.query(Tick).first()
        tick.focus()
        await one.tap(0.0)
        await settle(one.pilot)
        assert not tick.value
        await press(one.pilot, "enter")
        assert tick.value


async def test_reference_trials_come_first_and_leaving_them_leaves_the_step() -> None:
    async with pedal("sw1", begun=False, block=False) as one:
        assert "First a warm-up of about 1 min" in shown(one.pilot)
        await press(one.pilot, "enter")
        assert isinstance(one.pilot.app.screen, ReferenceScreen)
        assert "Trial 1 of 20" in shown(one.pilot)
        await press(one.pilot, "escape")
        assert isinstance(one.pilot.app.screen, BenchScreen)
        assert "timing begun" not in one.events


async def test_the_days_block_is_taken_over_after_five_trials() -> None:
    async with pedal("sw1", begun=False, block=False) as one:
        day = one.keep_block_of_today(0.55)
        await press(one.pilot, "enter")
        assert "5 TRIALS: does today's block still hold" in shown(one.pilot)
        await react(one.pilot, 5)
        assert isinstance(one.pilot.app.screen, TapTrialsScreen)
        facts = one.bench.job.references[-1].facts
        assert (facts.walked, len(facts.checked), len(facts.trials)) == (f"{day}T06:00:00Z", 5, 20)


async def test_a_block_that_no_longer_holds_is_tapped_anew() -> None:
    async with pedal("sw1", begun=False, block=False) as one:
        one.keep_block_of_today(0.55)
        await press(one.pilot, "enter")
        await react(one.pilot, 5, slower_s=0.4)
        assert "Trial 1 of 20" in shown(one.pilot)
        assert "Today's earlier block no longer holds" in shown(one.pilot)
        assert one.bench.job.references == ()


async def test_a_block_that_serves_only_some_of_the_limits_is_not_taken_over() -> None:
    async with pedal("sw1", begun=False, block=False) as one:
        one.keep_block_of_today(0.65)  # serves sw2 at 0.6 s and not sw1 at 0.5 s
        await press(one.pilot, "enter")
        assert "Trial 1 of 20" in shown(one.pilot)


async def test_a_learned_key_is_known_at_once_even_where_the_taps_are_left() -> None:
    async with pedal("home", begun=False, key=None) as one:
        await press(one.pilot, "enter", "y", "y", "escape")
        assert isinstance(one.pilot.app.screen, BenchScreen)
        assert "taps Y at the same moment" in " ".join(shown(one.pilot).split())
        await press(one.pilot, "enter")
        assert isinstance(one.pilot.app.screen, TapTrialsScreen)


async def react(pilot: Pilot[None], trials: int, slower_s: float = 0.0) -> None:
    """Press and tap, and tap a quarter of a second after the light is lit; the taps carry their own moments."""
    lamp = pilot.app.screen.query_one(Lamp)
    for number in range(trials):
        now_s = Key("x", None).time
        for key, character in (("j", "j"), ("space", " ")):
            await post(pilot, key, character, now_s)
        await until(pilot, lambda: lamp.lit)
        at_s = Key("x", None).time + 0.22 + 0.01 * (number % 3) + slower_s
        await until(pilot, partial(is_past, at_s))
        await post(pilot, "space", " ", at_s)
        await until(pilot, partial(is_past, at_s + 0.1))  # a hand doesn't tap again so soon
    await until(pilot, lambda: not isinstance(pilot.app.screen, ReferenceScreen) or "1 of 20" in shown(pilot))
    await settle(pilot)


def is_past(moment_s: float) -> bool:
    return Key("x", None).time > moment_s


async def until(pilot: Pilot[None], reached: Callable[[], bool]) -> None:
    """Wait for something that comes within seconds."""
    for _ in range(1000):
        if reached():
            return
        await pilot.pause(0.01)
    raise AssertionError(shown(pilot))


async def post(pilot: Pilot[None], key: str, character: str, at_s: float) -> None:
    event = Key(key, character)
    event.time = at_s
    pilot.app.post_message(event)
    await pilot.pause()


async def test_an_instrument_may_answer_instead_and_taps_again() -> None:
    async with pedal("sw1", begun=False) as one:
        await press(one.pilot, "f5")
        assert "Time by instrument" in shown(one.pilot)
        await press(one.pilot, "f5")
        assert "Begin the taps" in shown(one.pilot)


async def test_a_pointer_is_tapped_at_its_marks_up_and_down() -> None:
    async with pedal("sweep") as one:
        for _ in range(4):
            await one.tap(0.0, 0.7, 1.4, 2.1)
            one.at_s += 10
        kept = await one.until_judged()
        assert kept.judgement.verdict == "pass"
        assert isinstance(kept.answer, TapRowsAnswer)
        assert [row.way for row in kept.answer.rows] == ["up", "down", "up", "down"]


async def test_a_pointer_that_does_not_move_fails_by_one_key() -> None:
    async with pedal("sweep") as one:
        await press(one.pilot, "f2")
        assert (await one.until_judged()).judgement.verdict == "fail"


async def test_lamps_are_walked_as_a_list_and_their_rate_is_tapped() -> None:
    async with pedal("blink", begun=False) as one:
        await press(one.pilot, "enter")
        assert isinstance(one.pilot.app.screen, TapTrialsScreen)
        await one.tap(*(place / 1.5 for place in range(14)))
        kept = await one.until_judged()
        assert kept.judgement.verdict == "pass"
        assert kept.judgement.unit == "Hz"


async def test_five_presses_are_one_row() -> None:
    async with pedal("sw2") as one:
        await one.trial(*(0.45,) * 5)
        assert (await one.until_judged()).judgement.verdict == "pass"
