"""Does the normal distribution give the values of the tables?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.normal import normal_cdf, normal_quantile


@pytest.mark.parametrize(
    ("z", "p"), [(0, 0.5), (1, 0.8413447461), (1.6448536270, 0.95), (1.9599639845, 0.975), (3, 0.9986501020)]
)
def test_the_table_of_the_normal_distribution(z: float, p: float) -> None:
    assert normal_cdf(z) == pytest.approx(p, abs=1e-9)
    assert normal_quantile(p) == pytest.approx(z, abs=1e-7)


def test_far_tails_keep_their_digits() -> None:
    assert normal_cdf(-6) == pytest.approx(9.865876450e-10, rel=1e-8)
    assert normal_quantile(9.865876450e-10) == pytest.approx(-6, abs=1e-8)


@given(st.floats(1e-12, 1 - 1e-12))
def test_the_quantile_undoes_the_distribution(p: float) -> None:
    assert normal_cdf(normal_quantile(p)) == pytest.approx(p, rel=1e-9)


@pytest.mark.parametrize("p", [0.0, 1.0, -0.1, float("nan")])
def test_what_is_no_probability_is_refused(p: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        normal_quantile(p)
