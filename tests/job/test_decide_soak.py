"""When may a soak begin, what is a look at it, and when is it done?"""

import hand
import pytest
import soaking
from story import Story

import sequences
from passcheck.job import events as happened
from passcheck.job.commands import BreakSoak, CheckSoak, CloseRun, FinishSoak, StartSoak, TellPower, VoidAttempt
from passcheck.job.plan import plan
from passcheck.job.soak import soak_now
from passcheck.job.staleness import stale_by
from passcheck.sequence.model import Sequence
from sequences import GUARD, LAMPS, RAIL

ALONE = ("F9 1 A", "steel shelf 3", "cut-out at 70 °C", "the lead, by telephone")


def accepted(board: Sequence | None = None) -> Story:
    """A unit that passed acceptance and is powered in a burn-in run."""
    story = Story(board or sequences.with_soak()).walk().start("burn-in")
    story.power("soak")
    return story


def soaking_unit(board: Sequence | None = None) -> Story:
    """A unit on soak whose first look is done."""
    story = accepted(board)
    story.do(soaking.start(story.job))
    return story.passes(RAIL)


def an_hour(story: Story, *, minutes: float = 60, continuity: str | None = "") -> Story:
    """Time goes by, the unit is looked at, and its steps pass."""
    story.clock.pass_time(minutes=minutes)
    passed_s = (story.now.utc - story.job.soaks[-1].looks[0].moment.utc).total_seconds()
    told = soaking.meter_after(story.job, passed_s) if continuity == "" else continuity
    story.do(soaking.check(story.job, continuity=told))
    return story.passes(RAIL)


def now(story: Story) -> float:
    return soak_now(story.job, soaking.soak_of(story.job)).credit.counted_s / 3600


def test_a_soak_walked_to_its_end_lifts_its_blocker() -> None:
    story = soaking_unit()
    for _ in range(4):
        assert "Four hours at power" in story.blockers()[0]
        an_hour(story)
    assert "Four hours at power: done and not ended." in story.blockers()
    story.do(soaking.finish(story.job))
    assert story.told() == "on"
    story.make_safe().do(CloseRun("t1"))
    assert story.blockers() == ()
    assert story.last_attempt().judgement.sentence.startswith("4 h 00 min at power shown by looks that passed")


def test_the_plan_of_a_burn_in_is_what_the_open_look_wants_and_then_the_soak() -> None:
    story = accepted()
    assert [(one.step.id, one.why) for one in plan(story.job)] == [("soak", "not begun")]
    story.do(soaking.start(story.job))
    assert [one.step.id for one in plan(story.job)] == [RAIL]
    story.passes(RAIL)
    assert [(one.step.id, one.why) for one in plan(story.job)] == [("soak", "at power")]


def test_a_soak_that_is_short_is_not_ended_and_says_by_how_much() -> None:
    story = an_hour(soaking_unit())
    refusal = story.refused(FinishSoak("t1", "soak"))
    assert "short by 3 h 00 min of 4 h" in refusal.sentence


def test_the_gate_names_the_look_that_came_late() -> None:
    story = an_hour(soaking_unit(), minutes=100)
    (sentence,) = [one for one in story.blockers() if "Four hours" in one]
    assert "short by 3 h 00 min of 4 h" in sentence
    assert "late: the look came late: one interval counts, 1 h 00 min of 1 h 40 min counts" in sentence


@pytest.mark.parametrize(
    ("members", "words"),
    [
        ({"volts": "40 V"}, "not a supply at rest"),
        ({"amps": "0.9 A"}, "not a supply at rest"),
        ({"limit_light": True}, "not a supply at rest"),
        ({"volts": "twenty"}, "twenty"),
        ({"witness": None}, "What shows that power stays on is not read"),
        ({"witness": "1204.6"}, "of what?"),
        ({"unattended": ALONE}, "doesn't allow this soak to be left alone"),
    ],
)
def test_a_soak_is_not_begun_on_what_would_not_count(members: dict[str, object], words: str) -> None:
    story = accepted()
    begun = soaking.start(story.job)
    told = {name: getattr(begun, name) for name in StartSoak.__dataclass_fields__} | members
    assert words in story.refused(StartSoak(**told)).sentence


