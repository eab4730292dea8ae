"""What do a shop's own soaks say?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.rate_bound import rate_bound
from passcheck.judge.soak_history import latent_share, time_to_show, weibull_shape


def test_the_share_begins_at_a_half_and_follows_the_counts() -> None:
    assert latent_share(0, 0) == 0.5
    assert latent_share(7, 98) == pytest.approx(0.08)
    with pytest.raises(ValueError, match="can't be"):
        latent_share(2, 1)


def test_the_mean_time_is_all_hours_over_failures() -> None:
    found = time_to_show([2.0, 5.0, 8.0, 8.0, 8.0], failures=2)
    assert found.mean_h == pytest.approx(15.5)
    assert found.is_assumption
    bound = rate_bound(2, 31.0, 0.975)
    assert found.low_h == pytest.approx(1 / bound.upper_per_h)
    assert found.high_h == pytest.approx(1 / bound.lower_per_h)


def test_without_a_failure_the_mean_has_no_upper_end() -> None:
    found = time_to_show([8.0] * 10, failures=0)
    assert (found.mean_h, found.high_h) == (None, None)
    assert found.low_h == pytest.approx(80 / -math.log(0.025))


def test_five_failures_are_no_assumption_any_more() -> None:
    assert not time_to_show([1.0] * 5, failures=5).is_assumption


def test_soaks_that_say_nothing_are_refused() -> None:
    for hours, failures in (([], 0), ([0.0], 0), ([1.0], 2), ([-1.0, 3.0], 0)):
        with pytest.raises(ValueError, match="say nothing"):
            time_to_show(hours, failures)


@given(st.floats(0.3, 4), st.floats(1, 100))
def test_the_shape_of_a_weibull_comes_back(shape: float, scale: float) -> None:
    times = [scale * (-math.log(1 - (place + 0.5) / 400)) ** (1 / shape) for place in range(400)]
    assert weibull_shape(times) == pytest.approx(shape, rel=0.03)


@given(st.floats(0.01, 100))
def test_the_shape_does_not_depend_on_the_unit_of_time(scale: float) -> None:
    failed, clean = [0.5, 1.5, 2.0, 6.0], [8.0, 8.0, 8.0]
    scaled = weibull_shape([each * scale for each in failed], [each * scale for each in clean])
    assert scaled == pytest.approx(weibull_shape(failed, clean), rel=1e-9)


def test_clean_soaks_make_the_failures_early_ones() -> None:
    failed = [0.5, 1.5, 2.0, 6.0]
    assert weibull_shape(failed, [8.0] * 20) < 1 < weibull_shape([7.0, 7.5, 8.0], [8.0])
    # Two times a factor 2 apart: u tanh u = 1 with u = k ln 2 / 2, so u = 1.1996786.
    assert weibull_shape([1.0, 2.0]) == pytest.approx(2 * 1.1996786402577 / math.log(2), rel=1e-9)
    for failed, clean in (([2.0, 2.0], [8.0]), ([2.0], [8.0]), ([0.0, 2.0], [8.0]), ([1.0, 2.0], [0.0])):
        with pytest.raises(ValueError, match="two different"):
            weibull_shape(failed, clean)


@pytest.mark.parametrize("level", [0.0, 1.0, -0.5, math.nan])
def test_a_level_that_is_no_share_is_refused(level: float) -> None:
    with pytest.raises(ValueError, match="say nothing"):
        time_to_show([8.0], 0, level)


def test_a_higher_level_widens_the_interval() -> None:
    narrow, wide = (time_to_show([2.0, 5.0, 8.0], 2, level) for level in (0.5, 0.9))
    assert narrow.high_h is not None
    assert wide.high_h is not None
    assert wide.low_h < narrow.low_h < narrow.high_h < wide.high_h


def test_a_unit_that_failed_at_once_counts_with_its_zero_hours() -> None:
    assert time_to_show([0.0, 8.0], 1).mean_h == 8
