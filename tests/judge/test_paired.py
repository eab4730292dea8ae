"""Is the same thing before and after compared with itself?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.paired import paired_difference

PAIRS = st.lists(st.tuples(st.integers(-99, 99), st.integers(-99, 99)), min_size=2, max_size=30)


def test_e15_the_sleep_data_of_student() -> None:
    inputs, expected, tolerance = reference_case("E15")
    found = paired_difference(inputs["before"], inputs["after"])
    assert found.mean_difference == pytest.approx(expected["mean_diff"], rel=tolerance["rel"])
    assert found.t == pytest.approx(expected["t"], rel=tolerance["rel"])
    assert found.df == expected["df"]
    assert found.p == pytest.approx(expected["p"], rel=tolerance["rel"])


@given(PAIRS)
def test_the_direction_changes_the_sign_only(pairs: list[tuple[int, int]]) -> None:
    before, after = zip(*pairs, strict=True)
    there, back = paired_difference(before, after), paired_difference(after, before)
    assert (there.mean_difference, there.t, there.p) == (-back.mean_difference, -back.t, back.p)


@given(PAIRS, st.randoms(use_true_random=False), st.sampled_from([0.25, 8.0]))
def test_neither_order_nor_unit_changes_the_test(pairs: list[tuple[int, int]], shuffle: object, scale: float) -> None:
    mixed = list(pairs)
    shuffle.shuffle(mixed)  # type: ignore[attr-defined]
    plain = paired_difference(*zip(*pairs, strict=True))
    other = paired_difference(*([scale * each for each in column] for column in zip(*mixed, strict=True)))
    assert other.p == pytest.approx(plain.p, rel=1e-9)


def test_pairs_that_all_differ_alike_leave_no_doubt() -> None:
    found = paired_difference([5.01, 5.02, 5.03], [5.02, 5.03, 5.04])
    assert (found.t, found.p) == (math.inf, 0)
    same = paired_difference([5.01, 5.02], [5.01, 5.02])
    assert (same.t, same.p) == (0, 1)


def test_what_makes_no_pairs_is_refused() -> None:
    with pytest.raises(ValueError, match="at least two pairs"):
        paired_difference([1], [2])
    with pytest.raises(ValueError, match="needs its pair"):
        paired_difference([1, 2], [2])
    with pytest.raises(ValueError, match="finite"):
        paired_difference([1, math.nan], [2, 3])
