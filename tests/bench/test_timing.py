"""Is each trial walked by its marks alone, none lost, none counted that shouldn't be?"""

import random  # noqa: TID251 - a simulated hand from a seed
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.bench.reference_block import programmed_delays
from passcheck.bench.timing import (
    AwaitStart,
    AwaitStop,
    Done,
    Drawn,
    Interrupted,
    Light,
    Mark,
    PressCourse,
    ReferenceCourse,
    Tapped,
    TimedOut,
    Trial,
    UnitCourse,
)
from passcheck.judge.latency import Latency

FILMED = Latency(0.06, 0.002)
BLOCK = tuple(0.30 + 0.01 * (place % 5) for place in range(20))


def unit(**changed: object) -> UnitCourse:
    return replace(UnitCourse(0.5, BLOCK, FILMED), **changed)  # type: ignore[arg-type]


def pressed(course: UnitCourse, *times_s: float | None) -> UnitCourse:
    for time_s in times_s:
        course = course.after(Tapped(10.0))
        course = course.after(TimedOut(13.0) if time_s is None else Tapped(10.0 + time_s))
    return course


def test_a_reference_trial_is_two_taps_and_the_light_as_it_was_drawn() -> None:
    course = ReferenceCourse((0.45, 0.55), 0.5)
    assert course.cue == AwaitStart(1, 2)
    course = course.after(Tapped(100.0))
    assert course.cue == Light(100.45)
    course = course.after(Drawn(100.47))
    assert course.cue == AwaitStop(103.0)
    course = course.after(Tapped(100.77))
    assert course.cue == AwaitStart(2, 2)
    assert course.beyond_delays_s == pytest.approx((0.30,))  # less the delay that was drawn, not the programmed one


def test_a_tap_before_the_light_is_void_and_its_delay_is_walked_again_at_the_end() -> None:
    course = ReferenceCourse((0.45, 0.55), 0.5).after(Tapped(100.0)).after(Tapped(100.3))
    assert course.cue == AwaitStart(1, 2, "tapped before it was seen")
    assert course.delays_s == (0.55, 0.45)
    assert course.beyond_delays_s == ()
    late = ReferenceCourse((0.45,), 0.5).after(Tapped(100.0)).after(Drawn(100.45)).after(TimedOut(103.0))
    assert late.cue == AwaitStart(1, 1, "not tapped in time")


def test_more_than_three_voids_in_eight_begin_the_block_again_and_keep_what_was_walked() -> None:
    course = ReferenceCourse((0.45, 0.50, 0.55), 0.5)
    for _ in range(4):
        course = course.after(Tapped(100.0)).after(Tapped(100.2))
    assert (course.delays_s, course.trials, len(course.begun_again)) == ((0.45, 0.50, 0.55), (), 4)
    assert "begin again" in course.said


def test_three_trials_far_inside_the_limit_pass_and_five_far_outside_fail() -> None:
    quick = pressed(unit(), 0.5, 0.51)
    assert quick.cue == AwaitStart(3, 3)
    quick = pressed(quick, 0.49)
    assert (quick.cue, quick.finding.verdict) == (Done(), "pass")
    slow = pressed(unit(), 1.1, 1.12, 1.09)
    assert slow.cue == AwaitStart(4, 5, "2 more trials may decide it")
    slow = pressed(slow, 1.1, 1.1)
    assert (slow.cue, slow.finding.verdict) == (Done(), "fail")


def test_at_the_limit_all_eight_are_walked_and_it_stays_in_doubt() -> None:
    course = pressed(unit(), *(0.76,) * 5)
    assert course.cue == AwaitStart(6, 8, "3 more trials may decide it")
    course = pressed(course, *(0.76,) * 3)
    assert (course.cue, course.finding.verdict) == (Done(), "in doubt")


def test_no_answer_in_time_is_a_fail_at_once_and_never_a_void() -> None:
    course = pressed(unit(), 0.5, None)
    assert (course.cue, course.finding.verdict) == (Done(), "fail")


def test_a_tap_that_cannot_have_seen_anything_is_walked_again() -> None:
    course = pressed(unit(), 0.05)
    assert course.cue == AwaitStart(1, 3, "tapped before it was seen")