def test_a_soak_needs_its_supply_told_on() -> None:
    story = Story(sequences.with_soak()).walk().start("burn-in")
    assert story.refused(soaking.start(story.job)).code == "power"


def test_a_unit_with_a_fail_that_stands_is_not_put_on_soak() -> None:
    story = Story(sequences.with_soak()).walk().start("retest").fails(LAMPS).make_safe().start("burn-in").power("soak")
    assert "fails: a soak is for a unit that passes" in story.refused(soaking.start(story.job)).sentence


def test_left_alone_only_with_all_four_facts_where_the_sequence_allows_it() -> None:
    story = accepted(sequences.with_steps({**sequences.SOAK_STEP, "unattended": True}))
    refusal = story.refused(soaking.start(story.job, unattended=ALONE[:2]))
    assert "the thermal cut-out, who can be reached" in refusal.sentence
    story.do(soaking.start(story.job, unattended=ALONE))
    assert story.job.soaks[-1].unattended == ALONE


@pytest.mark.parametrize("enclosed", [False, True])
def test_hazardous_live_is_left_alone_only_when_enclosed(enclosed: bool) -> None:
    live = sequences.hazardous_live()
    soak = {**sequences.SOAK_STEP, "power": "mains", "check": ["inlet"], "unattended": True, "enclosed": enclosed}
    board = live.model_copy(update={"steps": (*live.steps, sequences.with_steps(soak).step("soak"))})
    story = Story(board).make_safe().start("acceptance", "k9", "t2")
    for step in (GUARD, RAIL, LAMPS, "inlet"):
        story.passes(step, "k9")
    story.make_safe("k9").start("burn-in", "k9", "t2").power("soak", "k9")
    begin = soaking.start(story.job, "k9", unattended=ALONE)
    if enclosed:
        story.do(begin)
        assert story.told("mains") == "soaking"
    else:
        assert "not left alone" in story.refused(begin).sentence


def test_steps_are_walked_at_a_look_and_once_each() -> None:
    story = accepted()
    assert story.refused(soaking.check(story.job)).code == "order"
    story.do(soaking.start(story.job))
    story.passes(RAIL)
    again = story.ask(hand.passing(story.job, RAIL))
    assert "is done for this look" in again.sentence  # type: ignore[union-attr]


def test_a_wrong_serial_is_asked_once_more_and_then_ends_the_soak_with_power_unknown() -> None:
    story = soaking_unit()
    wrong = soaking.seen(story.job, serial="7Q22052")
    assert story.refused(CheckSoak("t1", "soak", wrong)).code == "type again"
    assert story.refused(CheckSoak("t1", "soak", wrong, again=soaking.seen(story.job))).code == "entry"
    looked, ended = story.do(CheckSoak("t1", "soak", wrong, again=wrong))
    assert isinstance(looked, happened.SoakChecked)
    assert not looked.good
    assert isinstance(ended, happened.SoakInterrupted)
    assert (story.told(), story.job.open_soak) == ("unknown", None)


def test_a_supply_that_is_not_at_rest_ends_the_soak() -> None:
    story = soaking_unit()
    wrong = soaking.seen(story.job, volts="9.0 V")
    story.do(CheckSoak("t1", "soak", wrong, again=wrong))
    assert "the supply shows 9.0 V" in story.job.soaks[-1].ended


def test_a_look_that_can_t_be_read_keeps_nothing() -> None:
    story = soaking_unit()
    assert story.refused(CheckSoak("t1", "soak", soaking.seen(story.job, volts="much"))).code == "entry"
    assert story.refused(CheckSoak("t1", "soak", soaking.seen(story.job, "1205.6"))).code == "entry"
    assert story.refused(CheckSoak("t1", "soak", soaking.seen(story.job), cycles=-1)).code == "entry"


