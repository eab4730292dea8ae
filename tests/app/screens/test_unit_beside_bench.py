"""The practice unit beside the bench: what it shows, how its buttons are pressed, and that work knows nothing of it."""

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import hand
import pytest
from at_desk import LARGE, SMALL, at_desk, press, settle, type_in
from at_desk import shown as window_of
from rig import Rig
from textual.content import Content
from textual.pilot import Pilot
from textual.screen import Screen

import sequences
from passcheck.app.desk import Desk
from passcheck.app.practice_desk import PracticeDesk
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.caution import CautionScreen
from passcheck.app.screens.keys_help import KeysHelp
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.unit_sheet import UnitSheet
from passcheck.app.unit_in_hand import UnitInHand
from passcheck.app.widgets import unit_panel, walk_list
from passcheck.app.widgets.typed import Slot
from passcheck.app.widgets.unit_panel import HEADING, UnitPanel
from passcheck.bench.bench import Bench
from passcheck.practice import front
from passcheck.practice.at_the_bench import PracticeBench
from passcheck.practice.fault import Effect, Fault
from passcheck.practice.fault_list import FaultList
from passcheck.practice.front import Front
from passcheck.sequence.model import Sequence

SHEETS = Path(__file__).parents[3] / "sequences"


class Beside:
    """A unit on the practice bench."""

    def __init__(self, bench: Bench, pilot: Pilot[None]) -> None:
        self.bench, self.pilot = bench, pilot

    @property
    def shown(self) -> str:
        """All words of the window on one line."""
        return " ".join(window_of(self.pilot).split())

    @property
    def unit(self) -> str:
        """The words of the unit's panel on top, as they break there."""
        face = self.pilot.app.screen.query_one(UnitPanel).query(".face").first()
        return " ".join(str(face.render()).split())

    @property
    def front(self) -> list[str]:
        """The lines of its face plate; none where it isn't drawn."""
        words = self.pilot.app.screen.query_one(UnitPanel).query(".front").first()
        return str(words.render()).splitlines() if words.display else []

    def on_front(self, start: str) -> str:
        """The line of the plate that begins with these words."""
        return next(line for line in self.front if line.removeprefix("│ ").startswith(start))

    def value(self, name: str) -> str:
        """What stands after a name on the panel, up to the next line."""
        face = str(self.pilot.app.screen.query_one(UnitPanel).query(".face").first().render())
        return next(line.partition(": ")[2] for line in face.splitlines() if line.startswith(f"{name}: "))

    def is_on(self, kind: type[Screen[Any]]) -> bool:
        return isinstance(self.pilot.app.screen, kind)

    async def until(self, is_so: Callable[[], bool]) -> None:
        """Let time pass until it is so, and not for ever."""
        for _ in range(100):
            if is_so():
                return
            await self.pilot.pause(0.05)
        raise AssertionError(self.front)

    async def enter(self, *texts: str) -> None:
        for text in texts:
            if text:
                await type_in(self.pilot, text)
            await press(self.pilot, "enter")

    @property
    def verdict(self) -> str:
        return self.bench.job.attempts[-1].judgement.verdict


