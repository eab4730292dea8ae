"""Are rows of taps walked as a person walks them, and judged right?"""

import random  # noqa: TID251 - a simulated hand from a seed
from collections.abc import Iterator
from dataclasses import replace
from itertools import count, pairwise
from statistics import fmean, stdev

import pytest

from passcheck.bench.tap_rows import RATE_TAPS, AwaitTap, RateCourse, SweepCourse
from passcheck.bench.timing import Done
from passcheck.judge.judgement import Judgement
from passcheck.judge.latency import Latency
from passcheck.judge.limits import parse_limits
from passcheck.practice.hand import Hand
from passcheck.practice.hand_rows import MOST_ROWS, MOST_TAPS, TOO_MANY, rows_of_flashes, rows_of_sweep
from passcheck.practice.person import Person, draw_person

EVEN = Person(lapses=0.0, foreseen=0.0, doubled=0.0)
MARKS_S = (0.0, 0.55, 1.1, 1.65, 2.2)
STALLED_S = (0.0, 0.55, 1.1, 2.0, 2.55)


def hand_of(person: Person, seed: int = 1) -> Hand:
    return Hand(person, random.Random(seed), Latency(0.05, 0.002))  # noqa: S311 - a simulation


def somebody(seed: int) -> Hand:
    draw = random.Random(seed)  # noqa: S311 - a simulation
    return Hand(draw_person(draw), draw, Latency(0.05, 0.002))


def sweeps() -> SweepCourse:
    limits = parse_limits("1.5 s .. 3.0 s")
    return SweepCourse(limits, limits, len(MARKS_S) - 1)


def rate(limits: str = "1 .. 2 Hz", every: int = 1) -> RateCourse:
    return RateCourse(parse_limits(limits), every)


def blinking(period_s: float) -> Iterator[float]:
    return (period_s * number for number in count())


def judged(course: SweepCourse | RateCourse) -> Judgement:
    assert course.cue == Done()
    assert course.judgement is not None
    return course.judgement


def test_the_same_seed_taps_the_same() -> None:
    assert hand_of(Person()).along_marks(MARKS_S) == hand_of(Person()).along_marks(MARKS_S)
    assert hand_of(Person()).flashes(0.7) == hand_of(Person()).flashes(0.7)
    assert hand_of(Person()).flashes(0.7) != hand_of(Person(), 2).flashes(0.7)


def test_a_pointer_that_is_watched_is_tapped_with_little_scatter_and_the_clock_goes_on() -> None:
    hand = hand_of(replace(EVEN, along_s=0.028))
    totals_s = []
    for _ in range(1000):
        taps = hand.along_marks(MARKS_S)
        assert len(taps) == len(MARKS_S)
        assert hand.now_s == taps[-1]
        totals_s.append(taps[-1] - taps[0])
    assert fmean(totals_s) == pytest.approx(2.2, abs=0.005)
    assert stdev(totals_s) == pytest.approx(0.028 * 2**0.5, rel=0.1)


def test_an_even_gauge_in_time_mostly_passes_and_a_stall_in_one_place_fails() -> None:
    even = [judged(rows_of_sweep(somebody(seed), sweeps(), lambda _way: MARKS_S)).verdict for seed in range(100)]
    assert even.count("pass") >= 85
    stalled = [judged(rows_of_sweep(somebody(seed), sweeps(), lambda _way: STALLED_S)) for seed in range(100)]
    assert sum(one.verdict == "fail" for one in stalled) >= 95
    assert "hesitated" in stalled[0].sentence


def test_each_way_has_its_own_travel() -> None:
    asked: list[str] = []

    def travel(way: str) -> tuple[float, ...]:
        asked.append(way)
        return MARKS_S if way == "up" else tuple(1.9 * mark_s for mark_s in MARKS_S)

    course = rows_of_sweep(hand_of(EVEN), sweeps(), travel)
    assert asked[:4] == ["up", "down", "up", "down"]
    assert judged(course).verdict == "fail"
    assert "down" in judged(course).sentence


