"""Does an instrument show what its maker states of it, and always in the same way?"""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passcheck.judge.accuracy import largest_error, parse_accuracy
from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import parse_quantity
from passcheck.practice.meter import FLICKER, Meters, digit_for, display, display_for
from passcheck.practice.serials import drawn_from

STATED = parse_accuracy("0.5 % + 3 digits")
VALUES = st.floats(-60, 60).map(lambda value: round(value, 6))
DIGITS = st.sampled_from([Decimal("0.001"), Decimal("0.01"), Decimal("0.1"), Decimal(1)])
SEEDS = st.integers(0, 10_000)


@settings(deadline=None)
@given(value=VALUES, digit=DIGITS, bench=SEEDS, turn=SEEDS)
def test_no_display_is_further_off_than_its_maker_states_but_for_the_flicker(
    value: float, digit: Decimal, bench: int, turn: int
) -> None:
    shown = Meters(("M1",), drawn_from("drawn", bench)).shown("M1", STATED, value, digit, drawn_from("drawn", turn))
    flicker = drawn_from("drawn", turn).gauss(0, FLICKER) * float(digit)
    stated = largest_error(STATED, Decimal(repr(value)), digit)
    assert abs(float(shown) - value - flicker) <= stated + float(digit) / 2 * (1 + 1e-9)
    assert shown % digit == 0


@settings(deadline=None)
@given(value=VALUES, bench=SEEDS)
def test_the_same_instrument_has_the_same_error_at_every_reading(value: float, bench: int) -> None:
    fine, meters = Decimal("0.000001"), Meters(("M1", "M2"), drawn_from("drawn", bench))
    flat = parse_accuracy("± 100 mV")
    errors = [float(meters.shown("M1", flat, at, fine, drawn_from("drawn", 1))) - at for at in (0.0, value, 2 * value)]
    assert errors == pytest.approx([errors[0]] * 3, abs=3e-6)
    assert abs(errors[0]) <= 0.1 + 3e-6


def test_two_instruments_differ_and_their_names_may_come_in_any_order() -> None:
    fine, flat = Decimal("0.000001"), parse_accuracy("± 100 mV")
    one, other = Meters(("M1", "M2"), drawn_from("drawn", 4)), Meters(("M2", "M1"), drawn_from("drawn", 4))
    shown = {name: one.shown(name, flat, 5.0, fine, drawn_from("drawn", 1)) for name in ("M1", "M2")}
    assert shown["M1"] != shown["M2"]
    assert shown == {name: other.shown(name, flat, 5.0, fine, drawn_from("drawn", 1)) for name in ("M1", "M2")}


def test_the_errors_of_many_instruments_fill_what_is_stated() -> None:
    fine, flat = Decimal("0.000001"), parse_accuracy("± 100 mV")
    errors = [
        float(Meters(("M1",), drawn_from("drawn", seed)).shown("M1", flat, 5.0, fine, drawn_from("drawn", 1))) - 5.0
        for seed in range(400)
    ]
    assert min(errors) < -0.09
    assert max(errors) > 0.09
    assert abs(sum(errors) / len(errors)) < 0.015  # five standard deviations of the mean of a rectangle


def test_an_instrument_that_is_not_on_the_bench_has_no_error() -> None:
    fine = Decimal("0.000001")
    assert float(
        Meters((), drawn_from("drawn", 1)).shown("M9", STATED, 5.0, fine, drawn_from("drawn", 2))
    ) == pytest.approx(5.0, abs=3e-6)


@pytest.mark.parametrize(
    ("limits", "value", "shown"),
    [
        ("4.85 V .. 5.15 V", 5.01, "5.010 V"),
        ("at most 60 mVpp", 0.142, "142.0 mVpp"),
        ("at most 60 mVpp", 0.024, "24.00 mVpp"),
        ("0.80 MΩ .. 1.10 MΩ", 944e3, "944.0 kΩ"),
        ("10 MΩ .. 60 MΩ", 47e6, "47.00 MΩ"),
        ("10 MΩ .. 60 MΩ", 0.2, "0.20 Ω"),
        ("at most 0.5 Ω", 0.21, "210 mΩ"),
        ("-5.0 V .. 5.0 V", 2e-13, "0 mV"),
        ("-2 V .. 2 V", 0.0, "0.00 V"),
        ("at most 4.0 s", 1.6, "1.600 s"),
        ("100 s .. 160 s", 310.0, "310.0 s"),
        ("0.10 A .. 0.22 A", 0.161, "161.0 mA"),
    ],
)
def test_a_display_has_the_digits_that_the_limits_ask_for_and_no_more_than_a_meter_has(
    limits: str, value: float, shown: str
) -> None:
    asked = parse_limits(limits)
    assert display(Decimal(repr(value)), asked.unit, digit_for(asked, value)) == shown


@settings(deadline=None)
@given(value=st.floats(1e-9, 1e7), limits=st.sampled_from(["4.85 V .. 5.15 V", "at most 60 mVpp", "at least 150 Ω"]))
def test_a_digit_is_a_power_of_ten_and_at_least_as_fine_as_the_limits(value: float, limits: str) -> None:
    asked = parse_limits(limits)
    digit = digit_for(asked, value)
    assert digit.normalize().as_tuple().digits == (1,)
    assert all(digit <= end.digit for end in (asked.low, asked.high) if end is not None)


@settings(deadline=None)
@given(value=VALUES, digit=DIGITS)
def test_what_is_displayed_reads_back_as_the_figure_with_its_digit(value: float, digit: Decimal) -> None:
    figure = Meters(("M1",), drawn_from("drawn", 1)).shown("M1", STATED, value, digit, drawn_from("drawn", 1))
    read = parse_quantity(display(figure, "V", digit), "V")
    assert read.value == figure


@pytest.mark.parametrize(
    ("limits", "value", "shown"),
    [
        ("0.10 A .. 0.22 A", 0.161, "0.1610 A"),
        ("at most 0.5 Ω", 0.076, "0.076 Ω"),
        ("at least 10 kΩ", 40_620.0, "40.62 kΩ"),
        ("at most 60 mVpp", 0.1433, "143.3 mVpp"),
        ("at most 60 mVpp", -0.00000001, "0.00 mVpp"),
        ("20 min .. 30 min", 1500.0, "1500 s"),
    ],
)
def test_a_display_for_an_entry_is_in_the_unit_that_a_bare_number_takes_there(
    limits: str, value: float, shown: str
) -> None:
    asked = parse_limits(limits)
    digit = digit_for(asked, value)
    figure = (Decimal(repr(value)) / digit).to_integral_value() * digit
    assert display_for(figure, asked, digit) == shown
