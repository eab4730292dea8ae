"""Is each trial on the unit walked by its marks alone, none lost, none counted that shouldn't be?"""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tapping import FILMED, TapHand

from passcheck.bench.reference_block import programmed_delays
from passcheck.bench.timing import (
    AwaitStart,
    AwaitStop,
    Done,
    Doubted,
    Interrupted,
    Mark,
    ReferenceCourse,
    Tapped,
    TimedOut,
    Withdrawn,
)
from passcheck.bench.unit_trials import HandCourse, PressCourse, ResponseCourse, Trial, UnitCourse
from passcheck.judge.limits import parse_limits
from passcheck.judge.press_taps import HandTime

BLOCK = tuple(0.30 + 0.01 * (place % 5) for place in range(20))
QUICK_HAND = HandTime(-0.25, 0.05, 1.7)


def unit(**changed: object) -> ResponseCourse:
    course = ResponseCourse(limit_s=0.5, reference_s=BLOCK, latency=FILMED)
    return replace(course, **changed)  # type: ignore[arg-type]


def row(presses: int = 3) -> PressCourse:
    return PressCourse(limit_s=1.0, presses=presses, hand=QUICK_HAND)


def by_hand(limits: str = "at most 4 s") -> HandCourse:
    return HandCourse(limits=parse_limits(limits))


def pressed(course: UnitCourse, *times_s: float | None) -> UnitCourse:
    for place, time_s in enumerate(times_s):
        start_s = 10.0 + 10 * (place + len(course.trials))
        course = course.after(Tapped(start_s))
        course = course.after(TimedOut(start_s + 9) if time_s is None else Tapped(start_s + time_s))
    return course


def verdict(course: UnitCourse) -> str | None:
    return None if course.judgement is None else course.judgement.verdict


def test_three_trials_far_inside_the_limit_pass_and_five_far_outside_fail() -> None:
    quick = pressed(unit(), 0.5, 0.51)
    assert quick.cue == AwaitStart(3, 3)
    quick = pressed(quick, 0.49)
    assert (quick.cue, verdict(quick)) == (Done(), "pass")
    slow = pressed(unit(), 1.1, 1.12, 1.09)
    assert slow.cue == AwaitStart(4, 5, "2 more trials may decide it")
    slow = pressed(slow, 1.1, 1.1)
    assert (slow.cue, verdict(slow)) == (Done(), "fail")


def test_at_the_limit_all_eight_are_walked_and_it_stays_in_doubt() -> None:
    course = pressed(unit(), *(0.76,) * 5)
    assert course.cue == AwaitStart(6, 8, "3 more trials may decide it")
    course = pressed(course, *(0.76,) * 3)
    assert (course.cue, verdict(course)) == (Done(), "in doubt")


@pytest.mark.parametrize("course", [unit(), row(), by_hand()])
def test_no_answer_in_time_is_a_fail_at_once_and_never_a_void(course: UnitCourse) -> None:
    ended = pressed(course, None)
    assert (ended.cue, verdict(ended)) == (Done(), "fail")
    assert ended.after(Withdrawn("looked away")) == ended


@pytest.mark.parametrize("course", [unit(), row(), by_hand()])
def test_a_tap_that_cannot_have_seen_anything_is_walked_again(course: UnitCourse) -> None:
    assert pressed(course, 0.05).cue == AwaitStart(1, 3, "tapped before it was seen")


def test_too_many_voids_are_set_aside_and_no_slow_trial_with_them() -> None:
    course = pressed(unit(), 1.1, 1.1, *(0.05,) * 4)
    assert [one.time_s for one in course.trials] == pytest.approx([1.1, 1.1])
    assert len(course.set_aside) == 4
    assert "begin again" in course.said


def test_a_second_block_is_walked_to_its_end_before_it_is_looked_at() -> None:
    course = pressed(unit(earlier_s=(0.76,) * 8), *(0.6,) * 7)
    assert course.cue == AwaitStart(8, 8)
    assert pressed(course, 0.6).cue == Done()


