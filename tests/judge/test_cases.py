"""Do published and computed reference values come out of the arithmetic?"""

import json
import math
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from passcheck.judge.accuracy import Accuracy, largest_error, parse_accuracy, standard_uncertainty
from passcheck.judge.conformity import probability_inside
from passcheck.judge.estimate import pool
from passcheck.judge.in_circuit import behind_parallel, judge_in_circuit
from passcheck.judge.limits import Limits, parse_limits
from passcheck.judge.normal import normal_cdf
from passcheck.judge.quantity import Quantity, parse_quantity
from passcheck.judge.reading import judge_reading
from passcheck.judge.repeats import shown_by
from passcheck.judge.student import student_quantile

CASES = {
    case["id"]: case
    for case in json.loads((Path(__file__).parents[1] / "samples" / "cases.json").read_text("utf-8"))["cases"]
}
EXACT = Accuracy(Decimal(0), Decimal(0), "exact")


def given(case_id: str) -> tuple[dict[str, Any], dict[str, Any], dict[str, Any]]:
    case = CASES[case_id]
    return case["inputs"], case["expected"], case["tolerance"]


def number(value: float, unit: str, digit: str = "1") -> Quantity:
    return Quantity(Decimal(str(value)), unit, Decimal(digit), str(value))


def within(low: float | None, high: float | None, unit: str) -> Limits:
    ends = [None if end is None else number(end, unit) for end in (low, high)]
    return Limits(ends[0], ends[1], None, unit, "")


def test_a01_a_breakdown_voltage_against_one_upper_limit() -> None:
    inputs, expected, tolerance = given("A01")
    p = probability_inside(Decimal(str(inputs["y_V"])), inputs["u_V"], within(None, inputs["T_U_V"], "V"))
    assert p == pytest.approx(expected["p_conform"], abs=tolerance["p_conform"])


def test_a03_a_viscosity_between_two_limits() -> None:
    inputs, expected, tolerance = given("A03")
    limits = within(inputs["T_L"], inputs["T_U"], "")
    p = probability_inside(Decimal(str(inputs["y"])), inputs["u"], limits)
    assert p == pytest.approx(expected["p_conform"], abs=tolerance["p_conform"])


def test_a06_false_accept_at_the_edge_of_a_guard_band() -> None:
    inputs, expected, tolerance = given("A06")
    for r, accepted, published in zip(inputs["r"], expected["PFA"], expected["published_upper"], strict=True):
        assert normal_cdf(-inputs["U_over_u"] * r) == pytest.approx(accepted, rel=tolerance["rel"])
        assert normal_cdf(-inputs["U_over_u"] * r) <= published


def test_a07_twenty_temperatures_have_the_published_mean_and_scatter() -> None:
    inputs, expected, tolerance = given("A07")
    estimate = pool([number(each, "°C", "0.01") for each in inputs["readings_degC"]], EXACT)
    assert float(estimate.value) == pytest.approx(expected["mean"], abs=tolerance["mean"])
    assert estimate.u_a == pytest.approx(expected["u_mean"], abs=tolerance["u_mean"])
    assert estimate.u_a * math.sqrt(20) == pytest.approx(expected["s"], abs=tolerance["s"])


def test_a12_a_twelve_volt_rail_read_with_a_handheld_meter() -> None:
    inputs, expected, tolerance = given("A12")
    accuracy = parse_accuracy(f"{inputs['pct']} % + {inputs['counts']} digits")
    limits = within(inputs["T_L"], inputs["T_U"], "V")
    for row in expected["rows"]:
        reading = number(row["reading_V"], "V", str(inputs["lsd_V"]))
        u = standard_uncertainty(accuracy, reading.value, reading.digit)
        assert largest_error(accuracy, reading.value, reading.digit) == pytest.approx(row["a_V"], abs=tolerance["u"])
        assert u == pytest.approx(row["u_V"], abs=tolerance["u"])
        p = probability_inside(reading.value, u, limits)
        assert p == pytest.approx(row["p_conform_normal"], abs=tolerance["p"])
        assert judge_reading([reading], limits, accuracy).verdict == row["verdict"]


def test_a15_five_readings_never_shrink_the_meters_own_error() -> None:
    inputs, expected, tolerance = given("A15")
    accuracy = parse_accuracy(f"{inputs['pct']} % + {inputs['counts']} digits")
    estimate = pool([number(each, "V", str(inputs["lsd_V"])) for each in inputs["readings_V"]], accuracy)
    found = (float(estimate.value), estimate.u_a, estimate.u_b, estimate.u)
    wanted = [expected[name] for name in ("mean_V", "u_A", "u_B", "u_c")]
    assert found == pytest.approx(wanted, rel=tolerance["rel"])
    assert estimate.nu == pytest.approx(expected["nu_eff"], rel=tolerance["rel"])
    assert student_quantile(0.975, estimate.nu) == pytest.approx(expected["k95"], rel=tolerance["rel"])


def test_a18_a_part_behind_a_known_parallel_path() -> None:
    inputs, expected, tolerance = given("A18")
    percent, counts, digit = inputs["meter"]
    accuracy = parse_accuracy(f"{percent} % + {counts} digits")
    reading = number(inputs["R_meas_ohm"], "Ω", str(digit))
    u_m = standard_uncertainty(accuracy, reading.value, reading.digit)
    u_p = inputs["R_parallel_ohm"] * inputs["R_parallel_tol"] / math.sqrt(3)
    r, u = behind_parallel(inputs["R_meas_ohm"], u_m, inputs["R_parallel_ohm"], u_p)
    assert (r, u) == pytest.approx((expected["R_ohm"], expected["u_R_ohm"]), rel=tolerance["rel"])
    judged = judge_in_circuit(
        reading, reading, parse_quantity("10 kΩ"), Decimal(5), accuracy,
        parallel=number(inputs["R_parallel_ohm"], "Ω"), parallel_tolerance_percent=Decimal(5),
    )  # fmt: skip
    assert judged.u is not None
    assert float(judged.u) == pytest.approx(expected["u_R_ohm"], rel=tolerance["rel"])


def test_c07_a_flash_rate_is_judged_like_any_reading() -> None:
    inputs, expected, tolerance = given("C07")
    limits = within(inputs["T_L_Hz"], inputs["T_U_Hz"], "Hz")
    accuracy = parse_accuracy(f"{inputs['u_Hz'] * math.sqrt(3):.9f} Hz")
    for rate, p, verdict in zip(inputs["f_Hz"], expected["p"], expected["verdict"], strict=True):
        assert probability_inside(Decimal(str(rate)), inputs["u_Hz"], limits) == pytest.approx(p, abs=tolerance["p"])
        assert judge_reading([number(rate, "Hz", "0.01")], limits, accuracy).verdict == verdict


def test_e01_clean_runs_show_what_the_published_table_says() -> None:
    inputs, expected, _tolerance = given("E01")
    for (share, confidence), n in zip(inputs["R_C"], expected["n"], strict=True):
        if confidence == 0.95:
            assert shown_by(n) >= share > shown_by(n - 1)


def test_every_limit_of_the_reference_rail_reads_as_written() -> None:
    inputs, _expected, _tolerance = given("A12")
    limits = parse_limits("11.40 V .. 12.60 V")
    assert limits.low is not None
    assert limits.high is not None
    assert [float(limits.low.value), float(limits.high.value)] == [inputs["T_L"], inputs["T_U"]]
