"""Is a blink rate found from taps, with the gaps and slips that taps have?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.blink import blink, has_two_rates

STEADY = [0.7 * k for k in range(12)]


def test_c02_rate_and_floor_of_its_error() -> None:
    inputs, expected, tolerance = reference_case("C02")
    found = blink(inputs["taps_s"])
    assert found.period_s == pytest.approx(expected["T_s"], rel=tolerance["rel"])
    assert found.rate_hz == pytest.approx(expected["f_Hz"], rel=tolerance["rel"])
    assert found.u_ols_s == pytest.approx(expected["u_T_s"], rel=tolerance["rel"])
    end_to_end = expected["resid_sd_s"] * math.sqrt(2) / 11
    assert found.u_period_s == pytest.approx(end_to_end, rel=tolerance["rel"])
    assert found.u_rate_hz == pytest.approx(found.u_period_s / found.period_s**2)
    assert (found.index, found.missed, found.irregular, found.two_rates) == (tuple(range(12)), 0, 0, False)


def test_a_missed_flash_leaves_a_gap_in_the_numbers() -> None:
    found = blink([*STEADY[:4], *STEADY[6:]])
    assert found.index == (0, 1, 2, 3, 6, 7, 8, 9, 10, 11)
    assert (found.missed, found.irregular) == (2, 0)
    assert found.period_s == pytest.approx(0.7)


def test_a_tap_too_many_has_no_flash() -> None:
    found = blink([*STEADY[:5], 3.05, *STEADY[5:]])
    assert found.index == (0, 1, 2, 3, 4, None, 5, 6, 7, 8, 9, 10, 11)
    assert found.missed == 0
    assert found.irregular == 2
    assert found.period_s == pytest.approx(0.7)


def test_an_interval_that_is_no_whole_number_of_periods_is_irregular() -> None:
    found = blink([*STEADY[:6], *[time + 0.25 for time in STEADY[6:]]])
    assert found.irregular == 1
    assert blink([*STEADY[:6], *[time + 0.15 for time in STEADY[6:]]]).irregular == 0


def test_taps_at_one_and_two_periods_ask_again() -> None:
    assert has_two_rates([0, 1, 2, 3, 5, 7, 9, 10, 11, 13, 15])
    assert blink([0, 1, 2, 3, 5, 7, 9, 10, 11, 13, 15]).two_rates
    assert not has_two_rates([0, 1, 2, 3, 5, 6, 7, 8, 9, 10, 12])
    assert not blink(STEADY).two_rates


def running(*gaps: float) -> list[float]:
    """Taps with these intervals."""
    return [sum(gaps[:k]) for k in range(len(gaps) + 1)]


@pytest.mark.parametrize(
    ("gaps", "two"),
    [
        ([1.0] * 7 + [2.0] * 3, True),
        ([1.0] * 8 + [2.0] * 2, False),
        ([2.0] * 7 + [1.0] * 3, True),
        ([2.0] * 8 + [1.0] * 2, False),
        ([1.0] * 7 + [1.7] * 3, True),
        ([1.0] * 7 + [1.5] * 3, False),
        ([1.0] * 7 + [2.4] * 3, True),
        ([1.0] * 7 + [2.6] * 3, False),
        ([1.0] * 7 + [4.0] * 3, False),
        ([1.0, 1.2, 0.9, 1.1, 1.0, 0.85, 1.0, 1.0, 2.0, 2.0], False),
        ([1.0, 1.2, 0.9, 1.1, 1.0, 0.85, 1.0, 2.1, 2.0, 1.9], True),
        ([0.5, 0.5, 1.0, 1.0, 1.0, 1.3, 1.3, 2.0, 2.0, 2.0], True),
        ([0.7, 0.7, 1.0, 1.0, 1.3, 1.3, 2.0, 2.0, 2.0, 0.7], False),
    ],
)
def test_two_clusters_are_each_at_least_three_in_ten(gaps: list[float], two: bool) -> None:
    assert has_two_rates(running(*gaps)) is two


def test_under_half_a_period_a_tap_is_one_too_many() -> None:
    early, late = (blink([*range(5), 4 + after, *range(5, 11)]) for after in (0.45, 0.55))
    assert early.index == (0, 1, 2, 3, 4, None, 5, 6, 7, 8, 9, 10)
    assert late.index == (0, 1, 2, 3, 4, 5, None, 6, 7, 8, 9, 10)


@pytest.mark.parametrize(("off", "irregular"), [(0.28, 0), (0.32, 1), (-0.28, 0), (-0.32, 1)])
def test_three_tenths_of_a_period_are_irregular(off: float, irregular: int) -> None:
    gaps = [1.0] * 12
    gaps[0] += off
    assert blink(running(*gaps)).irregular == irregular


def test_four_hundred_taps_will_do() -> None:
    assert blink([0.5 * k for k in range(400)]).rate_hz == pytest.approx(2.0)


def test_a_lapse_hardly_moves_the_period() -> None:
    late = [time + (0.2 if k == 5 else 0.0) for k, time in enumerate(STEADY)]
    assert blink(late).period_s == pytest.approx(0.7, abs=0.002)


@given(st.lists(st.floats(-0.1, 0.1), min_size=12, max_size=12), st.floats(0.3, 3), st.floats(-50, 50))
def test_another_clock_changes_the_scale_and_nothing_else(shakes: list[float], factor: float, start: float) -> None:
    taps = [0.7 * k + 0.3 * shake for k, shake in enumerate(shakes)]
    plain, other = blink(taps), blink([start + factor * time for time in taps])
    assert other.period_s == pytest.approx(factor * plain.period_s, rel=1e-6)
    assert other.u_period_s == pytest.approx(factor * plain.u_period_s, rel=1e-4, abs=1e-9)
    assert other.index == plain.index
    assert plain.u_period_s >= plain.u_ols_s


def test_seven_taps_are_too_few() -> None:
    with pytest.raises(ValueError, match="at least 8 taps that count, not 7"):
        blink(STEADY[:7])
    with pytest.raises(ValueError, match="at least 8 taps that count, not 7"):
        blink([*STEADY[:5], 3.05, *STEADY[5:7]])


@pytest.mark.parametrize("taps", [[0.0] * 9, STEADY[::-1], [*STEADY, math.nan], [*STEADY, math.inf]])
def test_times_that_do_not_rise_are_refused(taps: list[float]) -> None:
    with pytest.raises(ValueError, match="rise"):
        blink(taps)


def test_no_one_taps_for_hours() -> None:
    with pytest.raises(ValueError, match="too many"):
        blink([float(k) for k in range(401)])
