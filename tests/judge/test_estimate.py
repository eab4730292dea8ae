"""Do several readings of one instrument say more, but not more than they can?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.accuracy import parse_accuracy
from passcheck.judge.estimate import KnownScatter, pool
from passcheck.judge.quantity import parse_quantity

METER = parse_accuracy("0.5 % + 3 digits")


def test_one_reading_has_the_instruments_uncertainty_only() -> None:
    estimate = pool([parse_quantity("12.00 V")], METER)
    assert estimate.u == estimate.u_b == pytest.approx(0.09 / math.sqrt(3))
    assert estimate.nu == math.inf


def test_equal_readings_still_hide_half_a_digit() -> None:
    estimate = pool([parse_quantity("12.00 V")] * 4, METER)
    assert estimate.u_a == pytest.approx(0.01 / math.sqrt(12))


def test_the_coarsest_digit_counts() -> None:
    assert pool([parse_quantity("12.00 V"), parse_quantity("12.1 V")], METER).digit == parse_quantity("0.1").digit


@given(st.integers(1, 60))
def test_however_many_readings_the_instruments_own_error_stays(count: int) -> None:
    one, many = pool([parse_quantity("12.00 V")], METER), pool([parse_quantity("12.00 V")] * count, METER)
    assert many.u_b == one.u_b
    assert many.u >= one.u


@given(st.permutations(["5.02", "5.03", "4.98", "5.11", "5.0"]))
def test_the_order_of_readings_changes_nothing(texts: list[str]) -> None:
    readings = [parse_quantity(text, "V") for text in texts]
    assert pool(readings, METER) == pool(sorted(readings, key=lambda each: each.value), METER)


def test_a_scatter_known_from_earlier_series_takes_the_place_of_that_of_two_readings() -> None:
    pair = [parse_quantity("12.00 V"), parse_quantity("12.06 V")]
    alone, known = pool(pair, METER), pool(pair, METER, known=KnownScatter(0.04, 30))
    assert known.u_a == pytest.approx(0.04 / math.sqrt(2))
    assert known.nu == pytest.approx(30 * (known.u / known.u_a) ** 4)
    assert alone.nu == pytest.approx((alone.u / alone.u_a) ** 4)


def test_even_one_reading_carries_the_scatter_that_is_known() -> None:
    one = pool([parse_quantity("12.00 V")], METER, known=KnownScatter(0.04, 30))
    assert one.u_a == pytest.approx(0.04)
    assert one.u == pytest.approx(math.hypot(one.u_a, one.u_b))


def test_four_readings_speak_for_themselves() -> None:
    four = [parse_quantity(text) for text in ("12.00 V", "12.06 V", "12.02 V", "12.03 V")]
    assert pool(four, METER, known=KnownScatter(0.4, 30)) == pool(four, METER)


def test_a_series_unlike_the_earlier_ones_speaks_for_itself() -> None:
    pair = [parse_quantity("12.00 V"), parse_quantity("13.00 V")]
    assert pool(pair, METER, known=KnownScatter(0.04, 30)) == pool(pair, METER)


def test_a_known_scatter_is_never_finer_than_the_last_digit() -> None:
    pair = [parse_quantity("12.00 V")] * 2
    assert pool(pair, METER, known=KnownScatter(0.0, 30)).u_a == pytest.approx(0.01 / math.sqrt(12))


def test_three_times_the_known_scatter_is_unlike_it_and_less_is_not() -> None:
    pair = [parse_quantity("12.00 V"), parse_quantity("12.60 V")]  # a standard deviation of 0.42 V
    assert pool(pair, METER, known=KnownScatter(0.142, 1)).u_a == pytest.approx(0.142 / math.sqrt(2))
    assert pool(pair, METER, known=KnownScatter(0.140, 1)).u_a == pytest.approx(0.3)


@pytest.mark.parametrize(("s", "nu"), [(-0.1, 5), (0.1, 0.9), (math.nan, 5)])
def test_a_scatter_known_from_nothing_is_refused(s: float, nu: float) -> None:
    with pytest.raises(ValueError, match="degree of freedom"):
        KnownScatter(s, nu)
