"""Are quantities read as people write them, and refused where they could mean two things?"""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passcheck.judge.quantity import (
    OverRange,
    Quantity,
    QuantityError,
    parse_quantity,
    parse_reading,
    quoted,
    show,
    show_limit,
    six,
)
from passcheck.judge.units import PREFIXES, UNITS

READS = [
    ("4k7", None, "4700", "Ω", "100"),
    ("2R2", None, "2.2", "Ω", "0.1"),
    ("R47", None, "0.47", "Ω", "0.01"),
    ("47R", None, "47", "Ω", "1"),
    ("4k7 Ω", None, "4700", "Ω", "100"),
    ("4k7", "Hz", "4700", "Hz", "100"),
    ("3V3", None, "3.3", "V", "0.1"),
    ("465 mV", None, "0.465", "V", "0.001"),
    ("465m", "V", "0.465", "V", "0.001"),
    ("1M", None, "1000000", "Ω", "1000000"),
    ("10u", "F", "0.00001", "F", "0.000001"),
    ("1,5 V", None, "1.5", "V", "0.1"),
    ("0,234 V", None, "0.234", "V", "0.001"),
    ("1234,567 V", None, "1234.567", "V", "0.001"),
    ("24.00 V", None, "24.00", "V", "0.01"),
    (".5 V", None, "0.5", "V", "0.1"),
    ("5.01", "V", "5.01", "V", "0.01"),
    ("10", "", "10", "", "1"),
    ("3", None, "3", "", "1"),
    ("60 mVpp", None, "0.060", "Vpp", "0.001"),
    ("60 mV p-p", "Vpp", "0.060", "Vpp", "0.001"),
    ("\u22125 V", None, "-5", "V", "1"),
    ("-0.00", "V", "0.00", "V", "0.01"),
    ("4.7\u00a0k\u2126", None, "4700", "Ω", "100"),
    ("10 \u03bcF", None, "0.00001", "F", "0.000001"),
    ("10 \u00b5F", None, "0.00001", "F", "0.000001"),
    ("100 mohm", None, "0.1", "Ω", "0.001"),
    ("\u2009230 V\n", None, "230", "V", "1"),
    ("4 h", "s", "14400", "s", "3600"),
    ("20 min", None, "1200", "s", "60"),
    ("45 \u2103", "°C", "45", "°C", "1"),
    ("45 K", "K", "45", "K", "1"),
    ("270°", "deg", "270", "deg", "1"),
    ("+1.23400E+01", "V", "12.34", "V", "0.0001"),
    ("5e3 Ω", None, "5000", "Ω", "1000"),
]

REFUSED = [
    ("1,234", None, "thousands or decimal comma"),
    ("12,345 V", None, "thousands or decimal comma"),
    ("1,234.5", None, "thousands separators"),
    ("1.234,5", None, "thousands separators"),
    ("1 000 V", None, "thousands separators"),
    ("1'000 V", None, "thousands separators"),
    ("5..6", None, "goes on"),
    ("0L", None, "begins with a zero"),
    ("0x10", None, "not a unit"),
    ("inf", None, "no number"),
    ("nan", "V", "no number"),
    ("", "V", "no number"),
    ("V", None, "no number"),
    ("k47", None, "write the number first"),
    ("4.7k3", None, "not a unit"),
    ("4k7.2", None, "letter and a point"),
    ("4k7 kΩ", None, "two prefixes"),
    ("4K7", None, "lower-case k"),
    ("10K", "Ω", "lower-case k"),
    ("20m", "s", "minutes or milliseconds"),
    ("5 MV", None, "did you mean mV"),
    ("5 mhz", None, "did you mean MHz or mHz"),
    ("5 Mpx", None, "not a unit"),
    ("5 F", "V", "don't match"),
    ("2R2", "V", "don't match"),
    ("60 mV", "Vpp", "peak-to-peak"),
    ("60 mVpp", "V", "peak-to-peak"),
    ("45 °C", "K", "don't mix"),
    ("5 V", "", "a bare number"),
    ("5 k", "", "a bare number"),
    ("5 k", "rpm", "write the unit out"),
    ("5 V", "volt", "not a base unit"),
    ("\u0663 V", None, "no number"),
    ("1e999", "V", "not a unit"),
    ("1e20", "V", "beyond anything"),
    ("1e-40", "V", "beyond anything"),
    ("± 3 %", None, "no number"),
    ("123456789012345678901 V", None, "more than 20 digits"),
    ("5" * 65, "V", "longer than"),
    ("> -3 Ω", None, "larger than something"),
]


