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
