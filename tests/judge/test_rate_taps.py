"""Is a blink rate told from taps, and a doubt about the taps kept a doubt?"""

import random  # noqa: TID251 - a simulated hand from a seed
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.errors import OurBug
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import parse_limits
from passcheck.judge.rate_taps import judge_rate_by_taps, stopped_flashing, tapped_every, too_few_count

LIMITS = parse_limits("1 .. 2 Hz")
HAND_S = 0.030


def tapped(taps_hz: float, count: int = 14, seed: int = 0) -> list[float]:
    """Taps of a hand that scatters by 30 ms."""
    hand = random.Random(seed)  # noqa: S311 - a simulated hand, not a secret
    return [7.0 + place / taps_hz + hand.gauss(0, HAND_S) for place in range(count)]


def judged(taps_s: list[float], limits: str = "1 .. 2 Hz", every: int = 1) -> Judgement:
    found = judge_rate_by_taps(taps_s, parse_limits(limits), every)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("limits", "every"),
    [
        ("1 .. 2 Hz", 1),
        ("1 .. 2.4 Hz", 1),
        ("1 .. 2.5 Hz", 2),
        ("1 .. 4.8 Hz", 2),
        ("1 .. 4.9 Hz", 4),
        ("1 .. 5 Hz", 4),
        ("1 .. 5.1 Hz", None),
        ("at most 2 Hz", 1),
        ("at least 2.4 Hz", 1),
        ("at least 2.5 Hz", None),
    ],
)
def test_flashes_are_tapped_so_that_a_hand_can_follow(limits: str, every: int | None) -> None:
    assert tapped_every(parse_limits(limits)) == every


@given(st.integers(11, 900))
def test_a_hand_never_has_to_tap_faster_than_2_4_a_second(hundredths: int) -> None:
    every = tapped_every(parse_limits(f"0.1 .. {hundredths / 100} Hz"))
    assert (every is None) == (hundredths > 500)
    if every is not None:
        assert hundredths / 100 / every <= 2.4


@pytest.mark.parametrize("seed", range(20))
def test_1_5_hz_passes_inside_1_to_2_hz_and_fails_outside(seed: int) -> None:
    taps = tapped(1.5, seed=seed)
    inside = judged(taps)
    assert inside.verdict == "pass"
    assert float(inside.value or 0) == pytest.approx(1.5, abs=0.05)
    assert judged(taps, "2 .. 2.4 Hz").verdict == "fail"
    assert judged(taps, "at most 1 Hz").verdict == "fail"


def test_the_sentence_says_tapped_and_is_no_finer_than_the_taps() -> None:
    assert judged(tapped(2.0, seed=3)[:12], "1 .. 3 Hz").sentence == (
        "1.99 Hz is inside 1 .. 3 Hz, 0.99 Hz from the nearer limit; tapped at every flash, ± 0.04 Hz."
    )


def test_the_lamp_flashes_as_often_as_is_tapped_times_the_flashes_a_tap() -> None:
    taps = tapped(2.0)
    once, fourth = judged(taps, "1 .. 10 Hz"), judged(taps, "1 .. 10 Hz", every=4)
    assert float(fourth.value or 0) == pytest.approx(4 * float(once.value or 0), rel=1e-5)
    assert float(fourth.u or 0) == pytest.approx(4 * float(once.u or 0), rel=1e-5)
    assert "tapped at every 4th flash" in fourth.sentence


def test_the_first_two_taps_are_left_out() -> None:
    taps = tapped(1.5)
    assert judged([0.0, 0.1, *taps[2:]]) == judged(taps)


def test_fewer_than_eight_taps_that_count_ask_for_more() -> None:
    assert judge_rate_by_taps(tapped(1.5, 9), LIMITS, 1) is None
    assert judge_rate_by_taps([], LIMITS, 1) is None
    assert judge_rate_by_taps(tapped(1.5, 10), LIMITS, 1) is not None
    extra = sorted([*tapped(1.5, 9), tapped(1.5, 9)[5] + 0.2])
    assert judge_rate_by_taps(extra, LIMITS, 1) is None


def test_a_hand_that_wavers_between_two_rates_is_in_doubt() -> None:
    wavering = [float(time) for time in (0, 1, 2, 3, 4, 6, 8, 9, 10, 12, 14, 15)]
    found = judged(wavering, "0.9 .. 1.1 Hz")
    assert (found.verdict, found.outside) == ("in doubt", True)
    reason = "about as many times between taps are one period long as two: tap every"
    assert f"{reason} flash once." in found.sentence
    assert f"{reason} 2nd flash once." in judged(wavering, every=2).sentence


