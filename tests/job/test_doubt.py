"""Can trying again until it passes gain anything?"""

import hand
from story import Story

import sequences
from passcheck.job.answers import ReadingAnswer
from passcheck.job.commands import Attempt
from passcheck.job.doubt import doubts, earlier_answers
from passcheck.judge.judgement import Verdict
from sequences import GUARD, RAIL


def tried(*shown: str, instrument: str | None = None) -> Story:
    story = Story().start().passes(GUARD)
    for one in shown:
        story.reads(RAIL, one, instrument=instrument)
    return story


def verdicts(story: Story) -> list[Verdict]:
    return [one.judgement.verdict for one in story.job.attempts if one.step == RAIL]


def test_a_reading_near_its_limit_is_in_doubt() -> None:
    assert verdicts(tried("5.14 V")) == ["in doubt"]


def test_readings_of_one_meter_enter_one_decision() -> None:
    story = tried("5.14 V", "5.06 V")
    assert earlier_answers(story.job, story.step(RAIL), "M1") == (
        ReadingAnswer(("5.14 V",)),
        ReadingAnswer(("5.06 V",)),
    )
    judged = story.last_attempt().judgement
    assert judged.value == "5.1", "the mean of both, not the one that passes"
    assert judged.verdict == "in doubt"


def test_a_second_try_that_settles_it_together_with_the_first_passes() -> None:
    assert verdicts(tried("5.10 V", "5.08 V")) == ["in doubt", "pass"]


def test_after_two_tries_with_one_meter_a_third_settles_nothing() -> None:
    story = tried("5.12 V", "5.08 V", "5.06 V")
    assert verdicts(story) == ["in doubt", "in doubt", "in doubt"]
    assert "2 tries with M1 left it in doubt" in story.last_attempt().judgement.sentence


def test_a_second_meter_of_the_same_kind_settles_nothing() -> None:
    story = tried("5.14 V").reads(RAIL, "5.00 V", instrument="M2")
    assert verdicts(story)[-1] == "in doubt"
    assert "M2 is not 1.5 times better" in story.last_attempt().judgement.sentence


def test_a_clearly_better_meter_settles_it() -> None:
    story = tried("5.14 V", "5.14 V").reads(RAIL, "5.1200 V", instrument="M9")
    assert verdicts(story)[-1] == "pass"


def test_a_fail_is_a_fail_after_any_number_of_doubts() -> None:
    assert verdicts(tried("5.14 V", "5.14 V", "6.00 V"))[-1] == "fail"


def test_a_reading_outside_its_limits_is_asked_for_twice_even_where_the_mean_lies_inside() -> None:
    story = tried("5.06 V", "5.10 V").ready(RAIL)
    assert story.refused(Attempt("t1", RAIL, ReadingAnswer(("5.16 V",)))).code == "type again"


def test_a_rework_begins_a_new_decision() -> None:
    story = tried("5.14 V", "5.14 V").make_safe()
    story.do(hand.rework("PWR"))
    story.passes(GUARD).reads(RAIL, "5.00 V")
    assert verdicts(story)[-1] == "pass"
    assert doubts(story.job, story.step(RAIL)) == ()


def test_a_step_on_an_unlike_instrument_is_not_pooled() -> None:
    story = tried("5.14 V")
    assert earlier_answers(story.job, story.step(RAIL), "M9") == ()


def test_doubts_of_another_step_do_not_matter() -> None:
    other = {**sequences.RAIL_STEP, "id": "rail-5v-b", "title": "The other rail"}
    story = Story(sequences.with_steps(other)).start().passes(GUARD).reads(RAIL, "5.14 V").reads("rail-5v-b", "5.00 V")
    assert story.last_attempt().judgement.verdict == "pass"
