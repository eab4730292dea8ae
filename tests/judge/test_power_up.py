"""Does the limit light overrule the current?"""

import pytest

from passcheck.judge.accuracy import parse_accuracy
from passcheck.judge.limits import parse_limits
from passcheck.judge.power_up import LimitLight, judge_power_up
from passcheck.judge.quantity import parse_reading

IDLE = parse_limits("0.10 A .. 0.22 A")
SUPPLY = parse_accuracy("1 % + 1 digit")


@pytest.mark.parametrize(
    ("current", "light", "verdict", "words"),
    [
        ("0.16 A", "off", "pass", "stayed off"),
        ("0.16 A", "brief", "pass", "briefly"),
        ("0.16 A", "on", "fail", "Switch off"),
        ("0.30 A", "on", "fail", "Switch off"),
        ("0.30 A", "off", "fail", "0.08 A beyond"),
        ("0.00 A", "off", "fail", "0.00 A"),
        ("0.22 A", "off", "in doubt", "too close"),
        ("OL", "off", "not measured", "over range"),
        ("OL", "on", "fail", "OL"),
    ],
)
def test_first_power(current: str, light: LimitLight, verdict: str, words: str) -> None:
    found = judge_power_up([parse_reading(current, "A")], IDLE, SUPPLY, light)
    assert found.verdict == verdict
    assert words in found.sentence
    assert "0.10 A .. 0.22 A" in found.sentence
