"""Do n presses pass when all were in time, and only then?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.press_times import PressTimes, judge_press_times


def judged(*times_s: float | None, n: int = 3) -> PressTimes:
    return judge_press_times(times_s, 0.5, n)


def test_all_in_time_pass_and_say_what_they_show() -> None:
    found = judged(*[0.5] * 10, n=10)
    assert (found.in_time, found.verdict) == (10, "pass")
    assert (
        found.sentence == "10 of 10 presses in time, at most 0.5 s: at least 74 % of presses are, at 95 % confidence."
    )


def test_one_late_or_missing_answer_fails_at_once() -> None:
    assert judged(0.501).verdict == "fail"
    found = judged(0.2, None, 0.7, n=5)
    assert (found.in_time, found.verdict) == (1, "fail")
    assert found.sentence == "1 of 5 presses in time, at most 0.5 s: 1 late, 1 without an answer."


def test_too_few_presses_want_more() -> None:
    found = judged(0.2, 0.3)
    assert (found.in_time, found.verdict) == (2, "more trials")
    assert found.sentence == "2 of 3 presses in time, at most 0.5 s: 1 still to be tried."


def test_more_than_wanted_all_count() -> None:
    assert judged(0.2, 0.2, 0.2, 0.2).sentence.startswith("4 of 4 presses")
    assert judged(0.2, 0.2, 0.2, 0.6).verdict == "fail"


def test_no_press_shows_nothing() -> None:
    with pytest.raises(ValueError, match="at least 1"):
        judged(n=0)


@given(st.lists(st.one_of(st.none(), st.floats(0.1, 1.0)), max_size=12), st.integers(1, 12))
def test_the_order_changes_nothing(times: list[float | None], n: int) -> None:
    assert judge_press_times(times, 0.5, n) == judge_press_times(times[::-1], 0.5, n)


def test_a_share_is_rounded_down() -> None:
    assert "at least 54 %" in judged(*[0.2] * 5, n=5).sentence
