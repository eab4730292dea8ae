"""Do several readings of one instrument say more, but not more than they can?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.accuracy import parse_accuracy
from passcheck.judge.estimate import pool
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