def test_a_trial_is_taken_back_before_anything_is_shown_of_it_and_stays_on_record() -> None:
    course = pressed(unit(), 0.5, 2.0).after(Withdrawn("looked away"))
    assert course.cue == AwaitStart(2, 3, "looked away")
    assert [one.void for one in course.trials] == ["", "looked away"]
    assert course.after(Withdrawn("once more")) == course  # only the last, and only once


def test_a_row_of_presses_passes_when_all_are_surely_in_time() -> None:
    assert verdict(pressed(row(), 0.5, 0.6, 0.5)) == "pass"
    close = pressed(row(), 0.5, 1.2, 0.5)
    assert (close.cue, verdict(close)) == (Done(), "in doubt")


def test_one_late_answer_may_be_the_hand_and_two_are_the_unit() -> None:
    once = pressed(row(), 2.0, 0.5, 0.5)
    assert (once.cue, verdict(once)) == (Done(), "in doubt")
    twice = pressed(row(), 2.0, 2.0)
    assert (twice.cue, verdict(twice)) == (Done(), "fail")


def test_a_long_time_takes_three_trials_by_hand_and_over_ten_seconds_one() -> None:
    assert verdict(pressed(by_hand(), 2.0, 2.1, 2.0)) == "pass"
    assert verdict(pressed(by_hand("28 s .. 32 s"), 30.3)) == "pass"
    assert verdict(pressed(by_hand("28 s .. 32 s"), 27.0)) == "fail"


@pytest.mark.parametrize("course", [unit(), row(), by_hand()])
def test_what_is_interrupted_begins_clean_and_a_doubtful_tap_takes_its_trial(course: UnitCourse) -> None:
    begun = course.after(Tapped(10.0)).after(Interrupted("suspended"))
    assert begun.cue == AwaitStart(1, 3, "suspended")
    ended = pressed(course, 0.6)
    assert ended.after(Doubted(10.6, "a held key")).cue == AwaitStart(1, 3, "a held key")
    assert course.after(Tapped(10.0)).after(Doubted(10.0, "a held key")).cue == AwaitStart(1, 3, "a held key")


MARKS = st.lists(
    st.one_of(
        st.builds(Tapped, st.floats(0, 100)),
        st.builds(TimedOut, st.floats(0, 100)),
        st.builds(Interrupted, st.just("suspended")),
        st.builds(Withdrawn, st.just("looked away")),
    ),
    max_size=60,
)


@pytest.mark.parametrize("course", [unit(), row(), by_hand()])
@given(marks=MARKS)
def test_no_marks_in_any_order_break_a_course_or_drop_a_trial(course: UnitCourse, marks: list[Mark]) -> None:
    for mark in marks:
        before = course
        course = course.after(mark)
        assert isinstance(course.cue, AwaitStart | AwaitStop | Done)
        assert len(course.trials) + len(course.set_aside) >= len(before.trials) + len(before.set_aside)
        if before.cue == Done():
            assert course == before


def walked(delay_s: float, seed: int) -> str | None:
    """A simulated hand walks a block and a unit; the verdict."""
    hand = TapHand(seed)
    block = hand.at_our_screen(ReferenceCourse(programmed_delays(0.5, hand.uniforms(40)), 0.5))
    return verdict(hand.at_the_unit(unit(reference_s=block.beyond_delays_s), delay_s))


@pytest.mark.parametrize("seed", range(8))
def test_a_hand_passes_a_quick_unit_and_fails_a_slow_one(seed: int) -> None:
    assert walked(0.25, seed) == "pass"
    assert walked(0.80, seed) == "fail"


def test_trials_know_their_time_and_whether_it_counts() -> None:
    assert Trial(1.0, 1.5).deciding_s == pytest.approx(0.5)
    assert Trial(1.0, None).deciding_s is None
    assert Trial(1.0, 1.5, "looked away").deciding_s == 0.0
    assert not Trial(1.0, 1.05).is_valid
