"""Is a time of a second and more judged with the wide error of a hand?"""

import pytest

from passcheck.judge.hand_timed import judge_by_hand
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import parse_quantity


def judged(*times: str, limits: str = "at most 2 s") -> Judgement:
    return judge_by_hand([parse_quantity(time) for time in times], parse_limits(limits))


@pytest.mark.parametrize(
    ("time", "verdict"), [("2.13 s", "pass"), ("2.14 s", "in doubt"), ("2.46 s", "in doubt"), ("2.47 s", "fail")]
)
def test_a_hand_is_late_by_about_three_tenths(time: str, verdict: str) -> None:
    assert judged(time).verdict == verdict


def test_nothing_finer_than_a_tenth_is_said() -> None:
    found = judged("1.52 s")
    assert found.value == "1.22"
    assert found.sentence.startswith("By hand, less 0.3 s: 1.2 s is inside at most 2 s, 0.8 s from the limit")
    assert float(found.u or 0) == pytest.approx(0.1, rel=1e-5)


def test_the_worst_of_several_decides() -> None:
    assert judged("1.5 s", "2.9 s", "1.6 s").verdict == "fail"


def test_both_ends_are_judged() -> None:
    assert judged("1.35 s", limits="1.2 s .. 5 s").verdict == "in doubt"
    assert judged("1.2 s", limits="1.2 s .. 5 s").verdict == "fail"


@pytest.mark.parametrize("limits", ["at most 0.99 s", "0.5 s .. 3 s", "at least 900 ms"])
def test_shorter_limits_want_reference_trials(limits: str) -> None:
    with pytest.raises(ValueError, match="reference trials"):
        judged("1 s", limits=limits)
