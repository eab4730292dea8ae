"""Do confirmed repairs move what the words said?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.fault_matrix import WORDS
from passcheck.judge.suspect_history import prior_from_repairs, smoothed_q


@pytest.mark.parametrize("word", WORDS)
def test_without_repairs_the_word_stands(word: str) -> None:
    assert smoothed_q(WORDS[word], 0, 0) == pytest.approx(WORDS[word])


def test_four_repairs_weigh_as_much_as_the_word() -> None:
    assert smoothed_q(0.35, 4, 4) == pytest.approx((0.35 + 1) / 2)
    assert smoothed_q(0.75, 0, 4) == pytest.approx(0.375)


@given(st.sampled_from(list(WORDS.values())), st.integers(0, 1000), st.integers(0, 1000))
def test_no_history_makes_a_step_certain(word_q: float, failed: int, more: int) -> None:
    assert 0 < smoothed_q(word_q, failed, failed + more) < 1
    assert smoothed_q(word_q, failed, failed + more) < smoothed_q(word_q, failed + 1, failed + more + 1)


def test_a_block_that_never_failed_stays_possible() -> None:
    assert prior_from_repairs({"PWR": 9, "MCU": 0}) == {"PWR": 0.95, "MCU": 0.05}


@given(st.dictionaries(st.text(max_size=4), st.integers(0, 500), min_size=1, max_size=12))
def test_the_priors_are_shares(repairs: dict[str, int]) -> None:
    prior = prior_from_repairs(repairs)
    assert sum(prior.values()) == pytest.approx(1)
    assert min(prior.values()) > 0


def test_what_is_no_history_is_refused() -> None:
    for word_q, failed, repairs in ((0.5, 2, 1), (0.5, -1, 1), (0.0, 0, 0), (1.0, 0, 0)):
        with pytest.raises(ValueError, match="can't be"):
            smoothed_q(word_q, failed, repairs)
    for counts in ({}, {"PWR": -1}):
        with pytest.raises(ValueError, match="number of confirmed repairs"):
            prior_from_repairs(counts)