@pytest.mark.parametrize(("passed", "sentence"), [(MARKS_S[:3], "mark 3 of 4"), ((), "mark 1 of 4")])
def test_a_pointer_that_stands_still_fails_after_the_wait(passed: tuple[float, ...], sentence: str) -> None:
    hand = hand_of(EVEN)
    course = rows_of_sweep(hand, sweeps(), lambda _way: passed)
    assert judged(course).sentence == f"up: did not reach {sentence} in time."
    if passed:
        assert hand.now_s == pytest.approx(course.rows[0].taps_s[0] + 5.5)


def test_a_pointer_that_creeps_is_given_up_when_its_time_is_over() -> None:
    course = rows_of_sweep(hand_of(EVEN), sweeps(), lambda _way: tuple(4 * mark_s for mark_s in MARKS_S))
    assert judged(course).verdict == "fail"
    assert len(course.rows[0].taps_s) == 3


def test_a_tap_over_at_the_end_of_a_row_begins_the_sweeps_anew() -> None:
    course = rows_of_sweep(hand_of(replace(EVEN, doubled=0.3)), sweeps(), lambda _way: MARKS_S)
    assert judged(course).verdict in ("pass", "in doubt", "fail")
    assert course.voided
    assert {len(row.taps_s) for row in course.voided} <= {1, 5}
    never = rows_of_sweep(hand_of(replace(EVEN, doubled=1.0)), sweeps(), lambda _way: MARKS_S)
    assert isinstance(never.cue, AwaitTap)
    assert (never.said, len(never.voided)) == (TOO_MANY, 2 * MOST_ROWS)


def test_a_steady_lamp_is_found_at_its_rate() -> None:
    course = rows_of_flashes(hand_of(EVEN), rate(), blinking(0.7))
    assert judged(course).verdict == "pass"
    assert len(course.taps_s) == RATE_TAPS
    found = [judged(rows_of_flashes(somebody(seed), rate(), blinking(0.7))).verdict for seed in range(100)]
    assert found.count("pass") >= 95
    slow = [judged(rows_of_flashes(somebody(seed), rate(), blinking(1.25))).verdict for seed in range(100)]
    assert slow.count("pass") == 0


def test_every_second_flash_is_tapped_where_that_is_asked() -> None:
    taps = hand_of(EVEN).flashes(0.25, every=2)
    assert fmean(later - tap for tap, later in pairwise(taps)) == pytest.approx(0.5, abs=0.03)
    course = rows_of_flashes(hand_of(EVEN), rate("3 .. 4.5 Hz", 2), blinking(0.27))
    assert judged(course).verdict == "pass"


def test_a_lamp_too_fast_to_follow_is_not_tapped_at_its_own_rate() -> None:
    taps = hand_of(EVEN).flashes(1 / 8)
    assert fmean(later - tap for tap, later in pairwise(taps)) > 1.5 / 8


def test_a_lapse_lets_flashes_go_by_and_a_double_tap_is_one_too_many() -> None:
    lapsing = hand_of(replace(EVEN, lapses=0.2)).flashes(0.5, taps=60)
    assert max(later - tap for tap, later in pairwise(lapsing)) > 0.9
    doubling = hand_of(replace(EVEN, doubled=0.2)).flashes(0.5, taps=60)
    assert min(later - tap for tap, later in pairwise(doubling)) < 0.16


def test_a_lamp_that_goes_dark_or_stays_dark_fails_after_the_wait() -> None:
    hand = hand_of(EVEN)
    course = rows_of_flashes(hand, rate(), [0.0, 0.7, 1.4])
    assert judged(course).verdict == "fail"
    assert "flashed 3 times" in judged(course).sentence
    assert hand.now_s == pytest.approx(course.taps_s[-1] + 5.0)
    assert judged(rows_of_flashes(hand_of(EVEN), rate(), [])).verdict == "fail"


def test_a_row_that_never_settles_is_handed_back_as_it_stands() -> None:
    row = rate("0.2 .. 2 Hz")
    course = rows_of_flashes(hand_of(replace(EVEN, doubled=1.0)), row, blinking(0.7))
    assert len(course.taps_s) <= MOST_TAPS
