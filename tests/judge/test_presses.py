"""Does n of n say no more than it shows?"""

from decimal import Decimal

import pytest

from passcheck.errors import OurBug
from passcheck.judge.limits import parse_limits
from passcheck.judge.presses import judge_presses
from passcheck.judge.quantity import parse_quantity
from passcheck.judge.response import frames_accuracy

FRAMES = frames_accuracy(Decimal(60))
IN_TIME = parse_limits("at most 0.30 s")


def test_ten_of_ten_shows_74_percent() -> None:
    found = judge_presses(10, 10, None, None, None)
    assert found.verdict == "pass"
    assert "at least 74 % of presses count, at 95 % confidence" in found.sentence


@pytest.mark.parametrize(("counted", "reason"), [(9, "missed"), (11, "twice"), (0, "missed")])
def test_one_missed_or_doubled_press_fails(counted: int, reason: str) -> None:
    found = judge_presses(counted, 10, None, None, None)
    assert (found.verdict, found.outside) == ("fail", True)
    assert f"{counted} counts from 10 presses" in found.sentence
    assert reason in found.sentence


@pytest.mark.parametrize(
    ("slowest", "verdict"), [("0.20 s", "pass"), ("0.30 s", "in doubt"), ("0.40 s", "fail"), (None, "not measured")]
)
def test_the_slowest_press_decides_the_time(slowest: str | None, verdict: str) -> None:
    time = None if slowest is None else parse_quantity(slowest)
    found = judge_presses(10, 10, time, IN_TIME, FRAMES)
    assert found.verdict == verdict
    assert "0.30 s" in found.sentence


def test_no_number_of_presses_shows_everything() -> None:
    assert "99 %" in judge_presses(100_000, 100_000, None, None, None).sentence


def test_no_presses_are_our_bug() -> None:
    with pytest.raises(OurBug):
        judge_presses(0, 0, None, None, None)


def test_one_of_one_shows_little_and_fifty_of_fifty_more() -> None:
    assert "at least 5 % of presses" in judge_presses(1, 1, None, None, None).sentence
    assert "at least 54 % of presses" in judge_presses(5, 5, None, None, None).sentence
    assert "at least 94 % of presses" in judge_presses(50, 50, None, None, None).sentence


def test_a_time_without_what_timed_it_is_our_bug() -> None:
    with pytest.raises(OurBug):
        judge_presses(10, 10, parse_quantity("0.2 s"), IN_TIME, None)


def test_less_than_no_counts_are_our_bug() -> None:
    with pytest.raises(OurBug):
        judge_presses(-1, 10, None, None, None)
