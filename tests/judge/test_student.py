"""Does Student's distribution give the values of the tables?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.normal import normal_cdf
from passcheck.judge.student import student_cdf, student_quantile


@pytest.mark.parametrize(
    ("nu", "p", "t"),
    [
        (1, 0.975, 12.7062),
        (2, 0.975, 4.3027),
        (2, 0.95, 2.9200),
        (3, 0.975, 3.1824),
        (4, 0.95, 2.1318),
        (5, 0.995, 4.0321),
        (10, 0.975, 2.2281),
        (30, 0.95, 1.6973),
        (120, 0.975, 1.9799),
        (math.inf, 0.975, 1.9600),
    ],
)
def test_the_table_of_student(nu: float, p: float, t: float) -> None:
    assert student_quantile(p, nu) == pytest.approx(t, abs=6e-5)
    assert student_cdf(t, nu) == pytest.approx(p, abs=2e-5)
    assert student_quantile(1 - p, nu) == pytest.approx(-t, abs=6e-5)


def test_one_degree_of_freedom_is_the_arctangent() -> None:
    for t in (-30.0, -1.0, -0.001, 0.0, 0.5, 4.0, 1000.0):
        assert student_cdf(t, 1) == pytest.approx(0.5 + math.atan(t) / math.pi, abs=1e-13)


@given(st.floats(-8, 8), st.floats(1e4, 1e7))
def test_many_degrees_of_freedom_end_in_the_normal_distribution(t: float, nu: float) -> None:
    assert student_cdf(t, nu) == pytest.approx(normal_cdf(t), abs=2e-5)


@given(st.floats(-20, 20), st.floats(-20, 20), st.floats(0.5, 1e6))
def test_the_distribution_never_falls(a: float, b: float, nu: float) -> None:
    low, high = sorted((a, b))
    assert student_cdf(low, nu) <= student_cdf(high, nu) + 1e-12


def test_nonsense_is_refused() -> None:
    with pytest.raises(ValueError, match="degrees of freedom"):
        student_cdf(1.0, 0)
    with pytest.raises(ValueError, match="between 0 and 1"):
        student_quantile(1.0, 3)
