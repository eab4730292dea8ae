"""Are limits read as people write them?"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import QuantityError


@pytest.mark.parametrize(
    ("text", "unit", "low", "high", "nominal", "words"),
    [
        ("4.85 V .. 5.15 V", None, "4.85", "5.15", None, "4.85 V .. 5.15 V"),
        ("4.85..5.15 V", None, "4.85", "5.15", None, "4.85 .. 5.15 V"),
        ("4,85 to 5,15 V", None, "4.85", "5.15", None, "4,85 .. 5,15 V"),
        ("150 .. 250 ms", None, "0.150", "0.250", None, "150 .. 250 ms"),
        ("0.5 .. 2 kΩ", None, "500", "2000", None, "0.5 .. 2 kΩ"),
        ("900 mV .. 1.1 V", None, "0.9", "1.1", None, "900 mV .. 1.1 V"),
        ("5 .. 6", "V", "5", "6", None, "5 .. 6 V"),
        ("1k .. 4k7", None, "1000", "4700", None, "1k .. 4k7"),
        ("-1 .. 1 V", None, "-1", "1", None, "-1 .. 1 V"),
        ("5.00 V ± 3 %", None, "4.85", "5.15", "5.00", "5.00 V ± 3 %"),
        ("5.00 V +/- 0.15 V", None, "4.85", "5.15", "5.00", "5.00 V ± 0.15 V"),
        ("-12 V ± 5 %", None, "-12.6", "-11.4", "-12", "-12 V ± 5 %"),
        ("750 ± 25 rpm", None, "725", "775", "750", "750 ± 25 rpm"),
        ("750 rpm ± 25", None, "725", "775", "750", "750 rpm ± 25 rpm"),
        ("500 mV ± 5", None, "0.495", "0.505", "0.5", "500 mV ± 5 mV"),
        ("4k7 ± 5 %", None, "4465", "4935", "4700", "4k7 ± 5 %"),
        ("at most 60mVpp", None, None, "0.06", None, "at most 60 mVpp"),
        ("≤ 0.5", "s", None, "0.5", None, "at most 0.5 s"),
        ("At Least 150 \u2126", None, "150", None, None, "at least 150 Ω"),
        (">= 3", "", "3", None, None, "at least 3"),
    ],
)
def test_limits_read_as_people_write_them(
    text: str, unit: str | None, low: str | None, high: str | None, nominal: str | None, words: str
) -> None:
    found = parse_limits(text, unit)
    ends = [None if each is None else each.value for each in (found.low, found.high, found.nominal)]
    assert ends == [None if each is None else Decimal(each) for each in (low, high, nominal)]
    assert found.words() == words
    assert {found.unit} == {each.unit for each in (found.low, found.high, found.nominal) if each is not None}


@pytest.mark.parametrize(
    ("text", "unit", "why"),
    [
        ("5 V .. 4 V", None, "above the high one"),
        ("5 .. 5 V", None, "equal to the high one"),
        ("900 .. 1.1 kΩ", None, "above the high one"),
        ("5 .. 6", None, "no unit"),
        ("at most 60", None, "no unit"),
        ("5 V .. 6", None, "write both"),
        ("1 .. 4k7", None, "have the prefix too"),
        ("1.5 s .. 3 Hz", None, "don't match"),
        ("4.85 V .. 5.15 V", "A", "don't match"),
        ("4.85-5.15 V", None, "which values are inside"),
        ("5 V", None, "which values are inside"),
        ("± 25 rpm", None, "which values are inside"),
        ("as required", None, "which values are inside"),
        ("50 % ± 3 %", None, "points"),
        ("5 V ± 0 %", None, "larger than nothing"),
        ("5 V ± -3 %", None, "larger than nothing"),
        ("at most OL", None, "over range"),
        ("1,234 .. 2,345 V", None, "decimal comma"),
        ("1 V .. 2 V .. 3 V", None, "which values are inside"),
        ("x" * 121, None, "longer than"),
    ],
)
def test_limits_that_say_nothing_or_two_things_are_refused(text: str, unit: str | None, why: str) -> None:
    with pytest.raises(QuantityError, match=why):
        parse_limits(text, unit)


def test_the_limit_itself_is_inside() -> None:
    limits = parse_limits("4.85 V .. 5.15 V")
    assert limits.holds(Decimal("4.85"))
    assert limits.holds(Decimal("5.15"))
    assert not limits.holds(Decimal("5.1501"))
    assert not limits.holds(Decimal("4.8499"))
    assert parse_limits("at most 60 mV").holds(Decimal(-3))
    assert parse_limits("at least 150 Ω").holds(Decimal(10_000))


@given(st.text(alphabet="0123456789.,-+ kmVΩs%±≤atmostleast", max_size=24))
def test_no_text_crashes_the_reader_of_limits(text: str) -> None:
    try:
        limits = parse_limits(text)
    except QuantityError:
        return
    assert limits.low is not None or limits.high is not None


@given(st.decimals(0, 1000, places=2), st.decimals("0.01", 1000, places=2))
def test_the_words_of_limits_read_back_as_the_same_limits(low: Decimal, width: Decimal) -> None:
    limits = parse_limits(f"{low} .. {low + width} mV")
    assert parse_limits(limits.words()) == limits
