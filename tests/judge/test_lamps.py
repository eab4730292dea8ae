"""Is every lamp counted, and every wrong one named?"""

import pytest

from passcheck.errors import OurBug
from passcheck.judge.accuracy import parse_accuracy
from passcheck.judge.lamps import judge_lamp_rate, judge_lamps
from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import parse_quantity

NAMES = [f"DS{number}" for number in range(1, 13)]


def test_a_walk_without_a_fault_passes() -> None:
    found = judge_lamps(NAMES, {})
    assert (found.verdict, found.value, found.high, found.outside) == ("pass", "12", "12", False)
    assert "12 of 12 lamps" in found.sentence


def test_one_dark_lamp_fails_and_is_named() -> None:
    found = judge_lamps(NAMES, {7: "ghost", 3: "dark"})
    assert (found.verdict, found.value, found.outside) == ("fail", "10", True)
    assert found.sentence == "2 of 12 lamps not as they should be: DS3 dark, DS7 ghost."


def test_no_lamps_show_nothing() -> None:
    assert judge_lamps([], {}).verdict == "not measured"


@pytest.mark.parametrize("number", [0, 13, -1])
def test_a_number_without_a_lamp_is_our_bug(number: int) -> None:
    with pytest.raises(OurBug):
        judge_lamps(NAMES, {number: "dark"})


def test_a_blink_rate_is_judged_like_a_reading() -> None:
    limits, accuracy = parse_limits("1.0 Hz .. 2.0 Hz"), parse_accuracy("± 0.05 Hz")
    assert judge_lamp_rate([parse_quantity("1.50 Hz")], limits, accuracy).verdict == "pass"
    assert judge_lamp_rate([parse_quantity("2.40 Hz")], limits, accuracy).verdict == "fail"
