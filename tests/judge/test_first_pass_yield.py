"""Is a share of units told with the interval it deserves?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.first_pass_yield import first_pass_yield
from passcheck.judge.normal import normal_quantile

COUNTS = st.integers(1, 2000).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n)))


def test_e11_the_table_of_newcombe() -> None:
    inputs, expected, tolerance = reference_case("E11")
    for (k, n), ends in zip(inputs["k_n"], expected["ci"], strict=True):
        found = first_pass_yield(k, n, inputs["level"])
        assert [found.low, found.high] == pytest.approx(ends, abs=tolerance["abs"])


def test_e20_46_of_50() -> None:
    inputs, expected, tolerance = reference_case("E20")
    found = first_pass_yield(inputs["k"], inputs["n"], inputs["level"])
    assert found.share == pytest.approx(expected["fpy"], abs=tolerance["abs"])
    assert [found.low, found.high] == pytest.approx([expected["lo"], expected["hi"]], abs=tolerance["abs"])


@given(COUNTS, st.floats(0.5, 0.999))
def test_the_ends_are_the_shares_that_the_count_just_does_not_contradict(counts: tuple[int, int], level: float) -> None:
    k, n = counts
    found, z = first_pass_yield(k, n, level), normal_quantile((1 + level) / 2)
    for end in (found.low, found.high):
        assert (k / n - end) ** 2 == pytest.approx(z * z * end * (1 - end) / n, rel=1e-7, abs=1e-12)


@given(COUNTS)
def test_passes_and_fails_mirror_each_other(counts: tuple[int, int]) -> None:
    k, n = counts
    passes, fails = first_pass_yield(k, n), first_pass_yield(n - k, n)
    assert fails.low == pytest.approx(1 - passes.high, abs=1e-12)
    assert 0 <= passes.low <= passes.share <= passes.high <= 1


def test_all_of_all_and_none_of_all_keep_an_interval() -> None:
    assert first_pass_yield(20, 20).high == 1
    assert first_pass_yield(20, 20).low == pytest.approx(0.8389, abs=5e-5)
    assert first_pass_yield(0, 20).low == 0


@pytest.mark.parametrize(
    ("k", "n", "level"),
    [(1, 0, 0.95), (3, 2, 0.95), (-1, 2, 0.95), (1, 2, 1.0), (1, 2, 0.0), (1, 2, 1.5), (1, 2, math.nan)],
)
def test_what_is_no_share_is_refused(k: int, n: int, level: float) -> None:
    with pytest.raises(ValueError, match=r"no share|between 0 and 1"):
        first_pass_yield(k, n, level)


@pytest.mark.parametrize("level", [0.0, 1.0, 1.5, -0.1])
def test_a_level_lies_between_nothing_and_certainty(level: float) -> None:
    with pytest.raises(ValueError, match="the level lies"):
        first_pass_yield(1, 2, level)
