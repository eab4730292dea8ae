"""Is each reference trial walked by its marks alone, none lost, none counted that shouldn't be?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.bench.timing import (
    AwaitStart,
    AwaitStop,
    Done,
    Doubted,
    Drawn,
    Interrupted,
    Light,
    Mark,
    Pressed,
    ReferenceCourse,
    Tapped,
    TimedOut,
    Withdrawn,
)

COURSE = ReferenceCourse((0.45, 0.55), 0.5)


def together(course: ReferenceCourse, at_s: float = 100.0) -> ReferenceCourse:
    return course.after(Pressed(at_s)).after(Tapped(at_s + 0.02))


def test_a_reference_trial_is_a_press_two_taps_and_the_light_as_it_was_drawn() -> None:
    assert COURSE.cue == AwaitStart(1, 2)
    course = together(COURSE)
    assert course.cue == Light(100.45)  # counted from the press, as the unit counts it
    course = course.after(Drawn(100.47))
    assert course.cue == AwaitStop(103.0 + 0.02)
    course = course.after(Tapped(100.77))
    assert course.cue == AwaitStart(2, 2)
    assert course.beyond_delays_s == pytest.approx((0.75 - 0.47,))  # less the delay that was drawn


def test_press_and_tap_come_in_either_order_but_together() -> None:
    assert COURSE.after(Tapped(100.0)).after(Pressed(100.03)).cue == Light(100.03 + 0.45)
    apart = COURSE.after(Pressed(100.0)).after(Tapped(100.4))
    assert apart.cue == AwaitStart(1, 2, "press and tap at the same moment")
    assert apart.after(Pressed(100.41)).cue == Light(100.41 + 0.45)  # the later one began anew


def test_a_tap_before_the_light_is_void_and_its_delay_is_walked_again_at_the_end() -> None:
    course = together(COURSE).after(Tapped(100.3))
    assert course.cue == AwaitStart(1, 2, "tapped before it was seen")
    assert course.delays_s == (0.55, 0.45)
    assert course.beyond_delays_s == ()
    late = together(ReferenceCourse((0.45,), 0.5)).after(Drawn(100.45)).after(TimedOut(103.0))
    assert late.cue == AwaitStart(1, 1, "not tapped in time")


def test_more_than_three_voids_in_eight_begin_the_block_again_and_keep_what_was_walked() -> None:
    course = ReferenceCourse((0.45, 0.50, 0.55), 0.5)
    for _ in range(4):
        course = together(course).after(Tapped(100.2))
    assert (course.delays_s, course.trials, len(course.begun_again)) == ((0.45, 0.50, 0.55), (), 4)
    assert "begin again" in course.said


def test_what_is_interrupted_is_void_said_so_and_begins_clean() -> None:
    begun = together(COURSE).after(Interrupted("the window changed its size"))
    assert begun.cue == AwaitStart(1, 2, "the window changed its size")
    assert begun.trials == ()


def test_a_tap_that_turns_out_not_to_be_one_takes_its_trial_with_it() -> None:
    ended = together(ReferenceCourse((0.45,), 0.5)).after(Drawn(100.45)).after(Tapped(100.7))
    assert ended.cue == Done()
    doubted = ended.after(Doubted(100.7, "a held key"))
    assert doubted.cue == AwaitStart(1, 1, "a held key")
    assert (doubted.trials[0].void, doubted.beyond_delays_s) == ("a held key", ())
    begun = together(COURSE)
    assert begun.after(Doubted(100.02, "a held key")).cue == AwaitStart(1, 2, "a held key")
    assert ended.after(Doubted(55.5, "another tap")) == ended


MARKS = st.lists(
    st.one_of(
        st.builds(Pressed, st.floats(0, 100)),
        st.builds(Tapped, st.floats(0, 100)),
        st.builds(Drawn, st.floats(0, 100)),
        st.builds(TimedOut, st.floats(0, 100)),
        st.builds(Interrupted, st.just("suspended")),
        st.builds(Withdrawn, st.just("looked away")),
    ),
    max_size=60,
)


@given(marks=MARKS)
def test_no_marks_in_any_order_break_a_course(marks: list[Mark]) -> None:
    course = COURSE
    for mark in marks:
        before = course
        course = course.after(mark)
        assert isinstance(course.cue, AwaitStart | Light | AwaitStop | Done)
        if before.cue == Done():
            assert course == before
