"""How many keys does a known-good run cost beside the figures that are read?"""

from datetime import date
from pathlib import Path

import hand
import pytest
from at_desk import at_desk, press, settle
from rig import Rig, settings
from textual.pilot import Pilot
from textual.widgets import Input

from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.caution import CautionScreen
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.power_on import PowerOnScreen
from passcheck.app.screens.run_start import RunStartScreen
from passcheck.app.widgets import walk_list
from passcheck.job import answers
from passcheck.job.answers import Answer
from passcheck.job.settings import BenchInstrument, BenchSettings
from passcheck.sequence.model import Step

SAMPLE = Path(__file__).parent.parent.parent / "samples" / "twenty-steps.yaml"
ALLOWED = 45
SERIAL = "A1234"


class CountingHand:
    """Types figures, which are the readings, and counts every other key."""

    def __init__(self, pilot: Pilot[None]) -> None:
        self.pilot = pilot
        self.keys: list[str] = []

    async def figure(self, text: str) -> None:
        """What is read off the unit or a display, then Enter."""
        focused = self.pilot.app.focused
        assert isinstance(focused, Input), (focused, self.pilot.app.screen)
        focused.insert_text_at_cursor(text)
        await settle(self.pilot)
        await self.key("enter")

    async def key(self, name: str) -> None:
        self.keys.append(name)
        await press(self.pilot, name)


def figures(step: Step, answer: Answer) -> tuple[str, ...]:
    """The texts of a good answer, slot by slot."""
    match answer:
        case answers.ReadingAnswer():
            return (*filter(None, (answer.leads,)), *answer.readings)
        case answers.PowerUpAnswer():
            return (answer.current, "no")
        case answers.PressesAnswer() | answers.CountAnswer():
            return (str(answer.counted),)
        case answers.CodesAnswer():
            return (" ".join(answer.present) or "none",)
        case _:
            raise AssertionError(f"{step.id}: not in the sample")


async def test_a_known_good_run_of_twenty_steps_costs_at_most_forty_five_keys_beyond_its_figures(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(walk_list, "QUICKEST_S", 0.0)
    rig = Rig(SAMPLE.read_text(encoding="utf-8"), settings_now=_with_a_supply_meter())
    bench = await rig.job(serial=SERIAL)
    rig.shop.carry({"ohmmeter": "M9", "voltmeter": "M9", "supply-meter": "P2"}, "21")
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(BenchScreen(bench, dwell_s=0))
        await settle(pilot)
        by_hand = CountingHand(pilot)
        while bench.job.open_run is None or not _walked(pilot):
            await _next(by_hand, rig)
            assert len(by_hand.keys) < 3 * ALLOWED, (by_hand.keys, pilot.app.screen)
        passed = {attempt.step for attempt in bench.job.attempts if attempt.judgement.verdict == "pass"}
    with capsys.disabled():
        print(f"\n{len(passed)} steps, {len(by_hand.keys)} keys beyond the figures (allowed: {ALLOWED})")
    assert len(passed) >= 19  # the final look belongs to acceptance
    assert len(by_hand.keys) <= ALLOWED


def _with_a_supply_meter() -> BenchSettings:
    base = settings()
    fills = {"supply-meter": "0.5 % + 3 mA"}
    meter = {"title": "The supply's own display", "due": date(2031, 12, 1), "fills": fills}
    return base.model_copy(update={"instruments": {**base.instruments, "P2": BenchInstrument.model_validate(meter)}})


def _walked(pilot: Pilot[None]) -> bool:
    screen = pilot.app.screen
    return isinstance(screen, BenchScreen) and screen.step is None


async def _next(by_hand: CountingHand, rig: Rig) -> None:
    """Whatever the screen at hand asks of a good technician."""
    screen = by_hand.pilot.app.screen
    match screen:
        case RunStartScreen():
            await by_hand.key("f2")
            await by_hand.key("f2")
            await by_hand.figure(SERIAL)
        case CautionScreen():
            confirm = screen.asked[0].confirm
            if confirm is None:
                await by_hand.key("u")
            else:
                await by_hand.figure(hand.fact(confirm))
        case PowerOnScreen():
            await by_hand.figure("12.0")
            await by_hand.figure("0.30")
        case MakeSafeScreen():
            await by_hand.figure("0.02")
        case BenchScreen():
            await _at_the_bench(by_hand, screen)
        case _:
            raise AssertionError(screen)


async def _at_the_bench(by_hand: CountingHand, screen: BenchScreen) -> None:
    focused, step = by_hand.pilot.app.focused, screen.step
    if step is None or not isinstance(focused, Input):
        await by_hand.key("enter")  # the button with the one act that lifts what stands against the step
        return
    answer = hand.good(step)
    if isinstance(answer, answers.ListAnswer):
        await by_hand.key("enter")
        return
    for text in figures(step, answer):
        await by_hand.figure(text)
