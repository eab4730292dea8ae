"""Do taps become a judgement that a record can keep, with no number that they can't resolve?"""

import pytest

from passcheck.judge.judgement import RULES
from passcheck.judge.latency import Latency
from passcheck.judge.limits import parse_limits
from passcheck.judge.response_judged import hand_trials_wanted, judge_by_hand_alone, judge_by_reference

BLOCK = [0.30 + 0.01 * (place % 5) for place in range(20)]
FILMED = Latency(0.06, 0.002)


def test_three_quick_trials_are_a_judgement_with_number_and_rule() -> None:
    found = judge_by_reference([0.5, 0.51, 0.49], BLOCK, FILMED, 0.5)
    assert found is not None
    assert (found.verdict, found.unit, found.low, found.high) == ("pass", "s", None, "0.5")
    assert float(found.value or 0) == pytest.approx(0.24, abs=0.01)
    assert found.rule in RULES


def test_two_trials_are_none_and_a_missing_answer_is_a_fail_without_a_number() -> None:
    assert judge_by_reference([0.5, 0.51], BLOCK, FILMED, 0.5) is None
    found = judge_by_reference([None], BLOCK, FILMED, 0.5)
    assert found is not None
    assert (found.verdict, found.value, found.u) == ("fail", None, None)


def test_what_is_too_short_for_taps_gets_no_number() -> None:
    found = judge_by_reference([0.35, 0.36, 0.34], BLOCK, FILMED, 0.5)
    assert found is not None
    assert (found.verdict, found.value) == ("pass", None)
    assert "0.2 s or less" in found.sentence


@pytest.mark.parametrize(
    ("limits", "wanted"), [("at most 4 s", 3), ("28 s .. 32 s", 1), ("at most 10 s", 3), ("2 s .. 20 s", 3)]
)
def test_long_limits_take_one_trial(limits: str, wanted: int) -> None:
    assert hand_trials_wanted(parse_limits(limits)) == wanted


def test_a_hand_alone_waits_for_its_trials_and_fails_at_once_without_an_answer() -> None:
    limits = parse_limits("at most 4 s")
    assert judge_by_hand_alone([2.0, 2.0], limits) is None
    assert judge_by_hand_alone([2.0, 2.0, 0.05], limits) is None  # nobody can have seen that
    found = judge_by_hand_alone([2.0, 2.1, 2.0], limits)
    assert found is not None
    assert found.verdict == "pass"
    missing = judge_by_hand_alone([2.0, None], limits)
    assert missing is not None
    assert missing.sentence == "No response in 1 of 2 trials against at most 4 s."


def test_an_answer_shorter_than_a_reaction_is_no_negative_time() -> None:
    found = judge_by_hand_alone([0.25, 0.26, 0.2], parse_limits("at most 4 s"))
    assert found is not None
    assert (found.verdict, found.value) == ("pass", "0.2")
