"""Does a mean of more or fewer units rise or fall?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.line_fit import least_squares
from passcheck.judge.weighted_line import WeightedLine, weighted_line

YS = st.lists(st.floats(-10, 10), min_size=3, max_size=12)


@given(YS, st.floats(0.01, 100))
def test_with_equal_weights_it_is_the_plain_line(ys: list[float], weight: float) -> None:
    xs = [float(at) for at in range(len(ys))]
    plain = least_squares(xs, ys)
    found = weighted_line(xs, ys, [weight] * len(ys))
    assert found.slope == pytest.approx(plain.slope, abs=1e-9)
    assert found.se_slope == pytest.approx(plain.se_slope, abs=1e-9)
    assert found.freedom == len(ys) - 2


def test_a_month_of_twice_the_units_pulls_as_two_months_do() -> None:
    # By hand: doubling the last point moves the slope as the point standing twice there does.
    doubled = weighted_line([0, 1, 2], [0.0, 1.0, 4.0], [1, 1, 2])
    twice = least_squares([0, 1, 2, 2], [0.0, 1.0, 4.0, 4.0])
    assert doubled.slope == pytest.approx(twice.slope)
    assert doubled.freedom == 1, "but it is one month more, and not two, that tells the scatter"


def test_one_slope_among_many_has_to_stand_out_more() -> None:
    line = WeightedLine(1.0, 0.1, 10)
    assert line.half_width(0.95) == pytest.approx(0.1 * 2.2281, rel=1e-4)  # t at 0.975 with 10 degrees, from a table
    # Ten slopes: each at 1 - 0.95^(1/10) = 0.005116; t at 0.997442 with 10 degrees lies between 3.3 and 3.7.
    assert 0.33 < line.half_width(0.95, among=10) < 0.37


def test_what_is_no_line_is_refused() -> None:
    for xs, ys, weights in (([0.0, 1.0], [0.0, 1.0], [1.0, 1.0]), ([0.0, 1.0, 2.0], [0.0, 1.0], [1.0, 1.0, 1.0])):
        with pytest.raises(ValueError, match="at least 3 points"):
            weighted_line(xs, ys, weights)
    with pytest.raises(ValueError, match="above 0"):
        weighted_line([0, 1, 2], [0, 1, 2], [1, 0, 1])
    with pytest.raises(ValueError, match="one x"):
        weighted_line([1, 1, 1], [0, 1, 2], [1, 1, 1])
    with pytest.raises(ValueError, match="level"):
        WeightedLine(1.0, 0.1, 10).half_width(1.0)
