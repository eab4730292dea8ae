"""How does a step stand, and is its pass explained?"""

import hand
import pytest
from hypothesis import given
from hypothesis import strategies as st
from story import Story

import sequences
from passcheck.job.commands import AddNote, VoidAttempt
from passcheck.job.staleness import stale_by
from passcheck.job.standing import (
    Unexplained,
    counting,
    failed_since,
    latest,
    passes_standing,
    reworked_since,
    unexplained,
    unmet_needs,
    withdrawn,
)
from sequences import GUARD, LAMPS, RAIL


def told(*verdicts: str, purpose: str = "acceptance") -> Story:
    """A story in which the rail went through these verdicts in one run."""
    story = Story().start("as-found" if purpose == "as-found" else "acceptance").passes(GUARD)
    return more(story, *verdicts)


def more(story: Story, *verdicts: str) -> Story:
    for verdict in verdicts:
        story = story.passes(RAIL) if verdict == "pass" else story.fails(RAIL)
    return story


def question(story: Story) -> Unexplained:
    found = unexplained(story.job, story.step(RAIL))
    assert found is not None
    return found


def passes(story: Story) -> bool:
    return passes_standing(story.job, story.step(RAIL))


def test_the_latest_acceptance_attempt_counts() -> None:
    story = told("pass", "pass")
    assert counting(story.job, story.step(RAIL)) == story.last_attempt()


def test_a_retest_counts_as_left() -> None:
    story = Story().start("retest").passes(GUARD)
    assert passes_standing(story.job, story.step(GUARD))


@pytest.mark.parametrize("purpose", ["as-found", "good-unit"])
def test_as_found_and_good_unit_attempts_never_count(purpose: str) -> None:
    story = Story().start("as-found" if purpose == "as-found" else "good-unit").passes(GUARD)
    assert counting(story.job, story.step(GUARD)) is None


def test_the_look_on_arrival_counts_from_any_run() -> None:
    story = Story(sequences.with_arrival_and_final()).start("as-found").passes("arrival")
    assert passes_standing(story.job, story.step("arrival"))


def test_an_as_found_pass_opens_a_guard_though_it_never_counts() -> None:
    story = told("pass", purpose="as-found")
    assert unmet_needs(story.job, story.step(RAIL)) == ()


def test_readings_of_a_good_unit_open_no_guard_but_its_own() -> None:
    story = Story().start("good-unit").passes(GUARD)
    assert unmet_needs(story.job, story.step(RAIL)) == ()
    story.passes(RAIL).make_safe().start()
    assert [step.id for step in unmet_needs(story.job, story.step(RAIL))] == [GUARD]


def test_what_this_unit_passed_opens_no_guard_of_a_good_one() -> None:
    story = Story().start("as-found").passes(GUARD).start("good-unit")
    assert [step.id for step in unmet_needs(story.job, story.step(RAIL))] == [GUARD]


def test_a_rework_leaves_the_readings_of_a_good_unit_as_they_are() -> None:
    story = Story().start("good-unit").passes(GUARD).start()
    story.do(hand.rework("PWR"))
    assert stale_by(story.job, story.last_attempt()) is None


def test_a_guard_that_failed_or_went_stale_is_unmet() -> None:
    story = Story().start().passes(GUARD).make_safe()
    story.do(hand.rework("PWR"))
    assert latest(story.job, story.step(GUARD)) is None
    assert unmet_needs(story.job, story.step(LAMPS)) != ()
    story.fails(GUARD)
    assert unmet_needs(story.job, story.step(LAMPS)) != ()


def test_one_fail_of_two_asks_for_five_clean_repeats_and_a_note() -> None:
    story = told("fail", "pass")
    assert question(story) == Unexplained(fails=1, tries=2, repeats_needed=5, repeats_done=0, noted=False)
    more(story, *["pass"] * 4).do(AddNote("t1", "clip had slipped", RAIL))
    assert not passes(story)
    more(story, "pass")
    assert passes(story)


def test_two_fails_of_five_ask_for_six_clean_repeats() -> None:
    story = told("fail", "pass", "pass", "fail", "pass")
    found = question(story)
    assert (found.fails, found.tries, found.repeats_needed) == (2, 5, 6)
    more(story, *["pass"] * 6).do(AddNote("t1", "dry joint in our lead", RAIL))
    assert passes(story)


def test_without_a_note_any_number_of_repeats_explains_nothing() -> None:
    assert not passes(told("fail", *["pass"] * 9))


