"""Is a slope told from readings that hang together?"""

import math
import random  # noqa: TID251 - steady readings from a fixed seed
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.drift import drift, drift_sentence

# Readings that wander, as those of a soak do.
HOURS = [0.5 * place for place in range(17)]
WANDERING = [5.010, 5.012, 5.013, 5.012, 5.011, 5.009, 5.010, 5.012, 5.014, 5.015, 5.016, 5.015, 5.013, 5.014, 5.016]
WANDERING += [5.017, 5.018]
READINGS = st.lists(
    st.tuples(st.integers(0, 500), st.integers(-500, 500)), min_size=4, max_size=30, unique_by=lambda pair: pair[0]
)


def test_the_slope_and_its_error_are_those_of_a_plain_fit() -> None:
    found = drift([1, 2, 3, 4, 5], [2, 4, 5, 4, 5])
    assert found.slope_per_h == pytest.approx(0.6)
    assert found.se == pytest.approx(math.sqrt(2.4 / 3 / 10))
    assert found.t == pytest.approx(2.12132, abs=1e-5)
    assert found.df == 3
    assert found.p == pytest.approx(0.124027, abs=1e-6)


def test_the_corrected_test_follows_its_formula() -> None:
    found = drift(HOURS, WANDERING)
    middle = math.fsum(WANDERING) / 17
    residuals = [value - middle - found.slope_per_h * (hour - 4) for hour, value in zip(HOURS, WANDERING, strict=True)]
    r1 = sum(a * b for a, b in pairwise(residuals)) / sum(a * a for a in residuals)
    phi = r1 + (1 + 4 * r1) / 17
    assert 0 < phi < 0.95
    assert found.phi == pytest.approx(phi)
    assert found.se_corrected == pytest.approx(found.se * math.sqrt((1 + phi) / (1 - phi)))
    assert found.n_effective == pytest.approx(17 * (1 - phi) / (1 + phi))
    assert found.df_corrected == pytest.approx(max(1.5, found.n_effective - 2))
    assert found.t_corrected == pytest.approx(found.slope_per_h / found.se_corrected)
    assert found.p < 0.001 < found.p_corrected


def test_readings_that_swing_to_and_fro_are_not_taken_for_more_than_they_are() -> None:
    found = drift([0, 1, 2, 3, 4, 5, 6, 7], [1, -1, 1, -1, 1, -1, 1, -1])
    assert found.phi == 0
    assert found.se_corrected == found.se
    assert (found.df_corrected, found.df) == (6, 6)


def test_readings_that_follow_each_other_closely_are_worth_few() -> None:
    slow = [math.sin(place / 8) for place in range(40)]
    found = drift(list(range(40)), slow)
    assert found.phi == 0.95
    assert found.df_corrected == 1.5


@given(READINGS, st.randoms(use_true_random=False))
def test_the_order_in_which_readings_are_given_changes_nothing(
    readings: list[tuple[int, int]], shuffle: object
) -> None:
    mixed = list(readings)
    shuffle.shuffle(mixed)  # type: ignore[attr-defined]
    assert drift(*_columns(mixed)) == drift(*_columns(readings))


@given(READINGS, st.sampled_from([1e-3, 0.5, 4.0, 1024.0]), st.integers(-1000, 1000))
def test_neither_the_unit_nor_the_zero_of_the_scale_changes_the_test(
    readings: list[tuple[int, int]], scale: float, zero: int
) -> None:
    hours, values = _columns(readings)
    plain, scaled = drift(hours, values), drift(hours, [value * scale for value in values])
    moved = drift(hours, [value + zero for value in values])
    assert scaled.slope_per_h == pytest.approx(plain.slope_per_h * scale, rel=1e-9, abs=1e-9)
    assert scaled.p_corrected == pytest.approx(plain.p_corrected, rel=1e-6, abs=1e-9)
    assert moved.p_corrected == pytest.approx(plain.p_corrected, rel=1e-6, abs=1e-9)