@pytest.mark.parametrize(("text", "expected", "value", "unit", "digit"), READS)
def test_a_quantity_reads_as_people_write_it(
    text: str, expected: str | None, value: str, unit: str, digit: str
) -> None:
    found = parse_quantity(text, expected)
    assert (found.value, found.unit, found.digit) == (Decimal(value), unit, Decimal(digit))


@pytest.mark.parametrize(("text", "expected", "why"), REFUSED)
def test_what_could_mean_two_things_is_refused_with_its_reason(text: str, expected: str | None, why: str) -> None:
    with pytest.raises(QuantityError, match=why):
        parse_reading(text, expected)


@pytest.mark.parametrize(
    ("text", "unit", "bound", "below"),
    [
        ("OL", "Ω", None, False),
        ("ol", "Ω", None, False),
        ("O.L", "Ω", None, False),
        ("OL MΩ", "Ω", None, False),
        (">20 MΩ", "Ω", "20000000", False),
        ("> 20 M", "Ω", "20000000", False),
        ("> 0.5 Ω", "Ω", "0.5", False),
        ("> 9E37 Ω", "Ω", None, False),
        ("9E37", "Ω", None, False),
        ("9.9E+37", "Ω", None, False),
        ("1e99", "Ω", None, False),
        ("-OL", "V", None, True),
        ("-9.9E37", "V", None, True),
    ],
)
def test_over_range_is_kept_as_over_range(text: str, unit: str, bound: str | None, below: bool) -> None:
    found = parse_reading(text, unit)
    assert isinstance(found, OverRange)
    assert (found.unit, found.bound, found.below) == (unit, None if bound is None else Decimal(bound), below)
    with pytest.raises(QuantityError, match="over range"):
        parse_quantity(text, unit)


@pytest.mark.parametrize(
    ("value", "unit", "digit", "shown"),
    [
        ("0.024", "V", "0.001", "24 mV"),
        ("4700", "Ω", "100", "4.7 kΩ"),
        ("5.01", "V", "0.01", "5.01 V"),
        ("24", "V", "0.01", "24.00 V"),
        ("0.21", "Ω", "0.01", "0.21 Ω"),
        ("0.0319123", "V", "0.001", "32 mV"),
        ("0.142", "Vpp", "0.001", "142 mVpp"),
        ("500", "Ω", "100", "0.5 kΩ"),
        ("0", "V", "0.01", "0.00 V"),
        ("-0.001", "V", "0.01", "0.00 V"),
        ("-12.34", "V", "0.1", "-12.3 V"),
        ("14400", "s", "3600", "4 h"),
        ("1200", "s", "60", "20 min"),
        ("1200", "s", None, "1200 s"),
        ("936", "s", "36", "936 s"),
        ("0.0000000047", "F", None, "4.7 nF"),
        ("12340", "Ω", "1", "12.340 kΩ"),
        ("123456", "Ω", "1000", "123 kΩ"),
        ("0.0000005", "V", "0.0000001", "0.5 µV"),
        ("2700", "s", "900", "45 min"),
        ("0", "Ω", "1000", "0 kΩ"),
        ("0", "V", "0.00001", "0.00 mV"),
        ("3", "", None, "3"),
        ("45", "K", "1", "45 K"),
    ],
)
def test_a_value_is_shown_with_its_prefix_and_no_finer_than_its_digit(
    value: str, unit: str, digit: str | None, shown: str
) -> None:
    assert show(Decimal(value), unit, None if digit is None else Decimal(digit)) == shown


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (Decimal("5.01"), "5.01"),
        (0.1 + 0.2, "0.3"),
        (1234567.0, "1234570"),
        (1e-12, "0.000000000001"),
        (-0.0, "0"),
        (Decimal("60.0"), "60"),
        (Decimal("1E+3"), "1000"),
        (2 / 3, "0.666667"),
    ],
)
def test_a_record_keeps_six_digits_and_no_exponent(value: Decimal | float, written: str) -> None:
    assert six(value) == written


# Signs that turn up in quantities, so that random texts get past the first check.
NEAR = st.text(alphabet="0123456789.,-+ eEkKmMuµpnGRVΩAHzsFJW%°OL>±hirp\u2212\u00a0\u0663", max_size=12)


