"""One step at the bench: what is refused and why, what is kept, and where the screen goes from there."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import hand
import pytest
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, settle, type_in
from at_desk import shown as window_of
from rig import Rig
from textual import events
from textual.pilot import Pilot

import sequences
from passcheck.app.plain import Words
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.caution import CautionScreen
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.widgets import walk_list
from passcheck.app.widgets.big_word import BigWord
from passcheck.bench.bench import Bench
from passcheck.job.commands import CloseRun, MapComplaint
from passcheck.sequence.model import Sequence


def shown(pilot: Pilot[None]) -> str:
    """All words of the window on one line: sentences break where they meet the edge."""
    return " ".join(window_of(pilot).replace("▌", " ").split())


class Stand:
    """A unit on the bench screen."""

    def __init__(self, rig: Rig, bench: Bench, pilot: Pilot[None], screen: BenchScreen) -> None:
        self.rig, self.bench, self.pilot, self.screen = rig, bench, pilot, screen

    async def enter(self, *texts: str) -> None:
        """Type each text and press Enter after it."""
        for text in texts:
            if text:
                await type_in(self.pilot, text)
            await press(self.pilot, "enter")

    def said(self, name: str) -> str:
        """What one of the screen's lines says, however it is broken to fit."""
        return str(self.screen.query_one(f"#{name}", Words).render())

    @property
    def state(self) -> str:
        return self.screen.query_one("#state", BigWord).word

    @property
    def verdicts(self) -> list[tuple[str, str]]:
        return [(attempt.step, attempt.judgement.verdict) for attempt in self.bench.job.attempts]


@pytest.fixture(autouse=True)
def _eyes_as_quick_as_a_test(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(walk_list, "QUICKEST_S", 0.0)


@asynccontextmanager
async def stand(
    sequence: Sequence | None = None, *, size: tuple[int, int] = SMALL, powered_for: str = "", step: str | None = None
) -> AsyncIterator[Stand]:
    """A run is open; with `powered_for` the guard has passed and the supply is told on for that step."""
    rig = Rig(sequence or sequences.sequence())
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job))
    if powered_for:
        await rig.do(bench, hand.passing(bench.job, sequences.GUARD))
        await rig.power(bench, powered_for)
    async with at_desk(rig, size) as pilot:
        screen = BenchScreen(bench, step, dwell_s=0)
        await pilot.app.push_screen(screen)
        await settle(pilot)
        yield Stand(rig, bench, pilot, screen)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_first_step_of_the_plan_lies_on_the_bench_ready_to_be_read(size: tuple[int, int]) -> None:
    async with stand(size=size) as at:
        window = shown(at.pilot)
        assert "5 V rail to 0 V, unpowered" in window
        assert "TP3 to TP0" in window
        assert "step 1 of 3" in window
        assert at.state == "READ"
        assert "150" not in window


async def test_one_enter_stores_a_reading_and_goes_on() -> None:
    async with stand() as at:
        await at.enter("12k")
        assert at.verdicts == [(sequences.GUARD, "pass")]
        window = shown(at.pilot)
        assert "5 V logic rail" in window
        assert "12 kΩ is inside at least 150 Ω" in at.said("verdict")


async def test_a_powered_step_is_refused_before_its_unpowered_guard_and_names_the_guard() -> None:
    async with stand(step=sequences.RAIL) as at:
        assert at.state == "WAIT"
        assert "5 V rail to 0 V, unpowered has not passed" in shown(at.pilot)
        await press(at.pilot, "enter")
        assert at.state == "READ"
        assert at.screen.step is not None
        assert at.screen.step.id == sequences.GUARD


async def test_a_powered_step_asks_for_its_caution_then_for_its_supply_then_for_the_reading() -> None:
    async with stand() as at:
        await at.enter("12k")
        assert at.state == "WAIT"
        await at.enter("")
        assert isinstance(at.pilot.app.screen, CautionScreen)
        await at.enter("0.30")
        assert "told on" in shown(at.pilot)
        await at.enter("")
        assert "Nothing recorded forbids power. Look at the unit; you decide." in shown(at.pilot)
        await at.enter("24.0", "0.30")
        assert at.state == "READ"
        assert "battery told on 10:00, 24.0 V, limit 0.30 A" in shown(at.pilot)


async def test_the_volts_of_another_supply_are_refused_in_place() -> None:
    async with stand() as at:
        await at.enter("12k", "", "0.30", "", "48.0", "0.30")
        assert "outside what this unit may get" in shown(at.pilot)
        assert at.bench.job.power[-1].told == "off"


