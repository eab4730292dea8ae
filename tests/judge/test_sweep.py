"""Are both directions of a sweep judged, and what the eye saw?"""

import pytest

from passcheck.judge.accuracy import parse_accuracy
from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import parse_quantity
from passcheck.judge.sweep import judge_sweep

TIMES = parse_limits("1.5 .. 3.0 s")


@pytest.mark.parametrize(
    ("up", "down", "hesitation", "verdict"),
    [
        ("2.1 s", "2.2 s", None, "pass"),
        ("2.1 s", "3.5 s", None, "fail"),
        ("1.0 s", "2.2 s", None, "fail"),
        ("2.1 s", "3.0 s", None, "in doubt"),
        ("2.1 s", "2.2 s", "stuck near half", "fail"),
    ],
)
def test_the_worse_direction_decides(up: str, down: str, hesitation: str | None, verdict: str) -> None:
    found = judge_sweep(parse_quantity(up), parse_quantity(down), TIMES, TIMES, parse_accuracy("± 0.1 s"), hesitation)
    assert found.verdict == verdict
    assert found.outside is (verdict == "fail")
    assert all(part in found.sentence for part in (up, down, "1.5 .. 3.0 s", hesitation or "No hesitation"))
