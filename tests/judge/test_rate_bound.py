"""Are failure rates bounded as the tables bound them?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.rate_bound import rate_bound, rate_sentence


def test_e03_the_factors_of_the_test_length_table() -> None:
    inputs, expected, tolerance = reference_case("E03")
    for confidence, factors in expected["factor"].items():
        found = [rate_bound(r, 1.0, float(confidence)).factor for r in inputs["r"]]
        assert found == pytest.approx(factors, rel=tolerance["rel"])


def test_e08_one_failure_in_1250_unit_hours() -> None:
    inputs, expected, tolerance = reference_case("E08")
    one_sided, two_sided = (rate_bound(inputs["r"], inputs["T_h"], confidence) for confidence in (0.6, 0.95))
    assert one_sided.rate_per_h == pytest.approx(expected["lambda_hat"], rel=tolerance["rel"])
    assert one_sided.upper_per_h == pytest.approx(expected["lambda_U60"], rel=tolerance["rel"])
    assert two_sided.lower_per_h == pytest.approx(expected["lambda_L90"], rel=tolerance["rel"])
    assert two_sided.upper_per_h == pytest.approx(expected["lambda_U90"], rel=tolerance["rel"])


def test_the_bounds_are_those_of_a_poisson_count() -> None:
    bound = rate_bound(3, 100.0, 0.9)
    assert _at_most(3, bound.upper_per_h * 100) == pytest.approx(0.1, rel=1e-9)
    assert 1 - _at_most(2, bound.lower_per_h * 100) == pytest.approx(0.1, rel=1e-9)


def test_no_failure_has_no_lower_bound_but_an_upper_one() -> None:
    bound = rate_bound(0, 1000.0, 0.95)
    assert (bound.rate_per_h, bound.lower_per_h) == (0, 0)
    assert bound.upper_per_h == pytest.approx(-math.log(0.05) / 1000)


@given(st.integers(0, 500), st.floats(0.1, 1e6), st.floats(0.51, 0.999))
def test_one_more_failure_never_lowers_a_bound(failures: int, hours: float, confidence: float) -> None:
    fewer, more = (rate_bound(count, hours, confidence) for count in (failures, failures + 1))
    assert fewer.upper_per_h < more.upper_per_h
    assert fewer.lower_per_h < more.lower_per_h
    assert fewer.lower_per_h <= fewer.rate_per_h <= fewer.upper_per_h


@given(st.integers(0, 100), st.floats(0.1, 1e6), st.floats(0.05, 0.99), st.floats(1e-3, 1e3))
def test_twice_the_hours_are_half_the_rate(failures: int, hours: float, confidence: float, scale: float) -> None:
    once, scaled = rate_bound(failures, hours, confidence), rate_bound(failures, hours * scale, confidence)
    assert scaled.upper_per_h * scale == pytest.approx(once.upper_per_h)
    assert scaled.factor == once.factor


@given(st.integers(0, 100), st.floats(0.05, 0.9), st.floats(0.001, 0.09))
def test_more_confidence_never_tightens_the_bound(failures: int, confidence: float, more: float) -> None:
    assert rate_bound(failures, 1.0, confidence).upper_per_h < rate_bound(failures, 1.0, confidence + more).upper_per_h


def test_the_sentence_says_what_it_rests_on() -> None:
    assert rate_sentence(rate_bound(1, 1250.0, 0.9)) == (
        "1 failure in 1250 unit-hours: at most 3.1 per 1000 h at 90 % confidence, if the rate doesn't change with age."
    )


@pytest.mark.parametrize(
    ("failures", "hours", "confidence", "why"),
    [
        (-1, 1, 0.9, "counted"),
        (1_000_001, 1, 0.9, "counted"),
        (0, 0, 0.9, "hours above 0"),
        (0, math.nan, 0.9, "hours above 0"),
        (0, 1, 1, "lies between"),
        (0, 1, 1.5, "lies between"),
        (0, 1, 0, "lies between"),
        (0, math.inf, 0.9, "hours above 0"),
    ],
)
def test_what_is_no_test_is_refused(failures: int, hours: float, confidence: float, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        rate_bound(failures, hours, confidence)


def _at_most(count: int, mean: float) -> float:
    return math.fsum(math.exp(-mean) * mean**k / math.factorial(k) for k in range(count + 1))
