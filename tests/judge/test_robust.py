"""Do wild values leave the middle and the scale where they were?"""

import math
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.robust import hodges_lehmann, winsorised_scale

few = st.lists(st.floats(-10, 10), min_size=3, max_size=20)


def test_the_shift_is_the_median_of_all_differences() -> None:
    assert hodges_lehmann([3, 5], [1, 1.5, 10]) == statistics.median([2, 1.5, -7, 4, 3.5, -5])


def test_a_lapse_moves_neither_shift_nor_scale() -> None:
    calm = [0.28, 0.29, 0.30, 0.31, 0.32, 0.30, 0.29, 0.31, 0.30, 0.30]
    wild = [*calm[:-1], 1.5]
    assert winsorised_scale(wild)[0] < 1.3 * winsorised_scale(calm)[0]
    assert hodges_lehmann([0.8], wild) == pytest.approx(hodges_lehmann([0.8], calm), abs=0.005)


def test_twenty_values_leave_eleven_degrees_of_freedom() -> None:
    assert winsorised_scale(list(range(20)))[1] == 11
    assert winsorised_scale(list(range(5))) == pytest.approx((statistics.stdev([1, 1, 2, 3, 3]) / 0.6, 2))
    assert winsorised_scale(list(range(4))) == pytest.approx((statistics.stdev(range(4)) / 0.6, 3))


@given(few, few, st.floats(-5, 5))
def test_a_shift_by_so_much_is_a_shift_by_so_much(values: list[float], others: list[float], by: float) -> None:
    moved = [value + by for value in values]
    assert hodges_lehmann(moved, others) == pytest.approx(hodges_lehmann(values, others) + by, abs=1e-9)
    assert hodges_lehmann(sorted(values), sorted(others)) == hodges_lehmann(values, others)
    assert winsorised_scale(moved)[0] == pytest.approx(winsorised_scale(values)[0], abs=1e-9)


@given(few, st.floats(0.1, 10))
def test_the_scale_scales(values: list[float], factor: float) -> None:
    assert winsorised_scale([factor * value for value in values])[0] == pytest.approx(
        factor * winsorised_scale(values)[0], abs=1e-9
    )
    assert math.isfinite(winsorised_scale(values)[0])


def test_two_values_have_no_scale() -> None:
    with pytest.raises(ValueError, match="at least 3"):
        winsorised_scale([1, 2])