@settings(max_examples=3000, deadline=None)
@given(st.one_of(NEAR, st.text(max_size=80)), st.sampled_from([None, "", "V", "Ω", "s", "Vpp", "%"]))
def test_no_text_crashes_the_reader(text: str, unit: str | None) -> None:
    try:
        found = parse_reading(text, unit)
    except QuantityError:
        return
    assert unit is None or found.unit == unit
    assert isinstance(found, OverRange) or abs(found.value) < Decimal("1E15")


# Not up to the next power of ten: rounded there with the largest prefix, a value is refused as beyond any bench.
VALUES = st.decimals(min_value=-999_990, max_value=999_990, places=3)


@settings(max_examples=1000, deadline=None)
@given(VALUES, st.integers(-3, 1), st.sampled_from(sorted(UNITS)), st.sampled_from(sorted(PREFIXES)))
def test_what_is_shown_reads_back_as_the_same_quantity(value: Decimal, last: int, unit: str, prefix: str) -> None:
    digit = Decimal(1).scaleb(last)
    factor = Decimal(1).scaleb(PREFIXES[prefix] if prefix in UNITS[unit] else 0)
    rounded = value.quantize(digit) * factor
    back = parse_quantity(show(rounded, unit, digit * factor))
    assert (back.value, back.unit) == (rounded, unit)


@pytest.mark.parametrize(
    ("value", "unit", "shown"),
    [
        ("0.06", "V", "60 mV"),
        ("0.0605", "V", "60.5 mV"),
        ("4.85", "V", "4.85 V"),
        ("5.00", "V", "5 V"),
        ("10000", "Ω", "10 kΩ"),
        ("150", "Ω", "150 Ω"),
        ("2500", "rpm", "2500 rpm"),
        ("0.64", "%", "0.64 %"),
        ("-5", "%", "-5 %"),
        ("0", "V", "0 V"),
        ("3", "", "3"),
    ],
)
def test_a_limit_is_shown_as_people_write_it(value: str, unit: str, shown: str) -> None:
    assert show_limit(Decimal(value), unit) == shown


@given(VALUES, st.sampled_from(sorted(UNITS)), st.sampled_from(sorted(PREFIXES)))
def test_a_limit_loses_no_digit_and_gains_no_zero_behind_the_point(value: Decimal, unit: str, prefix: str) -> None:
    limit = value.scaleb(PREFIXES[prefix] if prefix in UNITS[unit] else 0)
    shown = show_limit(limit, unit)
    assert parse_quantity(shown).value == limit
    number = shown.split()[0]
    assert "." not in number or number[-1] not in "0."


@given(VALUES, st.sampled_from(sorted(UNITS)))
def test_the_digits_that_were_written_are_kept(value: Decimal, unit: str) -> None:
    for places in range(4):
        number = f"{value:.{places}f}"
        found = parse_quantity(f"{number} {unit}")
        assert (found.value, found.digit) == (Decimal(number), Decimal(10) ** -places)


@pytest.mark.parametrize("text", ["> 0 Ω", "> -5 Ω", "> 0.0 Ω"])
def test_over_range_is_larger_than_something(text: str) -> None:
    with pytest.raises(QuantityError, match="larger than something"):
        parse_reading(text, "Ω")


@pytest.mark.parametrize(("text", "read"), [("1E15 Ω", False), ("-1E15 Ω", False), ("9E14 Ω", True), ("900 MΩ", True)])
def test_what_no_bench_measures_is_taken_for_a_slip(text: str, read: bool) -> None:
    if read:
        assert isinstance(parse_reading(text, "Ω"), Quantity)
        return
    with pytest.raises(QuantityError):
        parse_reading(text, "Ω")


def test_a_finer_digit_than_any_instrument_shows_is_taken_for_a_slip() -> None:
    assert parse_reading("1E-24 F", "F") == Quantity(Decimal("1E-24"), "F", Decimal("1E-24"), "1E-24 F")
    with pytest.raises(QuantityError, match="beyond anything"):
        parse_reading("1E-25 F", "F")


def test_a_long_or_unprintable_text_is_quoted_short_and_clean() -> None:
    assert quoted("a" * 40) == f"'{'a' * 40}'"
    assert quoted("a" * 41) == f"'{'a' * 37}...'"
    assert quoted("5\x1b[2J\tV") == "'5?[2J?V'"


def test_a_number_without_its_unit_is_told_so() -> None:
    with pytest.raises(QuantityError, match="expected a bare number, found V"):
        parse_quantity("5 V", "")