def test_too_many_voids_are_set_aside_and_no_slow_trial_with_them() -> None:
    course = pressed(unit(), 1.1, 1.1, *(0.05,) * 4)
    assert [one.time_s for one in course.trials] == pytest.approx([1.1, 1.1])
    assert len(course.set_aside) == 4
    assert "begin again" in course.said


def test_a_second_block_is_walked_to_its_end_before_it_is_looked_at() -> None:
    course = pressed(unit(earlier_s=(0.76,) * 8), *(0.6,) * 7)
    assert course.cue == AwaitStart(8, 8)
    assert pressed(course, 0.6).cue == Done()


def test_a_row_of_presses_passes_when_all_are_in_time_and_ends_at_the_first_that_is_not() -> None:
    course = PressCourse(1.0, 3)
    for _ in range(3):
        course = course.after(Tapped(10.0)).after(Tapped(10.4))
    assert (course.cue, course.finding.verdict) == (Done(), "pass")
    late = PressCourse(1.0, 3).after(Tapped(10.0)).after(Tapped(11.2))
    assert (late.cue, late.finding.verdict) == (Done(), "fail")
    none = PressCourse(1.0, 3).after(Tapped(10.0)).after(TimedOut(13.5))
    assert (none.cue, none.trials) == (Done(), (Trial(10.0, None),))
    early = PressCourse(1.0, 3).after(Tapped(10.0)).after(Tapped(10.05))
    assert early.cue == AwaitStart(1, 3, "tapped before it was seen")


COURSES = (ReferenceCourse((0.45, 0.55), 0.5), UnitCourse(0.5, BLOCK, FILMED), PressCourse(1.0, 3))


@pytest.mark.parametrize("course", COURSES)
def test_what_is_interrupted_is_void_said_so_and_begins_clean(
    course: ReferenceCourse | UnitCourse | PressCourse,
) -> None:
    begun = course.after(Tapped(10.0)).after(Interrupted("the window changed its size"))
    assert isinstance(begun.cue, AwaitStart)
    assert begun.cue.said == "the window changed its size"
    assert begun.trials == ()


MARKS = st.lists(
    st.one_of(
        st.builds(Tapped, st.floats(0, 100)),
        st.builds(Drawn, st.floats(0, 100)),
        st.builds(TimedOut, st.floats(0, 100)),
        st.builds(Interrupted, st.just("suspended")),
    ),
    max_size=60,
)


@pytest.mark.parametrize("course", COURSES)
@given(marks=MARKS)
def test_no_marks_in_any_order_break_a_course(
    course: ReferenceCourse | UnitCourse | PressCourse, marks: list[Mark]
) -> None:
    for mark in marks:
        before = course
        course = course.after(mark)
        assert isinstance(course.cue, AwaitStart | Light | AwaitStop | Done)
        if before.cue == Done():
            assert course == before


def walked(delay_s: float, seed: int) -> str:
    """A simulated hand walks a block and a unit; the verdict."""
    draw = random.Random(seed)  # noqa: S311 - a simulation

    def reaction_s() -> float:
        return 0.18 + draw.gauss(0, 0.02) + draw.expovariate(1 / 0.04) + 0.06

    now, block = 0.0, ReferenceCourse(programmed_delays(0.5, [draw.random() for _ in range(40)]), 0.5)
    while block.cue != Done():
        match block.cue:
            case AwaitStart():
                now += 1
                block = block.after(Tapped(now))
            case Light(at_s):
                now = at_s + draw.uniform(0, 0.016)
                block = block.after(Drawn(now))
            case AwaitStop():
                now += reaction_s()
                block = block.after(Tapped(now))
    course = UnitCourse(0.5, block.beyond_delays_s, FILMED)
    while course.cue != Done():
        now += 1
        course = course.after(Tapped(now)).after(Tapped(now + delay_s + reaction_s() - 0.06))
    return course.finding.verdict


@pytest.mark.parametrize("seed", range(8))
def test_a_hand_passes_a_quick_unit_and_fails_a_slow_one(seed: int) -> None:
    assert walked(0.25, seed) == "pass"
    assert walked(0.80, seed) == "fail"
