"""Is a count the number wanted and no other?"""

import pytest

from passcheck.errors import OurBug
from passcheck.judge.count import judge_count


@pytest.mark.parametrize(
    ("counted", "verdict", "reason"), [(3, "pass", "as many"), (2, "fail", "1 too few"), (5, "fail", "2 too many")]
)
def test_three_beeps_are_wanted(counted: int, verdict: str, reason: str) -> None:
    found = judge_count(counted, 3)
    assert (found.verdict, found.value, found.low, found.high) == (verdict, str(counted), "3", "3")
    assert f"{counted} counted, 3 wanted" in found.sentence
    assert reason in found.sentence


def test_less_than_nothing_is_our_bug() -> None:
    with pytest.raises(OurBug):
        judge_count(-1, 3)


def test_none_wanted_and_none_counted_is_as_it_should_be() -> None:
    assert judge_count(0, 0).verdict == "pass"
    assert "3 too few" in judge_count(0, 3).sentence
    assert "1 too many" in judge_count(1, 0).sentence


def test_less_than_nothing_wanted_is_our_bug() -> None:
    with pytest.raises(OurBug):
        judge_count(0, -1)
