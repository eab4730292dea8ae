"""Do changed pairs show a change?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.mcnemar import mcnemar


def test_published_tables() -> None:
    assert mcnemar(121, 59).chi2 == pytest.approx(21.35, abs=0.01)
    assert mcnemar(121, 59).p_exact == pytest.approx(4.434e-6, rel=1e-3)
    approval = mcnemar(150, 86)
    assert approval.chi2 == pytest.approx(17.36, abs=0.005)
    assert approval.chi2_corrected == pytest.approx(16.82, abs=0.005)


@given(st.integers(0, 60), st.integers(0, 60))
def test_the_exact_p_counts_coins(b: int, c: int) -> None:
    n = b + c
    coins = 2 * sum(math.comb(n, count) for count in range(min(b, c) + 1)) / 2**n
    assert mcnemar(b, c).p_exact == pytest.approx(min(1, coins), rel=1e-11)


@given(st.integers(0, 10_000), st.integers(0, 10_000))
def test_the_direction_of_a_change_changes_nothing(b: int, c: int) -> None:
    assert mcnemar(b, c) == mcnemar(c, b)
    assert 0 <= mcnemar(b, c).p_exact <= 1


def test_five_of_five_are_just_not_enough() -> None:
    assert mcnemar(5, 0).p_exact == pytest.approx(0.0625)
    assert mcnemar(6, 0).p_exact == pytest.approx(0.03125)


def test_no_change_is_no_evidence() -> None:
    found = mcnemar(0, 0)
    assert (found.p_exact, found.chi2, found.chi2_corrected) == (1, 0, 0)
    assert mcnemar(3, 3).p_exact == 1


def test_counts_below_zero_are_refused() -> None:
    for b, c in ((-1, 2), (2, -1), (10_000_001, 0)):
        with pytest.raises(ValueError, match="counts"):
            mcnemar(b, c)