async def test_a_reading_outside_its_limits_is_echoed_and_asked_once_more_before_it_is_kept() -> None:
    async with stand(powered_for=sequences.RAIL) as at:
        await at.enter("5.62")
        assert at.verdicts[1:] == []
        assert at.state == "AGAIN"
        assert "5.62 V is outside 4.85 V .. 5.15 V" in shown(at.pilot)
        await at.enter("5.62")
        assert at.verdicts[1:] == [(sequences.RAIL, "fail")]
        assert at.bench.job.attempts[-1].typed_twice
        assert at.state == "FAIL"
        assert "5 V logic rail" in shown(at.pilot)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_at_a_retest_as_found_and_now_stand_on_one_line_above_the_verdict(size: tuple[int, int]) -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.make_safe(bench)
    await rig.do(bench, hand.start(bench.job, "as-found"), hand.passing(bench.job, sequences.GUARD))
    await rig.power(bench, sequences.RAIL)
    await rig.do(bench, hand.reading(sequences.RAIL, "4.62 V"))
    await rig.make_safe(bench)
    await rig.do(bench, CloseRun("t1"), hand.rework("PWR"), hand.start(bench.job, "retest"))
    await rig.do(bench, hand.passing(bench.job, sequences.GUARD))
    await rig.power(bench, sequences.RAIL)
    async with at_desk(rig, size) as pilot:
        screen = BenchScreen(bench, sequences.RAIL, dwell_s=0)
        await pilot.app.push_screen(screen)
        await settle(pilot)
        at = Stand(rig, bench, pilot, screen)
        await at.enter("4.98")
        matches_sample(pilot, f"bench-retest-{size[0]}x{size[1]}")
        line = "as found FAIL 4.62 V | now PASS 4.98 V, changed by +0.36 V ± 0.05 V"
        assert any(line in row for row in window_of(pilot).splitlines())


async def test_outside_a_retest_nothing_is_set_beside_the_verdict() -> None:
    async with stand(powered_for=sequences.RAIL) as at:
        await at.enter("5.01")
        assert "as found" not in shown(at.pilot)


async def test_a_slip_of_the_finger_keeps_neither_entry() -> None:
    async with stand(powered_for=sequences.RAIL) as at:
        await at.enter("50.1", "5.01")
        assert at.verdicts[1:] == []
        assert "The two entries differ" in shown(at.pilot)
        await at.enter("5.01")
        assert at.verdicts[1:] == [(sequences.RAIL, "pass")]


async def test_a_probe_left_off_is_not_measured_and_never_a_pass() -> None:
    async with stand() as at:
        await at.enter("OL")
        assert at.verdicts == [(sequences.GUARD, "not measured")]
        assert at.state == "NOT MEASURED"
        assert "NOT MEASURED" in shown(at.pilot)
        assert at.screen.step is not None
        assert at.screen.step.id == sequences.GUARD


async def test_typing_turns_read_into_type_and_escape_empties_the_entry() -> None:
    async with stand() as at:
        await type_in(at.pilot, "12k")
        assert at.state == "TYPE"
        await press(at.pilot, "escape")
        assert at.state == "READ"
        assert at.pilot.app.screen is at.screen
        assert at.verdicts == []


async def test_half_an_entry_is_not_lost_by_walking() -> None:
    async with stand() as at:
        await type_in(at.pilot, "12k")
        await press(at.pilot, "pagedown")
        assert "half typed" in shown(at.pilot)
        await press(at.pilot, "enter")
        assert at.verdicts == [(sequences.GUARD, "pass")]


async def test_a_note_on_the_way_leaves_a_half_typed_reading_alone() -> None:
    async with stand() as at:
        await type_in(at.pilot, "12")
        await press(at.pilot, "f4")
        await type_in(at.pilot, "probe slips here")
        await press(at.pilot, "f4")
        assert [note.step for note in at.bench.job.notes] == [sequences.GUARD]
        await at.enter("k")
        assert at.verdicts == [(sequences.GUARD, "pass")]


async def test_a_scan_at_the_bench_is_no_answer_and_no_key() -> None:
    async with stand(step=sequences.RAIL) as at:
        at.screen.query_one("#lift").focus()
        for sign in (*at.bench.job.serial.lower(), "enter"):
            at.pilot.app.post_message(events.Key(sign, sign if len(sign) == 1 else None))
        await settle(at.pilot)
        assert at.pilot.app.screen is at.screen
        assert at.verdicts == []
        assert at.state == "WAIT"


