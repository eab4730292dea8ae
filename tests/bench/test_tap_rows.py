"""Is every row of taps walked by its marks alone, and nothing of it lost?"""

import random  # noqa: TID251 - a simulated hand from a seed

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.bench.tap_rows import AwaitTap, RateCourse, RowCue, SweepCourse
from passcheck.bench.timing import Done, Doubted, Drawn, Interrupted, Mark, Tapped, TimedOut
from passcheck.judge.limits import parse_limits
from passcheck.judge.sweep_judged import SweepRow

UP = parse_limits("1.5 s .. 3 s")
DOWN = parse_limits("at least 1 s")
RATE = parse_limits("1 .. 2 Hz")
HAND_S = 0.030


def sweeps(**changed: object) -> SweepCourse:
    return SweepCourse(UP, DOWN, 4, **changed)  # type: ignore[arg-type]


def swept(course: SweepCourse, start_s: float, *gaps_s: float) -> SweepCourse:
    for place in range(len(gaps_s) + 1):
        course = course.after(Tapped(start_s + sum(gaps_s[:place])))
    return course


def flashed(course: RateCourse, taps: int, period_s: float = 0.67, start_s: float = 5.0) -> RateCourse:
    for place in range(taps):
        course = course.after(Tapped(start_s + place * period_s))
    return course


def awaited(cue: RowCue) -> AwaitTap:
    assert isinstance(cue, AwaitTap)
    return cue


def test_a_sweep_is_one_tap_a_mark_and_waits_without_end_for_the_first() -> None:
    course = sweeps()
    assert course.cue == AwaitTap(1, 5, "up", None)
    course = course.after(Tapped(100.0))
    assert course.cue == AwaitTap(2, 5, "up", 105.5)
    course = course.after(Tapped(100.5))
    assert course.cue == AwaitTap(3, 5, "up", 105.5)
    course = course.after(Tapped(101.0)).after(Tapped(101.5)).after(Tapped(102.0))
    assert course.cue == AwaitTap(1, 5, "down", None)
    assert course.rows == (SweepRow((100.0, 100.5, 101.0, 101.5, 102.0), "up"),)
    assert course.judgement is None


def test_without_a_high_limit_a_row_waits_beyond_the_low_one() -> None:
    course = swept(sweeps(), 100.0, 0.5, 0.5, 0.5, 0.5).after(Tapped(110.0))
    assert awaited(course.cue).until_s == 113.5


def test_two_even_sweeps_each_way_are_judged() -> None:
    course = sweeps()
    for start_s in (10.0, 20.0, 30.0, 40.0):
        assert course.judgement is None
        course = swept(course, start_s, 0.5, 0.5, 0.5, 0.5)
    assert course.cue == Done()
    assert course.judgement is not None
    assert course.judgement.verdict == "pass"


def test_a_stall_that_was_seen_once_is_looked_for_a_third_time() -> None:
    course = sweeps()
    for start_s, gap_s in ((10.0, 1.0), (20.0, 0.5), (30.0, 0.5), (40.0, 0.5)):
        course = swept(course, start_s, 0.5, gap_s, 0.5, 0.5)
    assert course.cue == AwaitTap(1, 5, "up", None)
    course = swept(course, 50.0, 0.5, 1.0, 0.5, 0.5)
    assert course.cue == Done()
    assert course.judgement is not None
    assert "hesitated up between mark 1 and mark 2, in 2 of 3 sweeps" in course.judgement.sentence


@pytest.mark.parametrize("late", [TimedOut(105.5), Tapped(105.6)])
def test_a_pointer_that_stands_still_ends_the_row_and_fails(late: Mark) -> None:
    course = swept(sweeps(), 100.0, 0.5, 0.5).after(late)
    assert course.cue == Done()
    assert course.rows == (SweepRow((100.0, 100.5, 101.0), "up"),)
    assert course.judgement is not None
    assert course.judgement.sentence == "up: did not reach mark 3 of 4 in time."


