"""Does the sentence of a tapped number say no more than the taps do?"""

import math

import pytest

from passcheck.errors import OurBug
from passcheck.judge.limits import parse_limits
from passcheck.judge.tapped_words import judge_tapped, margin, refuse_other_unit, without_number

BOTH = parse_limits("1 .. 2 Hz")


def test_a_clear_pass_names_number_limits_margin_and_error() -> None:
    judged = judge_tapped(1.5, 0.02, math.inf, BOTH, "at every flash")
    assert judged.sentence == (
        "1.50 Hz is inside 1 .. 2 Hz, 0.50 Hz from the nearer limit; tapped at every flash, ± 0.04 Hz."
    )
    assert (judged.verdict, judged.value, judged.unit, judged.u) == ("pass", "1.5", "Hz", "0.02")
    assert (judged.low, judged.high, judged.rule, judged.outside) == ("1", "2", "guarded", False)


def test_a_clear_fail_says_how_far_beyond() -> None:
    judged = judge_tapped(0.897, 0.005, math.inf, BOTH, "at every flash")
    assert judged.sentence == (
        "0.897 Hz is outside 1 .. 2 Hz, 0.103 Hz beyond the nearer limit; tapped at every flash, ± 0.010 Hz."
    )
    assert (judged.verdict, judged.outside) == ("fail", True)


def test_a_number_close_to_its_limit_is_in_doubt_and_says_why() -> None:
    close = judge_tapped(1.98, 0.02, math.inf, BOTH, "at every flash")
    assert close.sentence == (
        "1.98 Hz is inside 1 .. 2 Hz, but 0.02 Hz from the nearer limit: too close for taps (± 0.04 Hz)."
    )
    narrow = judge_tapped(1.5, 0.02, math.inf, parse_limits("1.49 .. 1.51 Hz"), "at every flash")
    assert "these limits are too close together for taps (± 0.04 Hz)" in narrow.sentence
    assert close.verdict == narrow.verdict == "in doubt"
    assert not close.outside


def test_few_taps_have_a_wider_error_and_decide_less() -> None:
    many, few = (judge_tapped(1.95, 0.028, nu, BOTH, "at every flash") for nu in (math.inf, 6))
    assert (many.verdict, few.verdict) == ("pass", "in doubt")
    assert "± 0.07 Hz" in few.sentence


def test_a_doubt_stands_whatever_the_number_is() -> None:
    for value in (1.5, 5.0):
        judged = judge_tapped(value, 0.02, math.inf, BOTH, "at every flash", "the hand slipped")
        assert (judged.verdict, judged.outside) == ("in doubt", True)
        assert judged.sentence.endswith("side 1 .. 2 Hz, but the hand slipped.")


def test_a_hand_without_scatter_is_shown_no_finer_than_a_millisecond() -> None:
    judged = judge_tapped(1.23456789, 0.0, math.inf, parse_limits("at most 2 s"), "twice")
    assert judged.sentence == "1.235 s is inside at most 2 s, 765 ms from the limit; tapped twice, ± 1 ms."
    at_the_limit = judge_tapped(2.0, 0.0, math.inf, parse_limits("at most 2 s"), "twice")
    assert "less than 1 ms from the limit" in at_the_limit.sentence


def test_the_margin_is_negative_outside() -> None:
    assert margin(1.25, BOTH) == pytest.approx(0.25)
    assert margin(1.75, BOTH) == pytest.approx(0.25)
    assert margin(0.5, BOTH) == margin(2.5, BOTH) == pytest.approx(-0.5)
    assert margin(1.5, parse_limits("at least 1 Hz")) == pytest.approx(0.5)


def test_taps_without_a_number_keep_the_limits() -> None:
    judged = without_number("fail", "Nothing moved.", parse_limits("at most 2 s"))
    assert (judged.value, judged.u, judged.low, judged.high) == (None, None, None, "2")
    assert (judged.unit, judged.rule, judged.outside) == ("s", "guarded", True)


def test_limits_in_another_unit_are_our_bug() -> None:
    with pytest.raises(OurBug, match="taps give Hz"):
        refuse_other_unit(parse_limits("1 .. 2 s"), "Hz")
    refuse_other_unit(BOTH, "Hz")
