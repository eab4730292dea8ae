"""Does one late answer decide, whatever the others did?"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.errors import OurBug
from passcheck.judge.accuracy import parse_accuracy, standard_uncertainty
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import parse_reading
from passcheck.judge.response import frames_accuracy, judge_response

FRAMES = frames_accuracy(Decimal(60))


def judged(*times: str, limits: str = "at most 0.30 s") -> Judgement:
    """Judge times from a camera with 60 frames a second."""
    return judge_response([parse_reading(time, "s") for time in times], parse_limits(limits), FRAMES)


def test_answers_in_time_pass() -> None:
    assert judged("0.18 s").verdict == "pass"
    found = judged("0.18 s", "0.21 s", "0.20 s")
    assert found.verdict == "pass"
    assert found.value == "0.21"
    assert "3 of 3 answers pass" in found.sentence


def test_the_best_of_several_never_passes_for_the_late_one() -> None:
    found = judged("0.10 s", "0.10 s", "0.40 s")
    assert (found.verdict, found.value, found.outside) == ("fail", "0.4", True)


def test_no_answer_is_a_fail_and_never_a_void() -> None:
    assert judged("OL").verdict == "fail"
    assert judged("0.1 s", "> 3 s").verdict == "fail"
    assert judged("> 0.2 s").verdict == "in doubt"


def test_a_time_of_zero_was_not_measured() -> None:
    assert judged("0.00 s").verdict == "not measured"
    assert judged().verdict == "not measured"


def test_a_pulse_has_to_be_long_enough_and_short_enough() -> None:
    scope = parse_accuracy("± 1 ms")
    for time, verdict in (("90 ms", "pass"), ("40 ms", "fail"), ("140 ms", "fail")):
        found = judge_response([parse_reading(time)], parse_limits("60 .. 120 ms"), scope)
        assert found.verdict == verdict


def test_a_frame_at_each_end_is_two_rectangles() -> None:
    u = standard_uncertainty(FRAMES, Decimal("0.2"), Decimal("0.001"))
    assert u == pytest.approx((2 / 3) ** 0.5 / 60, rel=1e-5)
    with pytest.raises(OurBug):
        frames_accuracy(Decimal(0))


@given(st.permutations(["0.18 s", "0.29 s", "0.05 s", "> 0.2 s"]))
def test_the_order_of_trials_changes_nothing(times: list[str]) -> None:
    assert judged(*times) == judged("0.05 s", "0.18 s", "0.29 s", "> 0.2 s")


def test_of_several_good_pulses_the_one_nearest_to_either_limit_is_told() -> None:
    scope = parse_accuracy("± 1 ms")
    for times, told in ((("65 ms", "100 ms"), "0.065"), (("80 ms", "115 ms"), "0.115")):
        found = judge_response([parse_reading(time) for time in times], parse_limits("60 .. 120 ms"), scope)
        assert (found.verdict, found.value) == ("pass", told)


def test_a_slow_camera_is_a_camera() -> None:
    assert frames_accuracy(Decimal("0.5")).absolute is not None