def test_an_interruption_voids_every_sweep_of_the_course_and_keeps_them_for_the_record() -> None:
    course = swept(swept(sweeps(), 10.0, 0.5, 0.5, 0.5, 0.5), 20.0, 0.5)
    course = course.after(Interrupted("the window changed its size"))
    assert course.cue == AwaitTap(1, 5, "up", None, "the window changed its size")
    assert (course.rows, course.begun) == ((), ())
    assert [(row.way, len(row.taps_s)) for row in course.voided] == [("up", 5), ("down", 2)]
    assert awaited(course.after(Tapped(30.0)).cue).said == ""


def test_a_steady_lamp_is_judged_after_fourteen_taps() -> None:
    course = RateCourse(RATE, 1)
    assert course.cue == AwaitTap(1, 14, "flash", None)
    course = flashed(course, 13)
    cue = awaited(course.cue)
    assert (cue.number, cue.of, cue.row) == (14, 14, "flash")
    assert cue.until_s == pytest.approx(5.0 + 12 * 0.67 + 5.0)
    assert course.judgement is None
    course = flashed(course, 1, start_s=5.0 + 13 * 0.67)
    assert course.cue == Done()
    assert course.judgement is not None
    assert course.judgement.verdict == "pass"


@pytest.mark.parametrize(
    ("limits", "every", "wait_s"),
    [("1 .. 2 Hz", 1, 5.0), ("0.5 .. 2 Hz", 1, 8.0), ("0.5 .. 5 Hz", 4, 32.0), ("at most 2 Hz", 1, 5.0)],
)
def test_a_slow_lamp_is_given_four_of_its_slowest_periods(limits: str, every: int, wait_s: float) -> None:
    course = RateCourse(parse_limits(limits), every).after(Tapped(10.0))
    assert awaited(course.cue).until_s == 10.0 + wait_s


def test_without_a_low_limit_the_slowest_flash_so_far_is_the_measure() -> None:
    course = RateCourse(parse_limits("at most 2 Hz"), 1).after(Tapped(10.0)).after(Tapped(14.0)).after(Tapped(15.0))
    assert awaited(course.cue).until_s == 31.0


@pytest.mark.parametrize("late", [TimedOut(30.0), Tapped(30.0)])
def test_a_lamp_that_stops_flashing_fails(late: Mark) -> None:
    course = flashed(RateCourse(RATE, 1), 9).after(late)
    assert course.cue == Done()
    assert course.judgement is not None
    assert course.judgement.verdict == "fail"
    assert course.judgement.sentence == "The lamp flashed 9 times, then no more, against 1 .. 2 Hz."
    assert len(course.taps_s) == 9


def test_ten_taps_are_enough_to_judge_and_that_no_more_came_is_told() -> None:
    course = flashed(RateCourse(RATE, 1), 10).after(TimedOut(30.0))
    assert course.cue == Done()
    assert course.judgement is not None
    assert course.judgement.verdict == "pass"
    assert course.judgement.sentence.endswith(" No tap came after number 10.")


def test_taps_too_many_leave_a_doubt_where_too_few_are_left_that_count() -> None:
    course = RateCourse(RATE, 1)
    for time in (0.0, 0.6, 1.2, 1.8, 2.0, 2.4, 3.0, 3.6, 4.2, 4.8):  # one flash was tapped twice
        course = course.after(Tapped(time))
    course = course.after(TimedOut(30.0))
    assert course.cue == Done()
    assert course.judgement is not None
    assert course.judgement.verdict == "in doubt"
    assert "fewer than 8 of 10 taps count: tap every flash once" in course.judgement.sentence


def test_an_interrupted_row_of_flashes_begins_clean() -> None:
    course = flashed(RateCourse(RATE, 2), 5).after(Interrupted("suspended"))
    assert course.cue == AwaitTap(1, 14, "flash", None, "suspended")
    assert (course.taps_s, len(course.voided), len(course.voided[0])) == ((), 1, 5)
    assert awaited(course.after(Tapped(99.0)).cue).said == ""


