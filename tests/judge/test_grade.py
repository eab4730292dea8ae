"""Is a disturbance judged by its class and by the time until the unit is alive again?"""

import pytest

from passcheck.errors import OurBug
from passcheck.judge.accuracy import parse_accuracy
from passcheck.judge.grade import judge_grade
from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import parse_quantity

CLOCK = parse_accuracy("± 0.1 s")
SOON = parse_limits("at most 3.0 s")


@pytest.mark.parametrize("grade", "ABCDE")
@pytest.mark.parametrize("worst", "ABCDE")
def test_a_class_worse_than_allowed_fails(grade: str, worst: str) -> None:
    found = judge_grade(grade, worst, None, None, CLOCK)
    assert found.verdict == ("pass" if grade <= worst else "fail")
    assert f"Class {grade}" in found.sentence
    assert f"worst allowed {worst}" in found.sentence


@pytest.mark.parametrize(
    ("grade", "recovery", "verdict"),
    [
        ("A", None, "pass"),
        ("C", "2.1 s", "pass"),
        ("C", "6.2 s", "fail"),
        ("C", "3.05 s", "in doubt"),
        ("B", None, "not measured"),
        ("D", "2.1 s", "fail"),
    ],
)
def test_the_recovery_has_to_be_in_time(grade: str, recovery: str | None, verdict: str) -> None:
    time = None if recovery is None else parse_quantity(recovery)
    found = judge_grade(grade, "D", time, SOON, CLOCK)
    assert found.verdict == verdict
    assert grade == "A" or "3.0 s" in found.sentence


def test_an_unknown_class_or_clock_is_our_bug() -> None:
    with pytest.raises(OurBug):
        judge_grade("B", "C", parse_quantity("2 s"), SOON, None)
    with pytest.raises(OurBug):
        judge_grade("F", "C", None, None, CLOCK)
