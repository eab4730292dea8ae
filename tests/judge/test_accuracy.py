"""Is an instrument's stated error understood, and is a poor instrument found out?"""

import math
from decimal import Decimal

import pytest

from passcheck.judge.accuracy import (
    ambient_factor,
    at_ambient,
    capability,
    largest_error,
    no_worse,
    parse_accuracy,
    standard_uncertainty,
)
from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import QuantityError


@pytest.mark.parametrize(
    ("text", "percent", "counts", "fixed"),
    [
        ("0.5 % + 3 digits", "0.5", "3", None),
        ("± (0,5 % of reading + 3 counts)", "0.5", "3", None),
        ("0.5%+3digits", "0.5", "3", None),
        ("1 %", "1", "0", None),
        ("2 digits", "0", "2", None),
        ("± 17 ms", "0", "0", "0.017"),
        ("1 % + 2 mVpp", "1", "0", "0.002"),
    ],
)
def test_a_makers_statement_reads_as_written(text: str, percent: str, counts: str, fixed: str | None) -> None:
    found = parse_accuracy(text)
    assert (found.percent, found.counts) == (Decimal(percent), Decimal(counts))
    assert (found.absolute.value if found.absolute else None) == (Decimal(fixed) if fixed else None)


@pytest.mark.parametrize("text", ["", "good", "0 %", "0.5 % + 3", "3 % + 4 %", "1,234 %", "-1 %", "± -3 mV", "9" * 90])
def test_a_statement_without_a_clear_error_is_refused(text: str) -> None:
    with pytest.raises(QuantityError):
        parse_accuracy(text)


def test_the_error_grows_by_a_tenth_a_degree_outside_the_instruments_band() -> None:
    accuracy, value, digit = parse_accuracy("0.5 % + 3 digits"), Decimal(12), Decimal("0.01")
    inside = standard_uncertainty(accuracy, value, digit)
    assert inside == pytest.approx(0.09 / math.sqrt(3))
    assert standard_uncertainty(accuracy, value, digit, 28.0) == inside
    assert standard_uncertainty(accuracy, value, digit, 33.0) == pytest.approx(1.5 * inside)
    assert standard_uncertainty(accuracy, value, digit, 8.0, (10.0, 40.0)) == pytest.approx(1.2 * inside)


def test_capability_is_one_where_no_reading_could_pass_any_more() -> None:
    limits = parse_limits("4.00 V .. 6.00 V")
    narrow = parse_accuracy(f"± {math.sqrt(3) / 1.96:.6f} V")
    assert capability(limits, narrow, Decimal("0.01")) == pytest.approx(1.0, abs=1e-5)
    assert capability(parse_limits("at most 60 mV"), narrow, Decimal("0.01")) is None


def test_a_meter_good_for_five_percent_is_poor_for_one() -> None:
    meter, digit = parse_accuracy("0.5 % + 3 digits"), Decimal("0.01")
    wide = capability(parse_limits("24.0 V ± 1.2 V"), meter, digit)
    tight = capability(parse_limits("5.00 V ± 1 %"), meter, digit)
    assert wide is not None
    assert tight is not None
    assert wide > 4 > tight
    assert wide == pytest.approx(1.2 / (1.96 * 0.15 / math.sqrt(3)))


@pytest.mark.parametrize(
    ("candidate", "fits"),
    [
        ("0.5 % + 3 digits", True),
        ("0.3 % + 2 digits", True),
        ("0.8 % + 3 digits", False),
        ("0.3 % + 4 digits", False),
        ("0.3 % + 2 mV", False),
    ],
)
def test_only_an_instrument_as_good_in_every_part_may_take_the_place(candidate: str, fits: bool) -> None:
    assert no_worse(parse_accuracy(candidate), parse_accuracy("0.5 % + 3 digits")) is fits


def test_fixed_errors_compare_only_in_one_unit() -> None:
    assert no_worse(parse_accuracy("± 10 ms"), parse_accuracy("± 17 ms"))
    assert not no_worse(parse_accuracy("± 20 ms"), parse_accuracy("± 17 ms"))
    assert not no_worse(parse_accuracy("± 10 mV"), parse_accuracy("± 17 ms"))


def test_every_part_of_an_accuracy_grows_alike_outside_its_temperatures() -> None:
    stated = parse_accuracy("0.5 % + 3 digits + 1 mV")
    value, digit = Decimal("5.00"), Decimal("0.01")
    grown = at_ambient(stated, 33.0)
    assert (grown.percent, grown.counts) == (Decimal("0.75"), Decimal("4.5"))
    assert largest_error(grown, value, digit) == pytest.approx(largest_error(stated, value, digit, 33.0))
    assert grown.text == "0.5 % + 3 digits + 1 mV, 1.5 times that at 33 °C"
    assert at_ambient(stated, 20.0) is at_ambient(stated, None) is stated
    assert ambient_factor(10.0, (15.0, 25.0)) == pytest.approx(1.5)


def test_a_band_includes_its_own_ends() -> None:
    accuracy, value, digit = parse_accuracy("0.5 % + 3 digits"), Decimal(12), Decimal("0.01")
    inside = standard_uncertainty(accuracy, value, digit)
    assert standard_uncertainty(accuracy, value, digit, 18.0) == inside
    assert standard_uncertainty(accuracy, value, digit, 17.0) == pytest.approx(1.1 * inside)


@pytest.mark.parametrize("text", ["(0.5 % + 3 digits", "0.5 % + 3 digits)", "± 0 mV", "0 mV"])
def test_half_a_bracket_and_an_error_of_nothing_are_refused(text: str) -> None:
    with pytest.raises(QuantityError):
        parse_accuracy(text)


def test_an_instrument_with_the_very_same_fixed_error_may_take_the_place() -> None:
    assert no_worse(parse_accuracy("± 17 ms"), parse_accuracy("± 17 ms"))
