"""Does a soak say no more than it shows?"""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.soak_evidence import soak_evidence, soak_sentence


def test_eight_hours_at_60_degrees_are_58_hours_at_35() -> None:
    evidence = soak_evidence(8, 1, 0, 60, 35, 0.7, 0.9)
    assert evidence.factor == pytest.approx(7.2, abs=0.05)
    assert evidence.equivalent_h == pytest.approx(58, abs=0.5)
    assert evidence.mtbf_lower_h == pytest.approx(25, abs=0.5)
    assert soak_sentence(evidence) == (
        "No failure in 58 equivalent hours at 35 °C (25 to 58 h over activation energies of 0.4 to 0.7 eV). "
        "A soak screens, it proves no life."
    )


@given(st.floats(0.5, 500), st.integers(1, 40), st.integers(0, 5), st.floats(30, 90), st.floats(10, 40))
def test_no_soak_is_told_as_a_life(hours: float, units: int, failures: int, soak_c: float, use_c: float) -> None:
    evidence = soak_evidence(hours, units, failures, soak_c, use_c, 0.7, 0.9)
    sentence = soak_sentence(evidence)
    assert not re.search(r"MTBF|mean time|years|reliab|per 1000|%|demonstrat", sentence)
    assert sentence.endswith("A soak screens, it proves no life.")
    low, high = evidence.equivalent_range_h
    assert low <= high


@given(st.floats(0.5, 500), st.integers(1, 40), st.integers(0, 20))
def test_hours_of_units_of_one_kind_are_pooled(hours: float, units: int, failures: int) -> None:
    pooled = soak_evidence(hours, units, failures, 60, 35, 0.7, 0.9)
    longer = soak_evidence(hours * units, 1, failures, 60, 35, 0.7, 0.9)
    assert pooled.upper_per_h == pytest.approx(longer.upper_per_h)
    assert soak_evidence(hours, units, failures + 1, 60, 35, 0.7, 0.9).upper_per_h > pooled.upper_per_h


def test_a_bound_too_small_for_a_number_leaves_no_end_to_the_mean() -> None:
    assert soak_evidence(1e15, 10**9, 0, 60, 35, 0.7, 1e-308).mtbf_lower_h == math.inf


def test_failures_are_told_first() -> None:
    assert soak_sentence(soak_evidence(8, 4, 1, 40, 40, 0.7, 0.9)).startswith("1 failure in 32 equivalent hours")


@pytest.mark.parametrize(("hours", "units"), [(0, 1), (8, 0), (float("inf"), 1), (-1, 1), (float("nan"), 1)])
def test_no_hours_or_no_units_are_no_soak(hours: float, units: int) -> None:
    with pytest.raises(ValueError, match="no soak"):
        soak_evidence(hours, units, 0, 60, 35, 0.7, 0.9)
