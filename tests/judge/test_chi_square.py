"""Does the chi-square distribution give the values of the tables?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.chi_square import chi_square_cdf, chi_square_quantile, chi_square_tail
from passcheck.judge.normal import normal_cdf


@pytest.mark.parametrize(
    ("nu", "p", "x"),
    [
        (1, 0.95, 3.841459),
        (1, 0.05, 0.00393214),
        (2, 0.95, 5.991465),
        (4, 0.90, 7.779440),
        (5, 0.995, 16.749602),
        (10, 0.05, 3.940299),
        (30, 0.99, 50.892181),
        (100, 0.025, 74.221927),
    ],
)
def test_the_table_of_chi_square(nu: float, p: float, x: float) -> None:
    assert chi_square_quantile(p, nu) == pytest.approx(x, rel=1e-6)
    assert chi_square_cdf(x, nu) == pytest.approx(p, rel=1e-5)
    assert chi_square_tail(x, nu) == pytest.approx(1 - p, rel=1e-4)


@given(st.floats(1e-12, 1 - 1e-12), st.floats(1, 1e5))
def test_the_quantile_undoes_the_distribution(p: float, nu: float) -> None:
    assert chi_square_cdf(chi_square_quantile(p, nu), nu) == pytest.approx(p, rel=1e-9)


@given(st.floats(1e-12, 1 - 1e-6))
def test_two_degrees_of_freedom_are_the_exponential(p: float) -> None:
    assert chi_square_quantile(p, 2) == pytest.approx(-2 * math.log1p(-p), rel=1e-10)


@given(st.floats(0, 37))
def test_one_degree_of_freedom_is_the_square_of_a_normal_value(z: float) -> None:
    assert chi_square_tail(z * z, 1) == pytest.approx(2 * normal_cdf(-z), rel=1e-11)


def test_a_far_tail_keeps_its_digits() -> None:
    assert chi_square_tail(1000, 2) == pytest.approx(math.exp(-500), rel=1e-12)


def test_a_quantile_too_small_for_a_number_is_zero() -> None:
    assert chi_square_quantile(1e-200, 1) == 0


@pytest.mark.parametrize("p", [0.0, 1.0, -0.1, math.nan])
def test_what_is_no_probability_is_refused(p: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        chi_square_quantile(p, 2)
