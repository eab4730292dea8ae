"""Does a simulated hand walk trials as a person does, and is the rule for tapped times right about such hands?"""

import random  # noqa: TID251 - a simulated hand from a seed
from collections.abc import Callable
from dataclasses import replace
from statistics import fmean

import pytest

from passcheck.bench.reference_block import programmed_delays
from passcheck.bench.timing import AwaitStart, Done, ReferenceCourse
from passcheck.bench.unit_trials import HandCourse, PressCourse, ResponseCourse, UnitCourse
from passcheck.judge.judgement import Judgement
from passcheck.judge.latency import UNMEASURED, Latency
from passcheck.judge.limits import parse_limits
from passcheck.judge.press_taps import HandTime
from passcheck.practice.hand import FORESEEN, MOST_TRIALS, Hand
from passcheck.practice.person import Person, draw_person

LIMIT_S = 0.5
QUICK = HandTime(-0.25, 0.05, 1.7)
EVEN = Person(mismatch_s=0.0, learned_s=0.0, lapses=0.0, foreseen=0.0, doubled=0.0)
"""A person to whom nothing befalls."""


def drawn(seed: int) -> random.Random:
    return random.Random(seed)  # noqa: S311 - a simulation


def filmed(person: Person) -> Latency:
    return Latency(person.latency_s, 0.0017)


def hand_of(person: Person, seed: int = 1) -> Hand:
    return Hand(person, drawn(seed), filmed(person))


def block_of(hand: Hand, seed: int = 1) -> ReferenceCourse:
    draw = drawn(seed)
    delays = programmed_delays(LIMIT_S, [draw.random() for _ in range(40)])
    return hand.at_our_screen(ReferenceCourse(delays, LIMIT_S))


def response(block: ReferenceCourse, person: Person) -> ResponseCourse:
    return ResponseCourse(limit_s=LIMIT_S, reference_s=block.beyond_delays_s, latency=filmed(person))


def walked(seed: int, delay_s: float | None) -> ResponseCourse:
    """A person of the population, their block, and a unit of one delay."""
    draw = drawn(seed)
    person = draw_person(draw)
    hand = Hand(person, draw, filmed(person))
    return hand.at_the_unit(response(block_of(hand, seed), person), lambda: delay_s)


def verdict(course: UnitCourse) -> str:
    assert course.judgement is not None
    return course.judgement.verdict


def in_turn(*delays_s: float | None) -> Callable[[], float | None]:
    return iter(delays_s).__next__


def test_the_same_seed_taps_the_same_and_another_seed_does_not() -> None:
    assert walked(5, 0.42) == walked(5, 0.42)
    assert walked(5, 0.42).trials != walked(6, 0.42).trials


def test_a_block_on_our_screen_has_its_twenty_trials_and_the_clock_only_goes_on() -> None:
    block = block_of(hand_of(draw_person(drawn(3))))
    assert block.cue == Done()
    assert len(block.beyond_delays_s) == 20
    times_s = [time_s for one in block.trials for time_s in (one.start_s, one.stop_s) if time_s is not None]
    assert times_s == sorted(times_s)


def test_our_screen_shows_latency_and_reaction_and_the_unit_shows_its_delay_and_reaction() -> None:
    person = replace(EVEN, latency_s=0.08)
    beyond_s = [each for seed in range(40) for each in block_of(hand_of(person, seed), seed).beyond_delays_s]
    slowed_s = 0.006  # what is left of unreadiness around half a second
    assert fmean(beyond_s) == pytest.approx(0.08 + person.mu_s + person.tau_s + slowed_s, abs=0.006)
    course = HandCourse(limits=parse_limits("at most 9 s"))
    times_s = [
        one.time_s or 0.0
        for seed in range(200)
        for one in hand_of(person, seed).at_the_unit(course, lambda: 2.0).trials
    ]
    assert fmean(times_s) == pytest.approx(2.0 + person.mu_s + person.tau_s, abs=0.008)


def test_a_delay_that_stays_the_same_is_learned_and_one_that_changes_is_not() -> None:
    learner = replace(EVEN, learned_s=0.040)
    course = PressCourse(limit_s=9.0, presses=20, hand=QUICK)

    def mean_s(person: Person, *delays_s: float) -> float:
        trials = hand_of(person).at_the_unit(course, in_turn(*delays_s)).trials
        return fmean(one.time_s or 0.0 for one in trials)

    same, changing, short = (1.0,) * 20, (1.0, 1.5) * 10, (0.1,) * 20
    assert mean_s(EVEN, *same) - mean_s(learner, *same) == pytest.approx(0.040, abs=1e-5)
    assert mean_s(EVEN, *changing) - mean_s(learner, *changing) == pytest.approx(0.002, abs=1e-5)  # the first one only
    assert mean_s(EVEN, *short) == pytest.approx(mean_s(learner, *short))