@given(READINGS)
def test_the_correction_never_makes_a_slope_surer(readings: list[tuple[int, int]]) -> None:
    found = drift(*_columns(readings))
    assert found.se_corrected >= found.se
    assert found.df_corrected <= max(1.5, found.df)
    assert 0 <= found.phi <= 0.95


def test_nothing_is_said_on_drift_from_few_readings_however_clear_they_look() -> None:
    line = drift(range(11), [5.0 + 0.1 * hour for hour in range(11)])
    assert line.p_corrected == 0
    assert drift_sentence(line) == "11 readings: too few to say whether the value drifts."


def test_a_slope_that_stands_out_is_not_yet_one_that_matters() -> None:
    steep = drift(range(12), [5.0 + 0.1 * hour for hour in range(12)])
    assert drift_sentence(steep) == (
        "12 readings: the slope stands out from their scatter; whether it matters depends on the limit."
    )
    flat = drift(range(12), [5.0, 5.1] * 6)
    assert drift_sentence(flat) == "12 readings: no slope stands out from their scatter."


def test_a_constant_reading_does_not_drift() -> None:
    found = drift(HOURS, [5.01] * 17)
    assert (found.slope_per_h, found.t, found.p, found.p_corrected) == (0, 0, 1, 1)


def test_a_perfect_line_drifts_beyond_doubt() -> None:
    found = drift(HOURS, [5.01 + 0.001 * hour for hour in HOURS])
    assert found.slope_per_h == pytest.approx(0.001)
    assert (found.t, found.p, found.p_corrected) == (math.inf, 0, 0)


def test_steady_readings_that_hang_together_are_rarely_called_drifting() -> None:
    """17 readings with an autocorrelation of 0.6: the plain test cries in 30 % of cases, the corrected one in 11 %."""
    draw = random.Random(17)  # noqa: S311 - readings, no secrets
    found = [drift(range(17), _hanging_together(draw)) for _ in range(1500)]
    assert sum(each.p < 0.05 for each in found) / len(found) == pytest.approx(0.30, abs=0.035)
    assert sum(each.p_corrected < 0.05 for each in found) / len(found) == pytest.approx(0.115, abs=0.025)


def test_a_line_is_perfect_whatever_rounding_adds_to_it() -> None:
    assert drift(range(12), [0.1 * hour for hour in range(12)]).t == math.inf
    assert drift([0, 1, 2], [0.1 + 0.2, 0.3, 0.1 + 0.2]).slope_per_h == 0


@pytest.mark.parametrize("first_h", [0, -500, 10_000])
def test_the_smallest_slope_is_no_rounding(first_h: int) -> None:
    found = drift([first_h + 100 * place for place in range(11)], [5.0 + 1e-11 * place for place in range(11)])
    assert found.slope_per_h == pytest.approx(1e-13, rel=1e-3)


def test_a_reading_on_the_line_does_not_hide_the_scatter_of_the_others() -> None:
    found = drift([0, 1, 2, 3, 4], [0, 1, 0, -1, 0])
    assert found.slope_per_h == pytest.approx(-0.2)
    assert found.se == pytest.approx(math.sqrt(1.6 / 3 / 10))


def test_what_makes_no_line_is_refused() -> None:
    with pytest.raises(ValueError, match="at least 3"):
        drift([1, 2], [1, 2])
    with pytest.raises(ValueError, match="3 times and 4 values"):
        drift([1, 2, 3], [1, 2, 3, 4])
    with pytest.raises(ValueError, match="same time"):
        drift([1, 1, 1], [1, 2, 3])
    with pytest.raises(ValueError, match="finite"):
        drift([1, 2, math.inf], [1, 2, 3])


def _columns(readings: list[tuple[int, int]]) -> tuple[list[float], list[float]]:
    return [float(hour) for hour, _value in readings], [float(value) for _hour, value in readings]


def _hanging_together(draw: random.Random) -> list[float]:
    value, values = draw.gauss(0, 1), []
    for _ in range(17):
        values.append(value)
        value = 0.6 * value + 0.8 * draw.gauss(0, 1)
    return values
