"""Is a row of presses judged press by press, sure ones only?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.judgement import Judgement
from passcheck.judge.latency import Latency
from passcheck.judge.press_taps import HandTime, by_a_hand_alone, by_reference, judge_presses_by_taps

HAND = HandTime(-0.25, 0.05, 1.7)
BLOCK = [0.30 + 0.01 * (place % 5) for place in range(20)]


def judged(*times_s: float | None, limit_s: float = 0.5, wanted: int = 3, hand: HandTime = HAND) -> Judgement | None:
    return judge_presses_by_taps(times_s, hand, limit_s, wanted)


def verdict(*times_s: float | None, **more: float) -> str | None:
    found = judged(*times_s, **more)  # type: ignore[arg-type]
    return None if found is None else found.verdict


def test_all_surely_in_time_pass_and_say_what_that_shows() -> None:
    found = judged(*[0.5] * 10, wanted=10)
    assert found is not None
    assert (found.verdict, found.value, found.u, found.high) == ("pass", "0.25", "0.05", "0.5")
    assert found.sentence == (
        "10 presses against at most 0.5 s, the slowest 0.25 s as tapped: at least 74 % of presses are in time, "
        "at 95 % confidence."
    )


def test_fewer_than_wanted_want_more_unless_they_fail_already() -> None:
    assert verdict(0.5, 0.5) is None
    assert verdict(None) == "fail"
    assert verdict(0.9, 0.9) == "fail"


def test_one_late_press_may_be_the_hand() -> None:
    found = judged(0.9, 0.5, 0.5)
    assert found is not None
    assert found.verdict == "in doubt"
    assert "1 late: the hand or the unit, repeat" in found.sentence


def test_a_press_near_the_limit_is_too_close_for_one_pair_of_taps() -> None:
    found = judged(0.74, 0.5, 0.5)
    assert found is not None
    assert "1 answer too close for single taps" in found.sentence


def test_no_number_under_a_fifth_of_a_second_is_given() -> None:
    found = judged(0.3, 0.3, 0.3)
    assert found is not None
    assert (found.verdict, found.value, found.u) == ("pass", None, None)
    assert "the slowest 0.2 s or less (shorter than taps can resolve)" in found.sentence


def test_the_hand_is_known_from_its_block_or_as_stated() -> None:
    known = by_reference(BLOCK, Latency(0.05, 0.002))
    assert known.lead_s == pytest.approx(0.05 - 0.32)
    assert 0.025 < known.u_s < 0.05
    assert by_reference([0.3] * 20, Latency(0.05, 0.002)).k == pytest.approx(1.645, abs=0.001)
    alone = by_a_hand_alone()
    assert (alone.lead_s, alone.u_s) == (-0.3, 0.1)


def test_no_presses_are_no_row() -> None:
    with pytest.raises(ValueError, match="at least 1 press"):
        judged(wanted=0)


@given(st.lists(st.floats(0.2, 2), min_size=1, max_size=10), st.floats(0, 1))
def test_a_slower_unit_never_does_better(times_s: list[float], slower_s: float) -> None:
    order = ("pass", "in doubt", None, "fail")
    before = verdict(*times_s, wanted=len(times_s))
    after = verdict(*(time_s + slower_s for time_s in times_s), wanted=len(times_s))
    assert order.index(after) >= order.index(before)