def test_a_filmed_latency_is_the_benchs_own_and_where_nobody_filmed_it_the_persons() -> None:
    assert Hand(EVEN, drawn(1), Latency(0.07, 0.0)).latency_s == 0.07
    assert Hand(EVEN, drawn(1), UNMEASURED).latency_s == EVEN.latency_s
    about_s = [Hand(EVEN, drawn(seed), Latency(0.07, 0.002)).latency_s for seed in range(300)]
    assert fmean(about_s) == pytest.approx(0.07, abs=0.0005)


def test_a_unit_that_never_answers_fails_however_inattentive_the_person() -> None:
    wild = Person(lapses=0.3, foreseen=0.3, doubled=0.1)
    for seed in range(40):
        hand = hand_of(wild, seed)
        course = hand.at_the_unit(
            ResponseCourse(limit_s=0.5, reference_s=(0.3,) * 20, latency=filmed(wild)), lambda: None
        )
        assert verdict(course) == "fail"
        assert course.trials[-1].stop_s is None
        assert hand.now_s == pytest.approx(course.trials[-1].start_s + 3.0)


def test_a_unit_that_answers_after_the_wait_fails_and_no_stray_tap_follows() -> None:
    course = hand_of(EVEN).at_the_unit(HandCourse(limits=parse_limits("at most 2 s")), lambda: 6.0)
    assert verdict(course) == "fail"
    assert len(course.trials) == 1


def test_one_late_answer_among_others_is_tapped_late() -> None:
    course = PressCourse(limit_s=1.0, presses=4, hand=QUICK)
    course = hand_of(EVEN).at_the_unit(course, in_turn(0.3, 0.3, 2.3, 0.3))
    times_s = [one.time_s or 0.0 for one in course.trials]
    assert times_s.index(max(times_s)) == 2
    assert max(times_s) > 2.3


def test_lapses_double_taps_and_trials_that_were_owned_up_to_occur() -> None:
    row = PressCourse(limit_s=9.0, presses=1000, hand=QUICK)
    trials = hand_of(Person(), 4).at_the_unit(row, lambda: 0.42).trials
    times_s = [one.time_s for one in trials if one.time_s is not None]
    assert len(times_s) == MOST_TRIALS
    assert sum(time_s > 0.42 + 0.5 for time_s in times_s) >= 2
    assert sum(time_s < 0.15 for time_s in times_s) >= 2
    assert sum(one.void == FORESEEN for one in trials) >= 2


def test_what_was_owned_up_to_never_enters_the_decision() -> None:
    foreseeing = replace(EVEN, foreseen=0.5)
    for seed in range(30):
        hand = hand_of(foreseeing, seed)
        course = hand.at_the_unit(HandCourse(limits=parse_limits("at most 4 s")), lambda: 2.0)
        assert all(one.is_void for one in course.trials if one.void == FORESEEN)
        assert course.valid == 3


def test_a_course_that_never_settles_ends_all_the_same_and_is_handed_back_between_trials() -> None:
    nervous = replace(EVEN, doubled=1.0)
    hand = hand_of(nervous)
    block = hand.at_our_screen(ReferenceCourse((0.5,) * 20, LIMIT_S))
    assert isinstance(block.cue, AwaitStart)
    assert len(block.begun_again) + len(block.trials) == MOST_TRIALS
    hopping = replace(EVEN, foreseen=1.0, beside_s=0.05, beside_scatter_s=0.0)  # every tap sooner than anybody sees
    course = hand_of(hopping).at_the_unit(HandCourse(limits=parse_limits("at most 4 s")), lambda: 0.0)
    assert (course.start_s, course.judgement) == (None, None)
    assert len(course.trials) + len(course.set_aside) == MOST_TRIALS


class Blind(ResponseCourse):
    """A course whose limit and judgement nobody may look at; it wants five trials."""

    __slots__ = ()

    @property
    def judgement(self) -> Judgement | None:
        """Asked by the course itself."""
        return None

    @property
    def is_settled(self) -> bool:
        """After five."""
        return self.valid >= 5


@pytest.mark.parametrize("limit_s", [0.3, 0.9])
def test_a_hand_taps_the_same_whatever_the_limit(limit_s: float) -> None:
    other = Blind(limit_s=limit_s, reference_s=(0.3,) * 20, latency=filmed(EVEN))
    course = Blind(limit_s=LIMIT_S, reference_s=(0.3,) * 20, latency=filmed(EVEN))
    assert (
        hand_of(EVEN).at_the_unit(other, lambda: 0.45).trials == hand_of(EVEN).at_the_unit(course, lambda: 0.45).trials
    )


def test_a_unit_well_inside_its_limit_passes_mostly_and_one_well_outside_never() -> None:
    assert sum(verdict(walked(seed, 0.35)) == "pass" for seed in range(60)) >= 55  # 59 of 60 are expected
    assert sum(verdict(walked(seed, 0.65)) == "pass" for seed in range(20)) == 0


def test_a_unit_exactly_at_its_limit_is_passed_no_more_often_than_the_rule_promises() -> None:
    people = 120
    passed = sum(verdict(walked(seed, LIMIT_S)) == "pass" for seed in range(people))
    promised = 0.025 * people
    assert passed <= promised + 3 * promised**0.5  # three standard deviations of so small a count