def test_a_note_on_another_step_or_from_before_explains_nothing() -> None:
    story = told("fail")
    story.do(AddNote("t1", "odd", RAIL))
    more(story, *["pass"] * 6).do(AddNote("t1", "odd", LAMPS), AddNote("t1", "odd"))
    assert not passes(story)


def test_a_note_with_the_attempt_itself_does() -> None:
    story = told("fail", *["pass"] * 5).passes(RAIL, note="clip had slipped")
    assert passes(story)


def test_a_fail_in_the_middle_begins_the_question_again() -> None:
    story = told("fail", *["pass"] * 3, "fail", "pass")
    found = question(story)
    assert (found.fails, found.tries, found.repeats_done) == (2, 6, 0)


def test_an_as_found_fail_makes_the_first_pass_as_left_unexplained() -> None:
    story = told("fail", purpose="as-found").start()
    more(story, "pass")
    assert question(story).repeats_needed == 5


def test_a_rework_that_reaches_the_step_explains_it() -> None:
    story = told("fail").make_safe()
    story.do(hand.rework("PWR"))
    story.passes(GUARD)
    more(story, "pass")
    assert unexplained(story.job, story.step(RAIL)) is None
    assert passes(story)


def test_a_rework_elsewhere_explains_nothing() -> None:
    story = told("fail").make_safe()
    line = story.job.lines
    story.do(hand.rework("LAMP"))
    more(story, "pass")
    assert question(story).fails == 1
    assert not reworked_since(story.job, story.step(RAIL), line - 1)
    assert reworked_since(story.job, story.step(LAMPS), line - 1)


def test_a_fault_that_came_and_went_asks_for_repeats_after_its_rework_too() -> None:
    story = told("fail", "pass", "pass", purpose="as-found").make_safe()
    story.do(hand.rework("PWR"))
    story.start().passes(GUARD)
    more(story, "pass")
    found = question(story)
    assert (found.fails, found.tries, found.repeats_needed, found.repeats_done) == (1, 3, 8, 1)
    assert found.intermittent
    more(story, *["pass"] * 7)
    assert passes(story)


def test_a_fault_that_was_always_there_asks_for_no_repeats_after_its_rework() -> None:
    story = told("fail", "fail", purpose="as-found").make_safe()
    story.do(hand.rework("PWR"))
    story.start().passes(GUARD)
    more(story, "pass")
    assert passes(story)


def test_a_void_never_takes_a_fail_away() -> None:
    story = told("fail")
    story.do(VoidAttempt("t1", 2, "slipped"))
    more(story, "pass")
    assert question(story).fails == 1
    assert not withdrawn(story.job.attempts[1])


def test_a_bench_cause_that_was_shown_gone_takes_a_fail_away() -> None:
    story = told("fail")
    story.do(VoidAttempt("t1", 2, "lead", "open test lead", "0.2 Ω after swapping it"))
    more(story, "pass")
    assert passes(story)


def test_a_void_takes_a_pass_out_of_the_count() -> None:
    story = told("pass")
    story.do(VoidAttempt("t1", 2, "wrong point"))
    assert counting(story.job, story.step(RAIL)) is None


def test_a_void_does_not_take_a_doubt_away() -> None:
    story = Story().start().passes(GUARD).reads(RAIL, "5.14 V")
    assert story.last_attempt().judgement.verdict == "in doubt"
    story.do(VoidAttempt("t1", 2, "try again"))
    assert not withdrawn(story.last_attempt())


def test_a_fail_after_the_pass_is_seen_whatever_its_purpose() -> None:
    story = told("pass").start("as-found").fails(RAIL)
    assert failed_since(story.job, story.step(RAIL)) == story.last_attempt()
    assert not passes(story)


@given(st.lists(st.sampled_from(("pass", "fail")), min_size=1, max_size=7))
def test_the_fails_and_tries_are_counted_up_to_the_first_pass_after_the_last_fail(verdicts: list[str]) -> None:
    story = told(*verdicts)
    found = unexplained(story.job, story.step(RAIL))
    if "fail" not in verdicts or verdicts[-1] == "fail":
        assert found is None
        return
    assert found is not None
    last_fail = len(verdicts) - 1 - verdicts[::-1].index("fail")
    assert found.fails == verdicts.count("fail")
    assert found.tries == last_fail + 2
    assert found.repeats_done == len(verdicts) - found.tries
    assert (1 - found.fails / found.tries) ** found.repeats_needed <= 0.05 + 1e-12