@pytest.mark.parametrize("course", [sweeps(), RateCourse(RATE, 1)])
def test_a_unit_that_shows_nothing_fails_when_the_person_says_so(course: SweepCourse | RateCourse) -> None:
    judged = course.after(TimedOut(9.0)).judgement
    assert judged is not None
    assert judged.verdict == "fail"


@pytest.mark.parametrize("course", [sweeps(), RateCourse(RATE, 1)])
def test_a_tap_that_turns_out_not_to_be_one_begins_the_rows_clean(course: SweepCourse | RateCourse) -> None:
    doubted = course.after(Tapped(10.0)).after(Tapped(10.4)).after(Doubted(10.4, "a held key"))
    assert awaited(doubted.cue).said == "a held key"
    assert awaited(doubted.cue).number == 1
    assert len(doubted.voided) == 1
    assert course.after(Tapped(10.0)).after(Doubted(5.0, "another tap")) == course.after(Tapped(10.0))


@pytest.mark.parametrize("course", [sweeps(), RateCourse(RATE, 1)])
def test_marks_that_do_not_fit_change_nothing(course: SweepCourse | RateCourse) -> None:
    begun = course.after(Tapped(10.0))
    for mark in (Drawn(11.0), Tapped(10.0), Tapped(9.0)):
        assert begun.after(mark) == begun


@pytest.mark.parametrize(("period_s", "verdict"), [(1 / 1.5, "pass"), (1 / 0.8, "fail"), (1 / 2.4, "fail")])
def test_a_hand_of_30_ms_tells_a_rate_inside_from_one_outside(period_s: float, verdict: str) -> None:
    hand = random.Random(11)  # noqa: S311 - a simulated hand, not a secret
    for _ in range(20):
        course, flash = RateCourse(RATE, 1), 0
        while course.cue != Done():
            course = course.after(Tapped(50.0 + flash * period_s + hand.gauss(0, HAND_S)))
            flash += 1
        assert flash == 14
        assert course.judgement is not None
        assert course.judgement.verdict == verdict


MARKS = st.lists(
    st.one_of(
        st.builds(Tapped, st.floats(0, 100)),
        st.builds(Drawn, st.floats(0, 100)),
        st.builds(TimedOut, st.floats(0, 100)),
        st.builds(Interrupted, st.just("suspended")),
    ),
    max_size=40,
)
RISING = st.lists(st.floats(0.05, 2), min_size=0, max_size=40).map(
    lambda gaps: [Tapped(sum(gaps[:place])) for place in range(1, len(gaps) + 1)]
)


@pytest.mark.parametrize("start", [sweeps(), RateCourse(RATE, 1), RateCourse(parse_limits("at most 5 Hz"), 4)])
@given(st.one_of(MARKS, RISING))
def test_no_marks_break_a_course_and_it_is_judged_exactly_when_it_is_done(
    start: SweepCourse | RateCourse, marks: list[Mark]
) -> None:
    course = start
    for mark in marks:
        before = course
        course = course.after(mark)
        assert (course.judgement is not None) == (course.cue == Done())
        if before.cue == Done():
            assert course == before


@given(st.one_of(MARKS, RISING))
def test_no_tap_that_was_taken_is_lost(marks: list[Mark]) -> None:
    course = sweeps()
    for mark in marks:
        before, course = course, course.after(mark)
        kept = (len(course.begun) + sum(len(row.taps_s) for row in (*course.rows, *course.voided))) - (
            len(before.begun) + sum(len(row.taps_s) for row in (*before.rows, *before.voided))
        )
        assert kept in ({0, 1} if isinstance(mark, Tapped) else {0})


@given(RISING, st.integers(-1000, 1000))
def test_the_clock_a_row_was_tapped_by_changes_no_verdict(taps: list[Tapped], hour_s: int) -> None:
    here, there = RateCourse(RATE, 1), RateCourse(RATE, 1)
    for tap in taps:
        here, there = here.after(tap), there.after(Tapped(tap.at_s + hour_s))
    assert (here.judgement is None) == (there.judgement is None)
    if here.judgement is not None and there.judgement is not None:
        assert here.judgement.verdict == there.judgement.verdict
