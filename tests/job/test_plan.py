"""Which step comes next, and why?"""

from datetime import date
from decimal import Decimal

import hand
from rig import settings
from story import Story

import sequences
from passcheck.job.commands import MapComplaint
from passcheck.job.events import Purpose
from passcheck.job.plan import minutes_left, plan
from sequences import GUARD, LAMPS, RAIL


def steps(story: Story, purpose: Purpose | None = None) -> list[str]:
    return [one.step.id for one in plan(story.job, purpose)]


def why(story: Story, step: str) -> str:
    return next(one.why for one in plan(story.job) if one.step.id == step)


def test_unpowered_steps_come_before_powered_ones() -> None:
    board = sequences.sequence(steps=[sequences.LAMPS_STEP, sequences.RAIL_STEP, sequences.GUARD_STEP])
    assert steps(Story(board).start()) == [GUARD, LAMPS, RAIL]


def test_the_last_look_comes_last_though_it_needs_no_power() -> None:
    board = sequences.sequence(steps=[sequences.FINAL_STEP, *sequences.BASE["steps"]])
    assert steps(Story(board).start())[-1] == "final"


def test_the_steps_of_one_supply_are_walked_together() -> None:
    story = Story(sequences.hazardous_live()).make_safe().start(second="t2")
    assert steps(story) == [GUARD, RAIL, LAMPS, "inlet"]


def test_an_unpowered_step_waits_behind_its_guard() -> None:
    second = {**sequences.GUARD_STEP, "id": "short-3v", "needs": [GUARD]}
    board = sequences.sequence(steps=[second, sequences.GUARD_STEP, sequences.RAIL_STEP])
    assert steps(Story(board).start())[:2] == [GUARD, "short-3v"]


def test_a_step_that_passed_is_not_planned_again() -> None:
    assert steps(Story().start().passes(GUARD)) == [RAIL, LAMPS]


def test_the_reason_is_told() -> None:
    story = Story().start()
    assert why(story, GUARD) == "not walked yet"
    story.passes(GUARD).fails(RAIL)
    assert why(story, RAIL) == "fail"
    story.passes(RAIL)
    assert why(story, RAIL) == "unexplained: clean repeat 1 of 5"
    story.passes(LAMPS).make_safe().do(hand.rework("LAMP"))
    assert why(story, LAMPS) == "stale: walk it again"


def test_a_doubt_stays_planned_with_its_word() -> None:
    assert why(Story().start().passes(GUARD).reads(RAIL, "5.14 V"), RAIL) == "in doubt"


def test_a_fail_since_is_planned_again() -> None:
    story = Story().walk().start("as-found").fails(RAIL).start()
    assert why(story, RAIL) == "failed since"


def test_as_found_a_fail_is_an_answer_and_a_loose_probe_is_none() -> None:
    story = Story().start("as-found").reads(GUARD, "OL")
    assert why(story, GUARD) == "not measured"
    story.fails(GUARD)
    assert GUARD not in steps(story)


def test_an_as_found_run_does_not_spare_acceptance_a_step() -> None:
    story = Story().start("as-found").passes(GUARD).start()
    assert GUARD in steps(story)


def test_the_look_on_arrival_is_taken_over() -> None:
    story = Story(sequences.with_arrival_and_final()).start("as-found").passes("arrival").start()
    assert "arrival" not in steps(story)


def test_each_good_unit_is_read_from_the_start() -> None:
    story = Story().start("good-unit").passes(GUARD)
    assert steps(story) == [RAIL, LAMPS]
    assert GUARD in steps(story.start("good-unit"))


def test_without_a_run_the_plan_is_that_of_acceptance() -> None:
    assert steps(Story()) == [GUARD, RAIL, LAMPS]
    assert steps(Story(sequences.with_soak()), "burn-in") == ["soak"]


def test_a_variant_that_was_not_chosen_is_not_planned() -> None:
    assert "beeps" not in steps(Story(sequences.with_variant()))
    assert "beeps" in steps(Story(sequences.with_variant(), variants=("beeper",)))


def test_minutes_are_the_author_s() -> None:
    story = Story(sequences.changed_step(GUARD, minutes=2.5))
    assert plan(story.job)[0].minutes == Decimal("2.5")


def test_as_found_the_complaint_s_own_steps_come_first_with_the_guards_they_need() -> None:
    board = sequences.sequence(
        steps=[sequences.LOOK_STEP, sequences.LAMPS_STEP, sequences.GUARD_STEP, sequences.RAIL_STEP]
    )
    story = Story(board)
    assert steps(story.start("as-found")) == ["arrival", GUARD, LAMPS, RAIL]
    story.do(MapComplaint("t1", ("rail-low",)))
    assert steps(story) == ["arrival", GUARD, RAIL, LAMPS]


def test_an_unpowered_step_that_waits_for_a_powered_one_comes_after_that_supply_s_steps() -> None:
    after = {**sequences.GUARD_STEP, "id": "after", "needs": [RAIL], "role": None}
    assert steps(Story(sequences.with_steps(after)).start()) == [GUARD, RAIL, LAMPS, "after"]


def test_a_confirmed_symptom_is_planned_under_the_conditions_that_showed_it() -> None:
    story = Story()
    story.do(MapComplaint("t1", ("rail-low",)))
    story.start("as-found").passes(GUARD).fails(RAIL, under=("warm",)).make_safe()
    story.do(hand.rework("PWR"))
    story.start("acceptance").passes(GUARD).passes(RAIL)
    (planned,) = [one for one in plan(story.job) if one.step.id == RAIL]
    assert (planned.under, planned.why) == (("warm",), "under warm")
    story.passes(RAIL, under=("warm",))
    assert RAIL not in steps(story)


def test_what_failed_under_a_condition_is_planned_under_it_though_no_symptom_names_the_step() -> None:
    story = Story().start("as-found").passes(GUARD).fails(RAIL, under=("20 min warm",)).make_safe()
    story.do(hand.rework("PWR"))
    story.start("retest")
    assert {one.step.id: one.under for one in plan(story.job)} == {GUARD: (), RAIL: ("20 min warm",), LAMPS: ()}


def test_minutes_left_are_those_of_all_that_is_planned() -> None:
    assert minutes_left(plan(Story(sequences.changed_step(GUARD, minutes=2.5)).job)) == Decimal("4.5")


def test_results_that_are_too_old_are_walked_again() -> None:
    story = Story(sequences.sequence(results_last="48 h")).walk()
    assert steps(story) == []
    story.clock.pass_time(hours=49)
    assert [one.why for one in plan(story.job, moment=story.now)] == ["too old"] * 3
    assert any("longer ago than 48 h" in sentence for sentence in story.blockers())


def test_a_meter_found_out_of_tolerance_later_puts_its_readings_under_review() -> None:
    story = Story().walk()
    known = settings().instruments
    doubtful = {**known, "M1": known["M1"].model_copy(update={"doubtful_since": date(2031, 4, 1)})}
    story.with_settings(settings().model_copy(update={"instruments": doubtful}))
    assert any("M1, which is doubtful since 2031-04-01: under review" in one for one in story.blockers())
    assert [one.why for one in plan(story.job, outside=story.outside)] == ["instrument doubtful"] * 2