async def test_page_keys_walk_the_steps_of_the_run() -> None:
    async with stand() as at:
        await press(at.pilot, "pagedown", "pagedown")
        assert "Telltales, each alone" in shown(at.pilot)
        await press(at.pilot, "pageup")
        assert "5 V logic rail" in shown(at.pilot)


async def test_the_limits_are_shown_on_request_only() -> None:
    async with stand(powered_for=sequences.RAIL) as at:
        assert "4.85" not in shown(at.pilot)
        await press(at.pilot, "f2")
        assert "Limits: 4.85 V .. 5.15 V" in shown(at.pilot)


async def test_the_caution_stays_in_sight_while_the_step_is_walked() -> None:
    async with stand(powered_for=sequences.RAIL) as at:
        assert "WARNING" in at.said("caution")
        assert "Stop if the limit light stays on" in at.said("caution")


async def test_a_tone_says_pass_and_two_say_anything_else() -> None:
    async with stand() as at:
        rung: list[str] = []
        at.pilot.app.bell = lambda: rung.append("bell")  # type: ignore[method-assign]
        await at.enter("12k")
        assert rung == ["bell"]


async def test_no_tone_where_silence_is_asked() -> None:
    async with stand() as at:
        at.rig.settings.current = at.rig.settings.current.model_copy(update={"tones": False})
        rung: list[str] = []
        at.pilot.app.bell = lambda: rung.append("bell")  # type: ignore[method-assign]
        await at.enter("12k")
        assert rung == []


async def test_what_a_step_fitted_is_said() -> None:
    async with stand(sequences.with_restore(), powered_for=sequences.RAIL) as at:
        await at.enter("5.01")
        assert "PUT BACK BEFORE IT LEAVES dummy plug out of J5" in at.said("verdict")


async def test_after_an_absence_power_is_unknown_and_the_banner_says_where_the_technician_was() -> None:
    async with stand(powered_for=sequences.RAIL) as at:
        await at.enter("5.01")
        at.rig.clock.pass_time(minutes=18)
        at.screen.look_again()
        await settle(at.pilot)
        assert "You were at '5 V logic rail', powered, away 18 min: power is unknown." in at.said("banner")
        assert at.state == "WAIT"
        await press(at.pilot, "enter")
        await at.enter("24.0", "0.12", "no")
        assert "told on" in shown(at.pilot)


async def test_a_limit_light_that_is_lit_after_an_absence_leaves_only_make_safe() -> None:
    async with stand(powered_for=sequences.RAIL) as at:
        at.rig.clock.pass_time(minutes=20)
        at.screen.look_again()
        await settle(at.pilot)
        await press(at.pilot, "enter")
        await at.enter("24.0", "0.12", "yes")
        assert "Make safe: prove every point dead." in shown(at.pilot)
        assert at.bench.job.power[-1].told == "on"


async def test_an_unpowered_step_under_power_asks_for_make_safe() -> None:
    async with stand(powered_for=sequences.RAIL, step=sequences.GUARD) as at:
        assert at.state == "WAIT"
        await press(at.pilot, "enter")
        assert isinstance(at.pilot.app.screen, MakeSafeScreen)


async def test_after_a_restart_of_the_program_the_banner_says_when_the_last_entry_was() -> None:
    rig = Rig(sequences.sequence())
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job), hand.passing(bench.job, sequences.GUARD))
    await rig.power(bench, sequences.RAIL)
    rig.clock.pass_time(minutes=4)
    rig.restart()
    rig.clock.reboot()
    async with at_desk(rig) as pilot:
        screen = BenchScreen(await rig.shop.open(bench.job.id, "t1"), dwell_s=0)
        await pilot.app.push_screen(screen)
        await settle(pilot)
        banner = str(screen.query_one("#banner", Words).render())
        assert banner == "You were at 'power on', powered, last entry 10:00: power is unknown."
        assert screen.query_one("#state", BigWord).word == "WAIT"


async def test_a_called_make_safe_that_was_left_is_said() -> None:
    async with stand(powered_for=sequences.RAIL) as at:
        await press(at.pilot, "f8", "escape")
        assert at.said("banner") == "Make safe was called and is not finished: power is unknown."