def test_a_failed_check_ends_the_soak_revokes_acceptance_and_the_soak_begins_from_nothing() -> None:
    story = an_hour(soaking_unit())
    story.clock.pass_time(hours=1)
    story.do(soaking.check(story.job, continuity=soaking.meter_after(story.job, 7200)))
    story.fails(RAIL)
    assert story.told() == "unknown"
    fail = story.last_attempt()
    assert stale_by(story.job, fail) is None, "the fail itself stands"
    revoked = {a.step for a in story.job.attempts if stale_by(story.job, a) is not None}
    assert revoked == {GUARD, RAIL, LAMPS}
    assert now(story) == 0
    assert any("went stale with failed soak check 1" in sentence for sentence in story.blockers())
    assert any("begun, and nothing of it counts" in sentence for sentence in story.blockers())


def test_a_failed_check_by_the_bench_s_own_fault_shown_gone_revokes_nothing() -> None:
    story = an_hour(soaking_unit())
    story.clock.pass_time(hours=1)
    story.do(soaking.check(story.job, continuity=soaking.meter_after(story.job, 7200)))
    story.fails(RAIL)
    story.do(VoidAttempt("t1", story.last_attempt().number, "loose lead", "lead at the probe", "new lead, 5.00 V"))
    assert {a.step for a in story.job.attempts if stale_by(story.job, a) is not None} == set()
    assert now(story) == pytest.approx(1, abs=0.02)


def test_a_withdrawn_look_takes_the_end_of_a_soak_with_it_that_stands_on_it() -> None:
    story = soaking_unit()
    for _ in range(4):
        an_hour(story)
    look = story.last_attempt().number
    story.do(soaking.finish(story.job))
    _, undone = story.do(VoidAttempt("t1", look, "read at the wrong point"))
    assert isinstance(undone, happened.AttemptVoided)
    assert undone.attempt == story.last_attempt().number
    assert undone.reason == f"without attempt {look} the soak is short by 1 h 00 min of 4 h"
    assert any("short by 1 h 00 min of 4 h" in sentence for sentence in story.blockers())
    assert [(one.step.id, one.why) for one in plan(story.job)] == [("soak", "not begun")]


def test_a_withdrawn_look_that_a_soak_can_do_without_leaves_its_end_alone() -> None:
    story = soaking_unit()
    for _ in range(5):
        an_hour(story)
    look = story.last_attempt().number
    story.do(soaking.finish(story.job))
    (voided,) = story.do(VoidAttempt("t1", look, "read at the wrong point"))
    assert isinstance(voided, happened.AttemptVoided)
    assert voided.attempt == look
    story.make_safe()
    assert story.blockers() == ()


def test_credit_adds_over_legs() -> None:
    story = an_hour(an_hour(soaking_unit()))
    story.do(BreakSoak("t1", "soak", "the bench is needed"))
    assert story.told() == "unknown"
    story.make_safe().power("soak")
    story.do(soaking.start(story.job))
    story.passes(RAIL)
    assert now(story) == pytest.approx(2, abs=0.02)
    an_hour(an_hour(story))
    story.do(soaking.finish(story.job))
    assert "4 h 00 min" in story.last_attempt().judgement.sentence


@pytest.mark.parametrize("told", ["off", "unknown"])
def test_whatever_ends_power_ends_the_leg(told: str) -> None:
    story = soaking_unit()
    if told == "off":
        story.do(TellPower("t1", "off"))
    else:
        story.make_safe()
    assert story.job.open_soak is None
    assert told in story.job.soaks[-1].ended


def test_a_rework_makes_the_hours_before_it_worthless() -> None:
    story = an_hour(soaking_unit()).make_safe()
    story.do(hand.rework("LAMP"))
    assert now(story) == 0


