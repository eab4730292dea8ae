"""Where does the next good board read?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.good_boards import good_board_range


def test_three_boards_leave_much_room() -> None:
    low, high = good_board_range([990, 1000, 1010], 1)
    half = 4.302653 * 10 * math.sqrt(1 + 1 / 3)
    assert (low, high) == pytest.approx((1000 - half, 1000 + half), rel=1e-6)


def test_equal_readings_still_hide_half_a_digit() -> None:
    low, high = good_board_range([1000.0, 1000.0], 10)
    assert high - low == pytest.approx(2 * 12.7062 * 10 / math.sqrt(12) * math.sqrt(1.5), rel=1e-4)


def test_one_board_needs_a_declared_spread() -> None:
    assert good_board_range([1000], 1, declared_spread=50) == (950, 1050)
    for spread in (None, 0.0, math.inf):
        with pytest.raises(ValueError, match="declare"):
            good_board_range([1000], 1, spread)


@pytest.mark.parametrize("values", [[], [math.nan], [1.0, math.inf]])
def test_no_board_tells_nothing(values: list[float]) -> None:
    with pytest.raises(ValueError, match="at least one"):
        good_board_range(values, 1, 50)


@given(st.lists(st.floats(1, 1e6), min_size=2, max_size=8))
def test_the_order_of_boards_changes_nothing(values: list[float]) -> None:
    other = sorted(values)
    assert good_board_range(values, 0.1) == pytest.approx(good_board_range(other, 0.1))
    low, high = good_board_range(values, 0.1)
    assert low < math.fsum(values) / len(values) < high
