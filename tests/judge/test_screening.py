"""Does every trial get what it deserves: valid, void or no response?"""

import pytest
from reference_cases import reference_case

from passcheck.judge.screening import early_trials, late_trials, screen_trials


def test_b10_voids_and_a_missing_response() -> None:
    inputs, expected, _tolerance = reference_case("B10")
    found = screen_trials(inputs["trials_stop_minus_start_s"], inputs["timeout_s"] - 2.5)
    assert list(found.statuses) == expected["status"]
    assert found.valid_s == (0.612, 0.598, 0.631)
    assert (found.voided, found.unanswered) == (2, 1)


def test_the_edges_belong_to_the_trial_that_counts() -> None:
    assert screen_trials([0.1, 0.0999, 2.999, 3.0], 0.5).statuses == ("valid", "void", "valid", "no response")


def test_more_than_three_voids_in_eight_begin_the_block_again() -> None:
    assert not screen_trials([0.05] * 3 + [0.5] * 8, 0.5).too_many_voids
    assert screen_trials([0.05] * 4 + [0.5] * 8, 0.5).too_many_voids
    assert screen_trials([0.05] * 4, 0.5).too_many_voids
    assert not screen_trials([0.05] * 6 + [0.5] * 9, 0.5).too_many_voids
    assert screen_trials([0.05] * 7 + [0.5] * 16, 0.5).too_many_voids


@pytest.mark.parametrize(("time_s", "early"), [(0.519, 1), (0.521, 0)])
def test_a_tap_far_before_the_others_is_early(time_s: float, early: int) -> None:
    assert early_trials([0.6, 0.6, time_s], 0.02) == early


def test_no_trial_is_early_where_there_is_none() -> None:
    assert early_trials([], 0.02) == 0


@pytest.mark.parametrize(("delay_s", "late"), [(0.581, 1), (0.579, 0)])
def test_a_trial_far_beyond_the_limit_is_late(delay_s: float, late: int) -> None:
    assert late_trials([0.4, delay_s, 0.45], 0.5, 0.02) == late


def test_a_trial_on_the_edge_is_neither_early_nor_late() -> None:
    assert early_trials([0.5, 0.5, 0.25], 0.0625) == 0
    assert late_trials([0.75], 0.5, 0.0625) == 0