async def test_a_better_instrument_is_chosen_for_one_step() -> None:
    async with stand(powered_for=sequences.RAIL) as at:
        assert "voltmeter M1" in at.said("at")
        await press(at.pilot, "f3", "down", "down", "enter")
        assert "voltmeter M9" in at.said("at")
        await at.enter("5.12")
        used = at.bench.job.attempts[-1].instrument
        assert used is not None
        assert used.instrument == "M9"
        assert at.verdicts[-1] == (sequences.RAIL, "pass")


async def test_at_the_end_of_a_powered_run_make_safe_comes_before_closing_it() -> None:
    async with stand(powered_for=sequences.RAIL) as at:
        await at.enter("5.01", "")
        assert at.state == "DONE"
        await press(at.pilot, "enter")
        assert isinstance(at.pilot.app.screen, MakeSafeScreen)
        await at.enter("0.02")
        await press(at.pilot, "enter")
        assert "CLOSE THE RUN" in shown(at.pilot)


async def test_a_photo_that_is_missing_is_named_before_the_run_is_called_done_and_f4_leads_to_it() -> None:
    board = sequences.changed_step(sequences.RAIL, photo=True)
    async with stand(board, powered_for=sequences.RAIL) as at:
        await at.enter("5.01", "")
        assert at.state == "NOTE"
        assert "5 V logic rail: the photo it asks for is missing. F4 adds it." in at.said("do")
        await press(at.pilot, "enter")
        assert "NOTE ON 5 V logic rail" in shown(at.pilot)
        await press(at.pilot, "escape", "f4", "tab")
        await type_in(at.pilot, "photos/rail.jpg")
        await press(at.pilot, "enter")
        assert at.bench.job.notes[0].step == sequences.RAIL
        assert at.state == "DONE"
        assert "missing" not in at.said("do")


async def test_after_acceptance_the_burn_in_that_is_still_to_come_is_named_with_the_key_to_it() -> None:
    async with stand(sequences.with_soak(), powered_for=sequences.RAIL) as at:
        await at.enter("5.01", "")
        words = "Burn-in comes next (Four hours at power): close this run (F12), then start a burn-in run."
        assert words in at.said("do")


async def test_as_found_the_conditions_that_nobody_tried_are_named_at_the_end() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.do(bench, MapComplaint("t1", ("rail-low",)), hand.start(bench.job, "as-found"))
    for step in (sequences.GUARD, sequences.RAIL, sequences.LAMPS):
        await rig.walk_step(bench, step)
    async with at_desk(rig) as pilot:
        screen = BenchScreen(bench, dwell_s=0)
        await pilot.app.push_screen(screen)
        await settle(pilot)
        assert "Not tried yet: warm. Page Up to the complaint's step, Ctrl+N" in shown(pilot)


async def test_closing_a_run_under_power_says_so_and_points_at_make_safe() -> None:
    async with stand(powered_for=sequences.RAIL) as at:
        await press(at.pilot, "f12")
        slip = at.pilot.app.screen
        said = slip.query_one("#powered", Words)
        tells = "Closing a run switches nothing. Make safe first: F8 from here, then close it."
        assert str(said.render()) == f"POWER  battery told on. {tells}"
        assert said.region
        await press(at.pilot, "f8", "escape")
        assert at.pilot.app.screen is slip
        assert str(said.render()) == f"POWER  battery told unknown. {tells}"
        await press(at.pilot, "f8")
        await at.enter("0.02")
        assert at.pilot.app.screen is slip
        assert not said.display


async def test_off_and_on_again_is_one_key_and_keeps_the_supply_told_on() -> None:
    async with stand(powered_for=sequences.RAIL) as at:
        await press(at.pilot, "f7")
        assert "battery told on" in shown(at.pilot)
        await press(at.pilot, "f6")
        assert "battery told off, not proved dead" in shown(at.pilot)


async def test_the_soak_is_no_dead_end() -> None:
    async with stand(sequences.with_soak(), powered_for=sequences.RAIL) as at:
        assert all(step.kind != "soak" for step in [at.screen.step] if step is not None)
        await at.enter("5.01")
        await at.enter("")
        assert "Every step of this run was walked" in shown(at.pilot)


async def test_two_screens_of_steps_are_walked_to_the_end_with_one_key_a_lamp_walk() -> None:
    async with stand(powered_for=sequences.RAIL) as at:
        await at.enter("5.01")
        await at.enter("")
        assert at.verdicts == [(sequences.GUARD, "pass"), (sequences.RAIL, "pass"), (sequences.LAMPS, "pass")]
        assert at.state == "DONE"
