"""How many clean repeats outweigh a fail that nobody explained?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.repeats import clean_repeats_needed, shown_by


@pytest.mark.parametrize(
    ("fails", "tries", "needed"), [(1, 2, 5), (2, 5, 6), (1, 10, 29), (9, 10, 2), (3, 3, 1), (0, 7, 0)]
)
def test_the_number_of_clean_repeats(fails: int, tries: int, needed: int) -> None:
    assert clean_repeats_needed(fails, tries) == needed


@given(st.integers(1, 30), st.integers(0, 30))
def test_it_is_the_smallest_number_that_reaches_five_percent(fails: int, passes: int) -> None:
    needed = clean_repeats_needed(fails, fails + passes)
    still_there = passes / (fails + passes)
    assert still_there**needed <= 0.05 + 1e-12
    assert still_there ** (needed - 1) > 0.05


@pytest.mark.parametrize(("fails", "tries"), [(3, 2), (-1, 2), (0, 0)])
def test_impossible_counts_are_refused(fails: int, tries: int) -> None:
    with pytest.raises(ValueError, match="can't be"):
        clean_repeats_needed(fails, tries)


def test_what_n_of_n_shows() -> None:
    assert shown_by(10) == pytest.approx(0.7411, abs=1e-4)
    assert shown_by(59) >= 0.95
    with pytest.raises(ValueError, match="show nothing"):
        shown_by(0)
