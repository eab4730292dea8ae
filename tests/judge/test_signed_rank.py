"""Are skewed pairs compared without a shape?"""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.signed_rank import signed_rank_p


def test_the_sleep_data_have_nine_differences_of_one_sign() -> None:
    inputs, _expected, _tolerance = reference_case("E15")
    assert signed_rank_p(inputs["before"], inputs["after"]) == 2 / 2**9


def test_the_maize_of_darwin() -> None:
    differences = [49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48]
    assert signed_rank_p([0] * 15, differences) == pytest.approx(0.04126, abs=5e-6)


@given(st.lists(st.integers(-6, 6), min_size=1, max_size=9))
def test_counting_signs_one_rank_after_another_is_counting_all_signs(differences: list[int]) -> None:
    assert signed_rank_p([0] * len(differences), differences) == pytest.approx(_by_all_signs(differences), rel=1e-12)


@given(st.lists(st.integers(-50, 50), min_size=1, max_size=40), st.floats(0.01, 100))
def test_neither_direction_nor_unit_nor_order_changes_the_test(differences: list[int], scale: float) -> None:
    none = [0] * len(differences)
    plain = signed_rank_p(none, differences)
    assert signed_rank_p(differences, none) == plain
    assert signed_rank_p(none, [scale * each for each in differences]) == plain
    assert signed_rank_p(none, sorted(differences)) == plain


def test_no_difference_is_no_evidence() -> None:
    assert signed_rank_p([5.01, 5.02], [5.01, 5.02]) == 1
    assert signed_rank_p([], []) == 1


def test_hundreds_of_pairs_are_refused() -> None:
    assert signed_rank_p([0] * 200, list(range(1, 201))) == pytest.approx(2 / 2**200)
    with pytest.raises(ValueError, match="201 pairs"):
        signed_rank_p([0] * 201, [1] * 201)


def _by_all_signs(differences: list[int]) -> float:
    sizes = [abs(each) for each in differences if each]
    ranks = [sum(other < size for other in sizes) + (sizes.count(size) + 1) / 2 for size in sizes]
    seen = sum(rank for rank, each in zip(ranks, filter(None, differences), strict=True) if each > 0)
    extreme = min(seen, sum(ranks) - seen)
    totals = [
        sum(r for r, up in zip(ranks, ups, strict=True) if up) for ups in product((False, True), repeat=len(ranks))
    ]
    return min(1.0, 2 * sum(total <= extreme for total in totals) / len(totals))