def test_taps_that_follow_no_period_are_in_doubt() -> None:
    uneven = [0.0, 1.0]
    for gap in (1.0, 1.34, 1.0, 0.66, 1.34, 1.0, 0.66, 1.0, 1.34, 0.66, 1.0):
        uneven.append(uneven[-1] + gap)
    found = judged(uneven, "0.5 .. 1.5 Hz")
    assert found.verdict == "in doubt"
    assert "6 of 10 times between taps are no whole number of periods: tap every flash once." in found.sentence


def test_flashes_tapped_twice_in_haste_are_in_doubt() -> None:
    doubled = [0.6 * (place // 2) + 0.1 * (place % 2) for place in range(14)]
    found = judged(doubled, "at least 1 Hz")
    assert found.verdict == "in doubt"
    assert "more flashes went by between taps than were tapped" in found.sentence


def test_a_lamp_that_stops_fails_and_says_after_how_many_flashes() -> None:
    stopped = stopped_flashing(6, LIMITS, 1)
    assert stopped.sentence == "The lamp flashed 6 times, then no more, against 1 .. 2 Hz."
    assert (stopped.verdict, stopped.value, stopped.low, stopped.high) == ("fail", None, "1", "2")
    assert "about 12 times" in stopped_flashing(6, LIMITS, 2).sentence
    assert "1 time," in stopped_flashing(1, LIMITS, 1).sentence


def test_too_few_that_count_are_a_doubt() -> None:
    doubt = too_few_count(11, LIMITS, 2)
    assert (doubt.verdict, doubt.outside) == ("in doubt", True)
    assert doubt.sentence == "No rate against 1 .. 2 Hz: fewer than 8 of 11 taps count: tap every 2nd flash once."


SHAKES = st.lists(st.floats(-0.1, 0.1).map(lambda shake: round(shake, 3)), min_size=14, max_size=14, unique=True)


@given(SHAKES, st.integers(-1000, 1000))
def test_the_hour_of_the_day_changes_nothing(shakes: list[float], hour_s: int) -> None:
    taps = [0.7 * place + shake for place, shake in enumerate(shakes)]
    here, there = judged(taps), judged([time + hour_s for time in taps])
    assert float(there.value or 0) == pytest.approx(float(here.value or 0), rel=1e-5)
    assert float(there.u or 0) == pytest.approx(float(here.u or 0), rel=1e-4)
    assert replace(there, value=here.value, u=here.u) == here


@given(SHAKES, st.integers(50, 149), st.integers(151, 300), st.integers(0, 49), st.integers(0, 100))
def test_wider_limits_never_turn_a_pass_into_a_fail(
    shakes: list[float], low: int, high: int, lower: int, higher: int
) -> None:
    taps = [0.7 * place + shake for place, shake in enumerate(shakes)]
    narrow = judged(taps, f"{low / 100} .. {high / 100} Hz")
    wide = judged(taps, f"{(low - lower) / 100} .. {(high + higher) / 100} Hz")
    if narrow.verdict == "pass":
        assert wide.verdict == "pass"
    if wide.verdict == "fail":
        assert narrow.verdict == "fail"


@given(st.lists(st.floats(0.05, 3), min_size=9, max_size=20))
def test_no_rising_taps_break_it(gaps: list[float]) -> None:
    found = judge_rate_by_taps([sum(gaps[:place]) for place in range(len(gaps) + 1)], LIMITS, 1)
    assert found is None or found.verdict in {"pass", "fail", "in doubt"}


def test_a_lamp_at_its_limit_passes_in_few_of_many_tries() -> None:
    passed = sum(judged(tapped(2.0, seed=seed)).verdict == "pass" for seed in range(400))
    assert passed < 0.08 * 400  # 5 % of independent taps; the rest is chance


def test_taps_that_do_not_rise_and_other_units_are_refused() -> None:
    with pytest.raises(ValueError, match="rise"):
        judge_rate_by_taps([1.0, 0.0], LIMITS, 1)
    with pytest.raises(OurBug, match="taps give Hz"):
        judge_rate_by_taps(tapped(1.5), parse_limits("1 .. 2 s"), 1)
    with pytest.raises(OurBug, match="taps give Hz"):
        tapped_every(parse_limits("1 .. 2 s"))