@pytest.fixture(autouse=True)
def _eyes_as_quick_as_a_test(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(walk_list, "QUICKEST_S", 0.0)


def practice_with(*effects: Effect) -> PracticeDesk:
    def lists(of: Sequence) -> FaultList:
        block = next(iter(of.blocks))
        return FaultList(of.sequence, (), (), (Fault("broken", "it broke", block, (), effects),) if effects else ())

    return PracticeDesk(PracticeBench(lists), lambda _minutes: None)


@asynccontextmanager
async def beside(
    board: str, step: str, *effects: Effect, size: tuple[int, int] = LARGE, practice: bool = True
) -> AsyncIterator[Beside]:
    """The step lies on the bench and may be tried, and the unit has what shows so."""
    rig = Rig((SHEETS / f"{board}.yaml").read_text("utf-8"))
    bench = await rig.job(serial=hand.serial(rig.boards.read(rig.boards.listed()[0].text)))
    await rig.do(bench, hand.start(bench.job))
    walked: set[tuple[str, str]] = set()
    while (planned := hand.still_open(bench.job, walked)) and planned.step.id != step:
        await rig.walk_step(bench, planned.step.id, under=planned.under)
    async with at_desk(rig, size) as pilot:
        assert isinstance(pilot.app, Desk)
        pilot.app.practice = practice_with(*effects) if practice else None
        await pilot.app.push_screen(BenchScreen(bench, step, dwell_s=0))
        await settle(pilot)
        yield Beside(bench, pilot)


async def test_the_display_of_the_meter_stands_beside_the_ticket_and_what_it_shows_passes() -> None:
    async with beside("ov-24p", "a06") as at:
        assert HEADING in at.shown
        assert "battery on 24.0 V" in at.unit
        assert isinstance(at.pilot.app.focused, Slot)
        await at.enter(at.value("M1 TP3 to TP0"))
        assert at.verdict == "pass"
        assert "M1 TP4 to TP0" in at.unit


async def test_a_rail_that_sags_is_found_by_what_the_meter_shows() -> None:
    async with beside("ov-24p", "a06", Effect("TP3 to TP0", "reads", 4.4)) as at:
        shown = at.value("M1 TP3 to TP0")
        await at.enter(shown, shown)
        assert at.verdict == "fail"


async def test_tab_goes_to_the_unit_enter_presses_its_button_and_its_counter_counts() -> None:
    async with beside("ov-24p", "a17-sw4", Effect("SW4", "dead spots", 0.5)) as at:
        assert "Tab, then Enter: press SW4" in at.unit
        await press(at.pilot, "tab")
        assert isinstance(at.pilot.app.focused, UnitPanel)
        assert "Enter: press SW4" in at.unit
        await press(at.pilot, *("enter", "space") * 5)
        await at.pilot.pause(0.2)
        assert "pressed 10" in at.unit
        counted = at.unit.partition("unit counted ")[2].partition(" ")[0]
        assert int(counted) < 10
        await press(at.pilot, "shift+tab")
        assert isinstance(at.pilot.app.focused, Slot)
        await at.enter(counted, counted)
        assert at.verdict == "fail"


async def test_the_front_of_the_unit_stands_whole_under_what_the_step_needs() -> None:
    async with beside("ov-24p", "a06") as at:
        panel = at.pilot.app.screen.query_one(UnitPanel)
        assert at.front[0].startswith("╭─ OV-24P ")
        assert panel.max_scroll_y == 0
        face, plate = panel.query(".face").first().region, panel.query(".front").first().region
        assert plate.y > face.bottom
        assert plate.right <= panel.region.right - 1
        assert at.on_front("fuel").count("V") == 1


async def test_walking_the_lamps_lights_one_after_another_on_the_front() -> None:
    async with beside("ov-24p", "a12") as at:
        assert not any(" R " in line for line in at.front)
        await press(at.pilot, "tab", "enter")
        names, cells = at.front[5:7]
        assert cells.index("R") == names.index("DS1") + 1
        await press(at.pilot, "enter")
        assert at.front[6].index("R") == names.index("DS2") + 1


async def test_a_sweep_moves_its_pointer_on_the_front_and_no_other() -> None:
    async with beside("ov-24p", "a14-temp") as at:
        at_rest = at.on_front("temperature").index("V")
        await press(at.pilot, "tab", "enter")
        await at.until(lambda: at.on_front("temperature").index("V") > at_rest)
        assert at.on_front("fuel").index("V") == at_rest


async def test_a_pressed_button_is_seen_pressed_on_the_front(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(front, "DOWN_S", 60.0)
    async with beside("ov-24p", "a17-sw4") as at:
        assert ">[4]" in at.on_front("SW")
        await press(at.pilot, "tab", "enter")
        assert ">]4[" in at.on_front("SW")


async def test_it_comes_up_again_without_another_key() -> None:
    async with beside("ov-24p", "a17-sw4") as at:
        await press(at.pilot, "tab", "enter")
        await at.until(lambda: ">[4]" in at.on_front("SW"))


async def test_what_rests_is_never_drawn_again_by_time(monkeypatch: pytest.MonkeyPatch) -> None:
    async with beside("ov-24p", "a06") as at:
        drawn: list[Front] = []

        def draw(shown: Front, _width: int, *, roomy: bool) -> Content:
            drawn.append(shown)
            return Content("roomy" if roomy else "")

        monkeypatch.setattr(unit_panel, "front_content", draw)
        await at.pilot.pause(0.4)
        assert drawn == []


async def test_an_unpowered_unit_is_dark_all_over() -> None:
    async with beside("ov-24p", "a02") as at:
        assert at.front[-1].startswith("╰─ codes  dark ")


async def test_a_board_that_names_nothing_for_its_front_has_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(UnitInHand, "front", lambda _unit, _panel: Front("X"))
    async with beside("ov-24p", "a06", size=SMALL) as at:
        await press(at.pilot, "f10")
        assert at.front == []


async def test_on_the_sheet_in_a_narrow_window_the_front_stands_beside_the_facts() -> None:
    async with beside("ov-24p", "a17-sw1", size=SMALL) as at:
        await press(at.pilot, "f10")
        panel = at.pilot.app.screen.query_one(UnitPanel)
        face, plate = panel.query(".face").first().region, panel.query(".front").first().region
        assert plate.x >= face.right
        assert plate.y == face.y
        assert panel.max_scroll_y == 0
        assert ">[1]" in at.on_front("SW")
        assert "ASKED BEFORE POWER" in at.unit


async def test_marks_are_fed_one_by_one_and_the_pointer_is_read() -> None:
    async with beside("ov-24p", "a15") as at:
        await press(at.pilot, "tab", *("enter",) * 9)
        rising = (10, 28, 46, 68, 90)
        feeds = [*(f"{ohms} Ω rising" for ohms in rising), *(f"{ohms} Ω falling" for ohms in reversed(rising))]
        read = [at.value(feed) for feed in feeds]
        await press(at.pilot, "shift+tab")
        await at.enter(*read)
        assert at.verdict == "pass"


async def test_codes_come_in_the_order_in_which_the_hand_raises_and_clears_them() -> None:
    async with beside("ov-24p", "a18-plug", Effect("F31", "stuck")) as at:
        assert "came when provoked" not in at.unit
        await press(at.pilot, "tab", "enter", "enter")
        sets = [at.value(name) for name in ("codes shown", "came when provoked", "after clear")]
        assert sets == ["F31", "F35", "F31"]
        await press(at.pilot, "shift+tab")
        await at.enter(*sets)
        await at.enter(*sets)
        assert at.verdict == "fail"


async def test_a_step_that_a_hand_times_shows_no_time_until_an_instrument_is_taken() -> None:
    async with beside("ov-24p", "a13-time") as at:
        await press(at.pilot, "tab", "enter")
        await at.pilot.pause(0.1)
        assert "try 1" not in at.unit
        await press(at.pilot, "f5", "tab", "enter", "enter")
        assert "T1 try 1: " in at.unit


async def test_over_the_unit_f1_tells_the_keys_and_f8_makes_safe() -> None:
    async with beside("ov-24p", "a06", size=SMALL) as at:
        await press(at.pilot, "f10", "f1")
        assert at.is_on(KeysHelp)
        await press(at.pilot, "f1")
        assert at.is_on(UnitSheet)
        await press(at.pilot, "f8")
        assert at.is_on(MakeSafeScreen)


async def test_in_a_narrow_window_f10_lays_the_unit_over_the_bench_and_takes_it_away() -> None:
    async with beside("ov-24p", "a17-sw1", size=SMALL) as at:
        assert "F10: the practice unit" in at.shown
        assert HEADING not in at.shown
        await press(at.pilot, "f10")
        assert at.is_on(UnitSheet)
        assert isinstance(at.pilot.app.focused, UnitPanel)
        await press(at.pilot, "enter", "enter")
        await at.pilot.pause(0.2)
        assert "pressed 2" in at.unit
        await press(at.pilot, "f10")
        assert at.is_on(BenchScreen)
        await press(at.pilot, "f10")
        assert "pressed 2" in at.unit  # the unit remembers; only the view was put away
        await press(at.pilot, "escape")
        assert at.is_on(BenchScreen)
        assert isinstance(at.pilot.app.focused, Slot)


async def test_the_sheet_lies_over_a_caution_and_over_make_safe_with_what_they_ask_for() -> None:
    async with beside("ov-24p", "a02") as at:
        await press(at.pilot, "enter")
        assert at.is_on(CautionScreen)
        await press(at.pilot, "f10")
        assert "Ohms of the discharge lead on the ohmmeter: 100 Ω" in at.unit
        await press(at.pilot, "escape", "f8")
        assert at.is_on(MakeSafeScreen)
        await press(at.pilot, "f10")
        assert "TP9 to TP0" in at.unit
        assert "tester on 9 V battery in the drawer" in at.unit
        await press(at.pilot, "f10")
        assert at.is_on(MakeSafeScreen)


async def test_at_work_there_is_no_unit_no_key_for_it_and_no_other_look() -> None:
    async with beside("ov-24p", "a02", practice=False) as at:
        assert not at.pilot.app.screen.query(UnitPanel)
        assert not at.pilot.app.screen.query("#with-unit, #unit-key")
        assert "f10" not in at.pilot.app.screen.active_bindings
        before = at.shown
        await press(at.pilot, "f10")
        assert at.is_on(BenchScreen)
        assert at.shown == before


async def test_before_any_unit_is_in_hand_the_key_does_nothing() -> None:
    rig = Rig(sequences.sequence())
    async with at_desk(rig, SMALL) as pilot:
        assert isinstance(pilot.app, Desk)
        pilot.app.practice = practice_with()
        await press(pilot, "f10")
        assert not isinstance(pilot.app.screen, UnitSheet)
