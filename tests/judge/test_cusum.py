"""Does a cumulative sum signal where the published one does?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.cusum import cusum, cusum_base, cusum_sentence

ROWS = st.lists(st.integers(-100, 100).map(float), min_size=1, max_size=40)


def test_e09_twenty_group_means_of_the_handbook() -> None:
    inputs, expected, tolerance = reference_case("E09")
    found = cusum(inputs["x"], inputs["mu0"], inputs["k"], inputs["h"])
    assert found.first_signal == expected["first_signal"]
    assert found.up[12:16] == pytest.approx(expected["S_hi_13_to_16"], abs=tolerance["abs"])
    assert found.up[19] == pytest.approx(expected["S_hi_20"], abs=tolerance["abs"])


@given(ROWS)
def test_both_directions_are_watched_alike(values: list[float]) -> None:
    found, mirrored = cusum(values, 3, 2, 9), cusum([6 - value for value in values], 3, 2, 9)
    assert (found.up, found.down, found.first_signal) == (mirrored.down, mirrored.up, mirrored.first_signal)


@given(ROWS, st.sampled_from([0.25, 8.0, 1024.0]))
def test_the_unit_changes_no_signal(values: list[float], scale: float) -> None:
    found = cusum(values, 3, 2, 9)
    scaled = cusum([value * scale for value in values], 3 * scale, 2 * scale, 9 * scale)
    assert scaled.first_signal == found.first_signal


@given(ROWS, ROWS)
def test_what_comes_later_never_takes_a_signal_back(values: list[float], later: list[float]) -> None:
    before, after = cusum(values, 0, 5, 50), cusum(values + later, 0, 5, 50)
    if before.first_signal is not None:
        assert after.first_signal == before.first_signal
    assert after.up[: len(values)] == before.up


def test_reaching_the_decision_value_is_no_signal_yet() -> None:
    assert cusum([3, 3], 0, 1, 4).first_signal is None
    assert cusum([3, 3, 2], 0, 1, 4).first_signal == 3
    assert cusum([-3, -3, -2], 0, 1, 4).first_signal == 3


def test_a_base_of_equal_figures_still_has_half_a_digit_of_scatter() -> None:
    base = cusum_base([5.01] * 12, digit=0.01)
    assert base.target == pytest.approx(5.01)
    assert base.sigma == pytest.approx(0.02 / math.sqrt(12))
    assert (base.k, base.h) == (0.5 * base.sigma, 5 * base.sigma)
    assert cusum([5.01, 5.02, 5.01, 5.02], base.target, base.k, base.h).first_signal is None


def test_a_base_that_scatters_gives_its_own_sigma() -> None:
    base = cusum_base([1.0, 3.0] * 6, digit=0.01)
    assert base.target == 2
    assert base.sigma == pytest.approx(math.sqrt(12 / 11))


def test_fewer_than_twelve_readings_are_no_base() -> None:
    with pytest.raises(ValueError, match="11 readings are no base"):
        cusum_base([5.01] * 11, digit=0.01)


def test_what_cannot_be_summed_is_refused() -> None:
    for values, k, h in (([], 1, 4), ([1.0], -1, 4), ([1.0], 1, 0), ([math.nan], 1, 4)):
        with pytest.raises(ValueError, match=r"needed|slack"):
            cusum(values, 0, k, h)


def test_a_move_is_told_with_its_direction_and_first_reading() -> None:
    up = cusum([0.0] * 10 + [9.0, 9.0], 0, 1, 10)
    assert cusum_sentence(up) == "12 readings: the value has moved upward, first seen at reading 12."
    down = cusum([0.0] * 10 + [-12.0, 0.0], 0, 1, 10)
    assert cusum_sentence(down) == "12 readings: the value has moved downward, first seen at reading 11."
    assert cusum_sentence(cusum([0.0] * 12, 0, 1, 10)) == "12 readings: no lasting move is seen."


def test_nothing_is_said_on_a_move_from_few_readings() -> None:
    found = cusum([0.0] * 5 + [99.0] * 6, 0, 1, 10)
    assert found.first_signal == 6
    assert cusum_sentence(found) == "11 readings: too few to say whether the value has moved."


def test_no_slack_at_all_sums_every_excess() -> None:
    assert cusum([1.0, 1.0, 1.0], 0, 0, 2.5).first_signal == 3
