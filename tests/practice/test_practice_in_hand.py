"""Are the circumstances of a unit those that its journal tells?"""

import hand
import pytest
import soaking
from rig import Rig
from story import Story

import sequences
from passcheck.job.commands import AddNote, CallMakeSafe, OpenCase, ReportIncident, TellPower
from passcheck.job.events import Resumed
from passcheck.practice.effects import Around
from passcheck.practice.in_hand import around_now, reworks_of

DAY_S = 86_400.0


def around(story: Story, *under: str) -> Around:
    return around_now(story.job, story.now, under)


def powered(story: Story) -> Story:
    """The rail's supply is on, its guard having passed."""
    return story.start().passes(sequences.GUARD).power(sequences.RAIL)


@pytest.fixture
def story() -> Story:
    """A unit that just arrived, of a board that stores enough to be proved dead point by point."""
    return Story(sequences.much_energy())


def test_a_unit_that_was_never_on_is_cold_and_long_discharged(story: Story) -> None:
    assert around(story) == Around(powered_min=0.0, off_s=DAY_S, under=frozenset(), supply="")


def test_what_it_is_put_to_is_handed_on(story: Story) -> None:
    assert around(story, "warm", "damp").under == {"warm", "damp"}


def test_minutes_at_power_are_counted_from_the_switch(story: Story) -> None:
    powered(story)
    story.clock.pass_time(minutes=7, seconds=30)
    assert around(story) == Around(powered_min=7.5, off_s=0.0, supply="battery")


def test_minutes_begin_anew_after_power_was_off(story: Story) -> None:
    powered(story)
    story.clock.pass_time(minutes=9)
    story.do(TellPower("t1", "off"))
    story.clock.pass_time(minutes=1)
    assert around(story) == Around(powered_min=0.0, off_s=60.0, supply="battery")
    story.make_safe().power(sequences.RAIL)
    story.clock.pass_time(minutes=2)
    assert around(story) == Around(powered_min=2.0, off_s=0.0, supply="battery")


def test_a_cycle_that_a_step_asks_for_leaves_the_unit_as_warm_as_it_is(story: Story) -> None:
    powered(story)
    story.clock.pass_time(minutes=9)
    story.do(TellPower("t1", "cycled", "as the step asks"))
    story.clock.pass_time(minutes=3)
    assert around(story).powered_min == 12.0


def test_charge_decays_from_the_call_to_make_safe_until_the_unit_is_proved_dead(story: Story) -> None:
    powered(story)
    story.clock.pass_time(minutes=9)
    story.do(CallMakeSafe("t1"))
    assert around(story).off_s == 0.0
    story.clock.pass_time(seconds=12)
    assert around(story).off_s == 12.0
    story.do(hand.proved_dead(story.job))
    assert around(story) == Around(powered_min=0.0, off_s=DAY_S, supply="battery"), "nothing is left to decay"


def test_a_call_to_make_safe_after_the_switch_begins_no_second_decay(story: Story) -> None:
    powered(story).do(TellPower("t1", "off"))
    story.clock.pass_time(seconds=8)
    story.do(CallMakeSafe("t1"))
    story.clock.pass_time(seconds=4)
    story.do(CallMakeSafe("t1"))
    assert around(story).off_s == 12.0


@pytest.mark.parametrize("away", [16, 90])
def test_an_absence_cools_nothing(story: Story, away: int) -> None:
    powered(story)
    story.clock.pass_time(minutes=away)
    story.do(AddNote("t1", "back again"))
    assert story.told() == "unknown", "nobody may believe it, and the supply hummed on all the same"
    story.clock.pass_time(minutes=2)
    assert around(story).powered_min == away + 2


def test_a_restart_of_the_program_cools_nothing(story: Story) -> None:
    powered(story)
    story.clock.pass_time(minutes=5)
    story.happen(Resumed(story.now.boot_id, 120, "passcheck test", None))
    story.clock.pass_time(minutes=5)
    assert around(story).powered_min == 10.0


def test_a_reboot_of_the_machine_is_bridged_by_the_clock_on_the_wall(story: Story) -> None:
    powered(story)
    story.clock.pass_time(minutes=5)
    story.clock.reboot(minutes=2)
    assert around(story).powered_min == 7.0


def test_a_clock_that_was_set_back_takes_no_minutes_away(story: Story) -> None:
    powered(story)
    story.clock.pass_time(minutes=5)
    story.clock.set_wall(hours=-3)
    assert around(story).powered_min == 5.0


def test_a_soak_counts_as_power_from_where_the_supply_came_on() -> None:
    story = Story(sequences.with_soak()).make_safe().walk().start("burn-in").ready("soak")
    story.clock.pass_time(minutes=4)
    story.do(soaking.start(story.job))
    story.clock.pass_time(hours=2)
    assert around(story) == Around(powered_min=124.0, off_s=0.0, supply="battery")


def test_the_supply_that_was_on_last_is_the_one_that_charged_it() -> None:
    story = Story(sequences.hazardous_live()).make_safe("k9")
    story.start(by="k9", second="t2").passes(sequences.GUARD, by="k9").power(sequences.RAIL, by="k9")
    assert around(story).supply == "battery"
    story.passes(sequences.RAIL, by="k9").make_safe("k9").power("inlet", by="k9")
    story.clock.pass_time(minutes=3)
    assert around(story) == Around(powered_min=3.0, off_s=0.0, supply="mains")


def test_reworks_are_told_in_their_order_and_nothing_else_mends(story: Story) -> None:
    story.make_safe().do(ReportIncident("t1", ("LAMP",), "a probe slipped"))
    story.make_safe().do(OpenCase("t1", "to look"))
    assert reworks_of(story.job) == ()
    story.make_safe().do(hand.rework("PWR", parts=("F1",)))
    story.do(ReportIncident("t1", ("PWR",), "another slip"))
    story.make_safe().do(hand.rework("LAMP", "PWR", parts=("DS1", "F1")))
    assert reworks_of(story.job) == (frozenset({"PWR"}), frozenset({"LAMP", "PWR"}))


async def test_a_whole_bench_tells_the_same_as_its_journal() -> None:
    rig = Rig(sequences.much_energy())
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job))
    await rig.walk_step(bench, sequences.GUARD)
    await rig.power(bench, sequences.RAIL)
    rig.clock.pass_time(minutes=6)
    assert around_now(bench.job, bench.moment()).powered_min == 6.0
    bench = await rig.restart().open(bench.job.id, "t1")
    assert around_now(bench.job, bench.moment()).powered_min == 6.0
