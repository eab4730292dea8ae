"""The number line shows limits, reading and the instrument's error, without colour and no finer than it is known."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.app.widgets.number_line import BAND, INSIDE, LEFT, LIMIT, OUTSIDE, READING, RIGHT, number_line
from passcheck.judge.judgement import Judgement


def judged(value: str | None, u: str | None, low: str | None, high: str | None, unit: str = "V") -> Judgement:
    return Judgement("pass", "", value, unit, u, low, high, "guarded", outside=False)


def drawn(judgement: Judgement, width: int = 60) -> tuple[str, str]:
    line = number_line(judgement, width)
    assert line is not None
    assert len(line.signs) == len(line.figures) == width
    return line.signs, line.figures


def test_a_reading_between_two_limits_stands_between_two_bars_with_its_band() -> None:
    signs, figures = drawn(judged("5.01", "0.012", "4.85", "5.15"))
    left, right = signs.index(LIMIT), signs.rindex(LIMIT)
    assert left < signs.index(READING) < right
    assert BAND in signs[left:right]
    assert signs[0] == OUTSIDE
    assert INSIDE in signs
    assert figures.split() == ["4.85", "V", "5.01", "V", "5.15", "V"]


def test_a_limit_from_one_side_has_one_bar() -> None:
    signs, figures = drawn(judged("0.024", "0.001", None, "0.06"))
    assert signs.count(LIMIT) == 1
    assert signs.index(READING) < signs.index(LIMIT)
    assert figures.split() == ["24", "mV", "60", "mV"]


def test_a_reading_far_above_is_an_arrow_at_the_right_edge_with_its_figure() -> None:
    signs, figures = drawn(judged("2300000", "9000", "10000", None, "Ω"))
    assert signs.endswith(RIGHT)
    assert READING not in signs
    assert "2.300 MΩ" in figures
    assert "10 kΩ" in figures


def test_a_reading_far_below_is_an_arrow_at_the_left_edge() -> None:
    signs, _ = drawn(judged("0.9", "0.01", "4.85", "5.15"))
    assert signs.startswith(LEFT)


def test_over_range_has_no_value_and_leaves_only_its_limit() -> None:
    signs, figures = drawn(judged(None, None, "150", None, "Ω"))
    assert READING not in signs
    assert BAND not in signs
    assert signs.count(LIMIT) == 1
    assert figures.split() == ["150", "Ω"]


def test_the_figure_is_no_finer_than_the_uncertainty() -> None:
    _, figures = drawn(judged("5.012345", "0.02", "4.85", "5.15"))
    assert "5.01 V" in figures
    assert "5.012" not in figures


def test_what_was_counted_has_no_number_line() -> None:
    assert number_line(judged("3", None, "3", "3", unit=""), 60) is None


def test_where_there_is_no_room_nothing_is_drawn() -> None:
    assert number_line(judged("5.01", "0.012", "4.85", "5.15"), 12) is None


@pytest.mark.parametrize("width", [20, 37, 80])
@given(
    value=st.decimals("-1000", "1000", places=3),
    u=st.decimals("0.001", "10", places=3),
    ends=st.tuples(st.decimals("-100", "100", places=2), st.decimals("0.01", "200", places=2)),
    one_sided=st.sampled_from(["low", "high", "both"]),
)
def test_every_reading_is_either_placed_or_pointed_at(
    width: int, value: Decimal, u: Decimal, ends: tuple[Decimal, Decimal], one_sided: str
) -> None:
    low, span = ends
    given_low = str(low) if one_sided != "high" else None
    given_high = str(low + span) if one_sided != "low" else None
    signs, _ = drawn(judged(str(value), str(u), given_low, given_high), width)
    assert sum(signs.count(sign) for sign in (READING, LEFT, RIGHT)) == 1
