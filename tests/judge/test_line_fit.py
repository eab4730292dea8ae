"""Which line goes through points?"""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.line_fit import least_squares, narrowest_band, theil_sen_slope

points = st.lists(
    st.tuples(st.integers(-20, 20), st.floats(-10, 10)), min_size=3, max_size=9, unique_by=lambda point: point[0]
)


def test_c01_the_certified_line() -> None:
    inputs, expected, tolerance = reference_case("C01")
    fit = least_squares(inputs["x"], inputs["y"])
    found = (fit.slope, fit.intercept, fit.se_slope, fit.se_intercept, fit.residual_sd)
    names = ("slope", "intercept", "se_slope", "se_intercept", "resid_sd")
    assert found == pytest.approx([expected[name] for name in names], rel=tolerance["rel"])


def test_c02_the_least_squares_line_of_taps() -> None:
    inputs, expected, tolerance = reference_case("C02")
    fit = least_squares(range(12), inputs["taps_s"])
    assert fit.slope == pytest.approx(expected["T_s"], rel=tolerance["rel"])
    assert fit.se_slope == pytest.approx(expected["u_T_s"], rel=tolerance["rel"])
    assert fit.residual_sd == pytest.approx(expected["resid_sd_s"], rel=tolerance["rel"])
    assert 1 / fit.slope == pytest.approx(expected["f_Hz"], rel=tolerance["rel"])
    assert fit.se_slope / fit.slope**2 == pytest.approx(expected["u_f_Hz"], rel=tolerance["rel"])


def test_one_wild_point_does_not_move_the_robust_slope() -> None:
    assert theil_sen_slope(range(9), [0, 1, 2, 3, 99, 5, 6, 7, 8]) == 1


def test_the_narrowest_band_of_a_bow() -> None:
    assert narrowest_band([0, 1, 2], [0, 1, 0]) == pytest.approx(0.5)
    assert narrowest_band([0, 1, 2, 2], [0, 1, 2, 4]) == pytest.approx(1.0)


@given(points, st.floats(-3, 3), st.floats(-3, 3))
def test_tilting_and_lifting_changes_neither_band_nor_residuals(
    each: list[tuple[int, float]], tilt: float, lift: float
) -> None:
    x, y = [float(u) for u, _ in each], [v for _, v in each]
    tilted = [v + tilt * u + lift for u, v in each]
    assert narrowest_band(x, tilted) == pytest.approx(narrowest_band(x, y), abs=1e-9)
    assert least_squares(x, tilted).residual_sd == pytest.approx(least_squares(x, y).residual_sd, abs=1e-9)
    assert theil_sen_slope(x, tilted) == pytest.approx(theil_sen_slope(x, y) + tilt, abs=1e-9)


@given(points, st.floats(-5, 5))
def test_no_slope_has_a_narrower_band(each: list[tuple[int, float]], slope: float) -> None:
    x, y = [float(u) for u, _ in each], [v for _, v in each]
    levels = [v - slope * u for u, v in zip(x, y, strict=True)]
    assert narrowest_band(x, y) <= (max(levels) - min(levels)) / 2 + 1e-9
    assume(len(each) > 3)
    assert least_squares(x[::-1], y[::-1]).slope == pytest.approx(least_squares(x, y).slope, abs=1e-9)


def test_points_without_a_line_are_refused() -> None:
    with pytest.raises(ValueError, match="at least 3"):
        least_squares([0, 1], [0, 1])
    with pytest.raises(ValueError, match="at least 3 points, not 3 and 2"):
        least_squares([0, 1, 2], [0, 1])
    with pytest.raises(ValueError, match="one x"):
        least_squares([2, 2, 2], [0, 1, 2])
    with pytest.raises(ValueError, match="different x"):
        theil_sen_slope([2, 2], [0, 1])
    with pytest.raises(ValueError, match="different x"):
        narrowest_band([2, 2], [0, 1])
