"""Does the record get every trial and row that was tapped, void ones too, as the core reads them?"""

import random  # noqa: TID251 - a simulated hand from a seed
from dataclasses import replace

import pytest
from tapping import FILMED, HOW, TapHand

from passcheck.bench.reference_block import programmed_delays
from passcheck.bench.tap_rows import RateCourse, SweepCourse
from passcheck.bench.tapped_answers import pairs_answer, pairs_of, reference_pairs, rows_answer
from passcheck.bench.timing import Drawn, Interrupted, Pressed, ReferenceCourse, Tapped, TimedOut, Withdrawn
from passcheck.bench.unit_trials import HandCourse, ResponseCourse
from passcheck.job.answers import Departure, TapPair, TapPairsAnswer, TapRow, TapRowsAnswer
from passcheck.job.judging_taps import beyond_delays, trial_times
from passcheck.judge.limits import parse_limits

LONG = HandCourse(limits=parse_limits("at most 4 s"))
SWEEP = SweepCourse(parse_limits("1.5 s .. 3 s"), parse_limits("1.5 s .. 3 s"), 2)


def block() -> ReferenceCourse:
    return ReferenceCourse(programmed_delays(0.5, TapHand(1).uniforms(40)), 0.5)


def early(course: ReferenceCourse, at_s: float) -> ReferenceCourse:
    return course.after(Pressed(at_s)).after(Tapped(at_s)).after(Tapped(at_s + 0.2))


def test_the_core_reads_of_a_block_what_the_course_holds() -> None:
    course = TapHand(2).at_our_screen(block())
    assert beyond_delays(reference_pairs(course)) == pytest.approx(course.beyond_delays_s, abs=5e-6)


def test_a_block_that_was_given_up_is_kept_before_the_one_that_counts_and_none_of_it_does() -> None:
    course = block().after(Pressed(5.0)).after(Tapped(5.0)).after(Drawn(5.6)).after(Tapped(5.9))
    for at_s in (10.0, 20.0, 30.0, 40.0):
        course = early(course, at_s)
    pairs = reference_pairs(TapHand(3).at_our_screen(course))
    assert [one.void for one in pairs[:5]] == ["the block was begun anew", *["tapped before it was seen"] * 4]
    assert pairs[0].stop == "5.900000"
    assert pairs[1].drawn is None
    assert [one.void for one in pairs[5:]] == [""] * 20


def test_trials_are_kept_in_the_order_tapped_with_what_was_set_aside_withdrawn_and_begun() -> None:
    course = LONG
    for at_s in (10.0, 20.0, 30.0, 40.0):  # four void ones are too many, and are set aside
        course = course.after(Tapped(at_s)).after(Tapped(at_s + 0.05))
    course = course.after(Tapped(50.0)).after(Tapped(51.5)).after(Withdrawn("looked away")).after(Tapped(60.0))
    assert pairs_of(course) == (
        *(TapPair(f"{at_s}.000000", f"{at_s}.050000", "tapped before it was seen") for at_s in (10, 20, 30, 40)),
        TapPair("50.000000", "51.500000", "looked away"),
        TapPair("60.000000", None, "broken off"),
    )


def test_no_response_is_kept_as_a_trial_without_a_second_tap_and_without_a_void() -> None:
    course = ResponseCourse(limit_s=0.5, reference_s=(0.3,) * 20, latency=FILMED)
    course = course.after(Tapped(10.0)).after(TimedOut(13.0))
    assert pairs_answer(course, HOW) == TapPairsAnswer((TapPair("10.000000", None),), HOW)


def test_the_core_reads_of_the_trials_what_the_course_decides_by() -> None:
    course = TapHand(4).at_the_unit(replace(LONG), 2.0)
    read = trial_times(pairs_answer(course, HOW))
    assert read == pytest.approx([one.time_s for one in course.trials], abs=5e-6)


def test_sweeps_are_kept_in_their_order_the_void_ones_first() -> None:
    course = SWEEP
    for at_s in (10.0, 11.0, 12.0, 20.0):
        course = course.after(Tapped(at_s))
    course = course.after(Interrupted("the window changed its size"))
    for at_s in (30.0, 31.0, 32.0):
        course = course.after(Tapped(at_s))
    assert rows_answer(course, HOW).rows == (
        TapRow("up", ("10.000000", "11.000000", "12.000000"), "broken off"),
        TapRow("down", ("20.000000",), "broken off"),
        TapRow("up", ("30.000000", "31.000000", "32.000000")),
    )


def test_a_row_of_flashes_is_kept_with_the_lamps_that_were_amiss() -> None:
    course = RateCourse(parse_limits("1 .. 2 Hz"), 1).after(Tapped(4.0)).after(Interrupted("suspended"))
    draw = random.Random(5)  # noqa: S311 - a simulation
    taps_s = [round(10 + 0.667 * place + draw.gauss(0, 0.02), 6) for place in range(14)]
    for at_s in taps_s:
        course = course.after(Tapped(at_s))
    amiss = (Departure(2, "dim"),)
    rows = (TapRow("flash", ("4.000000",), "broken off"), TapRow("flash", tuple(f"{at_s:.6f}" for at_s in taps_s)))
    assert rows_answer(course, HOW, amiss) == TapRowsAnswer(rows, HOW, amiss)
