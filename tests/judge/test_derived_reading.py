"""Is a worked-out value judged like a reading, by the errors of both readings behind it?"""

from decimal import Decimal

import pytest

from passcheck.judge.accuracy import parse_accuracy
from passcheck.judge.derived_reading import Operand, judge_derived, read_operand, worked_out_operand
from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import parse_quantity

METER = parse_accuracy("0.5 % + 3 digits")


def read(*texts: str, by: str = "M4") -> Operand:
    return read_operand([parse_quantity(text) for text in texts], METER, by)


def test_a_drop_with_one_meter_passes_where_two_meters_leave_it_in_doubt() -> None:
    limits = parse_limits("at most 300 mV")
    same = judge_derived("drop", read("12.06 V"), read("11.83 V"), limits, same_meter=True)
    other = judge_derived("drop", read("12.06 V"), read("11.83 V", by="M5"), limits, same_meter=True)
    assert (same.verdict, same.value, same.unit) == ("pass", "0.23", "V")
    assert same.sentence.startswith("12.06 V - 11.83 V: 0.23 V is inside at most 300 mV")
    assert float(same.u or 0) == pytest.approx(0.0245, rel=5e-3)
    assert other.verdict == "in doubt"
    assert float(other.u or 0) == pytest.approx(0.07326, rel=5e-3)


def test_another_range_of_the_same_meter_has_a_gain_of_its_own() -> None:
    fine, coarse = read("11.830 V"), read("12.06 V")
    assert not coarse.shares_range_with(fine)
    judged = judge_derived("drop", coarse, fine, parse_limits("at most 300 mV"), same_meter=True)
    assert float(judged.u or 0) > 0.05


def test_nothing_cancels_unless_the_sequence_says_so() -> None:
    judged = judge_derived("drop", read("12.06 V"), read("11.83 V"), parse_limits("at most 300 mV"))
    assert judged.verdict == "in doubt"


def test_a_power_outside_its_limits_fails() -> None:
    judged = judge_derived("product", read("12.00 V"), read("1.50 A"), parse_limits("at most 15 W"))
    assert (judged.verdict, judged.value, judged.unit, judged.outside) == ("fail", "18", "W", True)
    assert "12.00 V × 1.50 A" in judged.sentence


def test_ripple_is_a_ratio_in_percent() -> None:
    judged = judge_derived("ratio", read("20.0 mV"), read("5.00 V"), parse_limits("at most 1 %"))
    assert (judged.verdict, judged.value, judged.unit) == ("pass", "0.4", "%")


def test_scatter_of_repeated_readings_counts() -> None:
    calm = judge_derived("drop", read("5.00 V"), read("4.00 V"), parse_limits("0.9 V .. 1.1 V"))
    wild = judge_derived("drop", read("4.80 V", "5.20 V"), read("4.00 V"), parse_limits("0.9 V .. 1.1 V"))
    assert calm.value == wild.value == "1"
    assert float(wild.u or 0) > 4 * float(calm.u or 1)


def test_a_worked_out_value_can_be_worked_with_again() -> None:
    power = worked_out_operand(Decimal(6), "W", 0.1)
    judged = judge_derived("ratio", power, read("12.00 V"), parse_limits("at most 1 A"))
    assert (judged.value, judged.verdict) == ("0.5", "pass")
    assert not power.shares_range_with(power)


def test_the_simple_rule_looks_at_the_value_alone() -> None:
    judged = judge_derived("drop", read("12.06 V"), read("11.83 V"), parse_limits("at most 240 mV"), rule="simple")
    assert judged.verdict == "pass"


def test_limits_in_another_unit_are_refused() -> None:
    with pytest.raises(ValueError, match="doesn't give W"):
        judge_derived("product", read("12.00 V"), read("1.50 V"), parse_limits("at most 15 W"))


def test_ripple_carries_both_errors_in_percent() -> None:
    judged = judge_derived("ratio", read("20.0 mV"), read("5.00 V"), parse_limits("at most 1 %"))
    a, b = (0.02 * 0.005 + 3 * 0.0001) / 0.02, (5 * 0.005 + 3 * 0.01) / 5
    assert float(judged.u or 0) == pytest.approx(0.4 * (a**2 + b**2) ** 0.5 / 3**0.5, rel=1e-5)
    assert judged.sentence.endswith("instrument ± 0.009 %.")


def test_scatter_in_percent_is_told_as_scatter() -> None:
    judged = judge_derived("ratio", read("20.0 mV", "30.0 mV"), read("5.00 V"), parse_limits("at most 0.55 %"))
    assert judged.verdict == "in doubt"
    assert "scatter so much (± 0.2 %)" in judged.sentence


def test_an_operand_knows_how_often_it_was_read() -> None:
    assert read("5.00 V").source.nu_a == float("inf")
    assert read("4.80 V", "5.20 V", "5.00 V").source.nu_a == 2


def test_a_worked_out_operand_is_shown_as_finely_as_it_is_known() -> None:
    power = worked_out_operand(Decimal(6), "W", 0.1)
    assert (power.text, power.digit) == ("6.0 W", Decimal("0.1"))
    assert power.source.rest == pytest.approx(0.1 * 3**0.5)
    exact = worked_out_operand(Decimal(6), "W", 0.0)
    assert exact.digit == Decimal("1E-12")
    volts, amperes = worked_out_operand(Decimal(6), "V", 0.0), worked_out_operand(Decimal(2), "A", 0.0)
    judged = judge_derived("product", volts, amperes, parse_limits("at most 12 W"))
    assert (judged.verdict, judged.u) == ("pass", "0")
