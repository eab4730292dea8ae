"""How many clean tries show a reliability?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.zero_failure import reliability_shown, tries_needed, zero_failure_sentence


def test_e01_the_table_of_sample_sizes() -> None:
    inputs, expected, _tolerance = reference_case("E01")
    assert [tries_needed(confidence, reliability) for reliability, confidence in inputs["R_C"]] == expected["n"]


def test_a_whole_number_of_tries_is_not_rounded_up_by_a_stray_digit() -> None:
    assert tries_needed(0.9, 0.1) == 1
    assert tries_needed(0.99, 0.1) == 2
    assert tries_needed(0.75, 0.5) == 2
    assert tries_needed(0.1, 0.99999) == 10536


@given(st.floats(0.01, 0.999), st.floats(0.01, 0.999))
def test_the_tries_are_enough_and_one_fewer_is_not(confidence: float, reliability: float) -> None:
    n = tries_needed(confidence, reliability)
    assert reliability**n <= (1 - confidence) * (1 + 1e-6)
    assert n == 1 or reliability ** (n - 1) > (1 - confidence) * (1 - 1e-6)


@given(st.floats(0.01, 0.999), st.integers(1, 10_000))
def test_one_more_clean_try_shows_more(confidence: float, n: int) -> None:
    assert reliability_shown(confidence, n) < reliability_shown(confidence, n + 1)


def test_ten_of_ten_show_less_than_three_quarters() -> None:
    assert reliability_shown(0.95, 10) == pytest.approx(0.7411, abs=5e-5)
    assert zero_failure_sentence(0.95, 10) == (
        "10 of 10 without a failure: at least 74.1 % of such tries succeed, at 95 % confidence."
    )


def test_what_is_shown_is_never_rounded_up() -> None:
    assert reliability_shown(0.95, 59) == pytest.approx(0.95049, abs=5e-6)
    assert "at least 95 % of such tries succeed, at 95 % confidence" in zero_failure_sentence(0.95, 59)
    assert "at least 99.8 % of such tries succeed, at 99.9 % confidence" in zero_failure_sentence(0.999, 4602)


@pytest.mark.parametrize(("confidence", "reliability"), [(0, 0.9), (1, 0.9), (0.9, 0), (0.9, 1), (math.nan, 0.9)])
def test_what_is_no_share_is_refused(confidence: float, reliability: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        tries_needed(confidence, reliability)


def test_no_tries_show_nothing() -> None:
    with pytest.raises(ValueError, match="show nothing"):
        reliability_shown(0.9, 0)