def test_closing_the_run_waits_until_the_soak_ended() -> None:
    story = soaking_unit()
    assert story.refused(CloseRun("t1")).code == "order"


def test_a_restart_of_the_program_and_time_change_nothing_of_a_soak() -> None:
    story = soaking_unit()
    story.clock.pass_time(minutes=50)
    story.restart()
    assert story.told() == "soaking"
    story.clock.pass_time(minutes=10)
    story.do(soaking.check(story.job, continuity=soaking.meter_after(story.job, 3600)))
    story.passes(RAIL)
    assert now(story) == pytest.approx(1, abs=0.02)


def test_a_clock_on_the_wall_that_is_set_changes_nothing() -> None:
    story = soaking_unit()
    story.clock.set_wall(hours=-7)
    story.clock.pass_time(minutes=60)
    story.do(soaking.check(story.job, continuity=soaking.meter_after(story.job, 3600)))
    story.passes(RAIL)
    assert now(story) == pytest.approx(1, abs=0.02)


def test_a_planned_off_and_on_is_counted_and_its_time_taken_out() -> None:
    story = soaking_unit(sequences.with_steps({**sequences.SOAK_STEP, "cycles": 3, "off": "90 s"}))
    story.clock.pass_time(minutes=30)
    story.do(TellPower("t1", "cycled"))
    assert story.told() == "soaking"
    story.clock.pass_time(minutes=30)
    story.do(soaking.check(story.job, continuity=soaking.meter_after(story.job, 3600 - 3 * 90), cycles=2))
    story.passes(RAIL)
    soak = soak_now(story.job, soaking.soak_of(story.job))
    assert soak.credit.cycles == 3
    assert soak.short_cycles == 0
    assert soak.credit.counted_s == pytest.approx(3600 - 270, abs=60)


def test_ambient_outside_what_the_sequence_asks_for_keeps_the_hour_from_counting() -> None:
    story = soaking_unit(sequences.with_steps({**sequences.SOAK_STEP, "ambient": "15 °C .. 35 °C"}))
    story.clock.pass_time(minutes=60)
    hot = soaking.seen(story.job, soaking.meter_after(story.job, 3600), ambient="41 °C")
    story.do(CheckSoak("t1", "soak", hot))
    story.passes(RAIL)
    assert now(story) == 0


def test_a_soak_ends_early_only_with_a_reason() -> None:
    story = soaking_unit()
    assert story.refused(BreakSoak("t1", "soak", " ")).code == "entry"
    assert story.refused(BreakSoak("t1", "other", "why")).code == "order"


def test_a_soak_ended_long_after_its_last_look_leaves_power_unknown() -> None:
    story = soaking_unit()
    for _ in range(4):
        an_hour(story)
    twin = story.twin()
    story.do(soaking.finish(story.job))
    assert story.told() == "on"
    twin.clock.pass_time(minutes=20)
    twin.do(soaking.finish(twin.job))
    assert twin.told() == "unknown"


def test_a_failed_look_ends_the_soak_even_where_the_line_after_it_was_torn_off() -> None:
    story = soaking_unit()
    story.clock.pass_time(hours=1)
    story.do(soaking.check(story.job, continuity=soaking.meter_after(story.job, 3600)))
    story.answer(RAIL)
    judged, _interrupted = story.do(hand.failing(story.job, RAIL))
    assert isinstance(judged, happened.AttemptJudged)
    torn = story.twin()
    torn.history = torn.history[:-1]
    assert torn.replayed().open_soak is None
    assert torn.replayed().power[-1].told == "unknown"


def test_a_supply_that_is_not_where_the_soak_began_is_wrong_though_the_unit_would_stand_it() -> None:
    story = soaking_unit()
    low = soaking.seen(story.job, volts="17.0 V")
    assert "the soak was begun on 24 V" in story.refused(CheckSoak("t1", "soak", low)).sentence
    story.do(CheckSoak("t1", "soak", soaking.seen(story.job, volts="23.1 V")))
    assert story.told() == "soaking"
