"""Do readings come through the door as they come out of the functions, every reference case among them?"""

from typing import Any

import pytest
from door_asked import ask
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case


def test_a01_a03_and_c07_conformity() -> None:
    inputs, expected, tolerance = reference_case("A01")
    answer = ask("conformity", {"value": inputs["y_V"], "u": inputs["u_V"], "high": inputs["T_U_V"]})
    assert answer["p_conform"] == pytest.approx(expected["p_conform"], abs=tolerance["p_conform"])
    inputs, expected, tolerance = reference_case("A03")
    ends = {"low": inputs["T_L"], "high": inputs["T_U"]}
    answer = ask("conformity", {"value": inputs["y"], "u": inputs["u"], **ends})
    assert answer["p_conform"] == pytest.approx(expected["p_conform"], abs=tolerance["p_conform"])
    inputs, expected, tolerance = reference_case("C07")
    ends = {"low": inputs["T_L_Hz"], "high": inputs["T_U_Hz"]}
    for rate, p, verdict in zip(inputs["f_Hz"], expected["p"], expected["verdict"], strict=True):
        answer = ask("conformity", {"value": rate, "u": inputs["u_Hz"], **ends})
        assert answer["p_conform"] == pytest.approx(p, abs=tolerance["p"])
        assert answer["verdict"] == verdict
        assert answer["why"].endswith(".")


def test_a06_false_accept_at_a_guard_band() -> None:
    inputs, expected, tolerance = reference_case("A06")
    for r, accepted in zip(inputs["r"], expected["PFA"], strict=True):
        answer = ask("conformity", {"value": inputs["U_over_u"] * r, "u": 1, "high": 0})
        assert answer["p_conform"] == pytest.approx(accepted, rel=tolerance["rel"])


def test_a07_twenty_temperatures_without_limits() -> None:
    inputs, expected, tolerance = reference_case("A07")
    answer = ask("reading", {"readings": inputs["readings_degC"], "percent": 0, "counts": 0, "digit": 0.01})
    assert answer["value"] == pytest.approx(expected["mean"], abs=tolerance["mean"])
    assert answer["u_a"] == pytest.approx(expected["u_mean"], abs=tolerance["u_mean"])
    assert (answer["verdict"], answer["p_conform"], answer["ratio"]) == (None, None, None)


def test_a12_a_rail_reading_by_reading() -> None:
    inputs, expected, tolerance = reference_case("A12")
    meter = {"percent": inputs["pct"], "counts": inputs["counts"], "digit": inputs["lsd_V"]}
    for row in expected["rows"]:
        answer = ask("reading", {"readings": [row["reading_V"]], **meter, "low": inputs["T_L"], "high": inputs["T_U"]})
        assert answer["u"] == answer["u_b"] == pytest.approx(row["u_V"], abs=tolerance["u"])
        assert answer["p_conform"] == pytest.approx(row["p_conform_normal"], abs=tolerance["p"])
        assert answer["verdict"] == row["verdict"]
        assert str(row["reading_V"]) in answer["why"]
        assert answer["nu"] is None


def test_a15_five_readings_of_one_meter() -> None:
    inputs, expected, tolerance = reference_case("A15")
    meter = {"percent": inputs["pct"], "counts": inputs["counts"], "digit": inputs["lsd_V"]}
    answer = ask("reading", {"readings": inputs["readings_V"], **meter, "low": 4.9, "high": 5.15})
    names = {"value": "mean_V", "u_a": "u_A", "u_b": "u_B", "u": "u_c", "nu": "nu_eff"}
    for name, case_name in names.items():
        assert answer[name] == pytest.approx(expected[case_name], rel=tolerance["rel"])
    assert answer["verdict"] == "pass"
    assert answer["ratio"] == pytest.approx(0.25 / (2 * 1.96 * expected["u_B"]), rel=5e-3)


def test_a_hot_bench_and_the_simple_rule() -> None:
    fields = {"readings": [5.10], "percent": 0.5, "counts": 3, "digit": 0.01, "high": 5.2}
    cool, hot = ask("reading", fields), ask("reading", {**fields, "ambient_c": 40, "band_c": [18, 28]})
    assert (cool["verdict"], hot["verdict"]) == ("pass", "in doubt")
    assert hot["u_b"] == pytest.approx(2.2 * cool["u_b"])
    assert ask("reading", {**fields, "ambient_c": 40, "rule": "simple"})["verdict"] == "pass"


def test_a17_drops_and_the_other_forms() -> None:
    inputs, expected, tolerance = reference_case("A17")
    a, b = (
        {"value": inputs[name], "percent": inputs["pct"], "counts": inputs["counts"], "digit": inputs["lsd_V"]}
        for name in ("V1_V", "V2_V")
    )
    same = ask("derived", {"form": "drop", "a": a, "b": b, "same_meter": True})
    assert same["value"] == pytest.approx(expected["dV_V"], rel=tolerance["rel"])
    assert same["u"] == pytest.approx(expected["u_correlated_V"], rel=tolerance["rel"])
    other = ask("derived", {"form": "drop", "a": a, "b": b})
    assert other["u"] == pytest.approx(expected["u_if_independent_V"], rel=tolerance["rel"])
    ranges = ask("derived", {"form": "drop", "a": a, "b": {**b, "digit": 0.001}, "same_meter": True})
    assert ranges["u"] > same["u"], "another range has a gain error of its own"
    assert ask("derived", {"form": "product", "a": a, "b": b})["value"] == pytest.approx(12.06 * 11.83)
    assert ask("derived", {"form": "ratio", "a": a, "b": b})["value"] == pytest.approx(12.06 / 11.83)


def in_circuit(reading: object, **more: object) -> dict[str, Any]:
    meter = {"percent": 1, "counts": 3, "digit": 1}
    return ask("in-circuit", {"reading": reading, **meter, "nominal": 10_000, "tolerance": 0.05, **more})


def test_a18_the_part_behind_a_known_path() -> None:
    inputs, expected, tolerance = reference_case("A18")
    answer = in_circuit(
        inputs["R_meas_ohm"], parallel=inputs["R_parallel_ohm"], parallel_tolerance=inputs["R_parallel_tol"]
    )
    assert answer["finding"] == "consistent"
    assert answer["value"] == pytest.approx(expected["R_ohm"], rel=tolerance["rel"])
    assert answer["u"] == pytest.approx(expected["u_R_ohm"], rel=tolerance["rel"])


@pytest.mark.parametrize(
    ("reading", "more", "finding"),
    [
        ("OL", {}, "high or open"),
        (10_700, {}, "high or open"),
        (10_600, {}, "consistent"),
        (10_000, {}, "consistent"),
        (9_450, {}, "consistent"),
        (9_300, {}, "low"),
        (6_875, {"expected": [6_500, 7_200]}, "consistent"),
        (6_875, {"expected": [7_200, 7_500]}, "low"),
        (6_875, {"expected": [6_000, 6_500]}, "high or open"),
        (6_875, {"expected": 6_900.0}, "consistent"),
        (6_875, {"expected": 8_000.0}, "low"),
        (22_500, {"parallel": 22_000}, "high or open"),
        (10_550, {"parallel": 12_000}, "consistent"),
        (6_000, {"parallel": 22_000}, "low"),
        (7_800, {"parallel": 22_000}, "high or open"),
    ],
)
def test_paths_beside_a_part_only_lower_it(reading: object, more: dict[str, object], finding: str) -> None:
    answer = in_circuit(reading, **more)
    assert answer["finding"] == finding
    assert answer["why"].endswith(".")


def test_a_path_that_hides_the_part_leaves_no_value() -> None:
    assert in_circuit(9_000, parallel=9_500)["value"] is None
    assert "value" not in in_circuit("OL")


def test_limits_the_wrong_way_round_are_refused() -> None:
    with pytest.raises(ValueError, match="low has to be below high"):
        ask("conformity", {"value": 1, "u": 0.1, "low": 2, "high": 1})
    with pytest.raises(ValueError, match="give low, high or both"):
        ask("conformity", {"value": 1, "u": 0.1})
    operand = {"value": 0, "percent": 1, "counts": 1, "digit": 0.1}
    with pytest.raises(ValueError, match="a ratio to zero"):
        ask("derived", {"form": "ratio", "a": {**operand, "value": 1}, "b": operand})


@given(
    st.floats(4.5, 5.5), st.floats(0.1, 2), st.floats(1, 4), st.sampled_from([1e-6, 1e-3, 1e3, 1e6]), st.integers(0, 9)
)
def test_a_worse_meter_is_never_surer_and_units_change_no_verdict(
    value: float, percent: float, worse: float, scale: float, counts: int
) -> None:
    value = round(value, 3)

    def verdict(percent: float, scale: float = 1.0) -> str:
        answer = ask("reading", {
            "readings": [value * scale], "percent": percent, "counts": counts, "digit": 0.001 * scale,
            "low": 4.85 * scale, "high": 5.15 * scale,
        })  # fmt: skip
        assert 0 <= answer["p_conform"] <= 1
        return str(answer["verdict"])

    assert verdict(percent * worse) in {verdict(percent), "in doubt"}
    edge = min(abs(value - 4.85), abs(value - 5.15)) < 1e-9
    assert edge or verdict(percent, scale) == verdict(percent)


def test_a_scatter_known_from_earlier_series_is_used_for_few_readings() -> None:
    meter = {"percent": 0, "counts": 1, "digit": 0.01}
    pair = {"readings": [12.0, 12.06], **meter, "low": 11.8, "high": 12.3}
    alone, known = ask("reading", pair), ask("reading", {**pair, "known_s": 0.04, "known_nu": 30})
    assert (alone["verdict"], known["verdict"]) == ("in doubt", "pass")
    assert known["u_a"] == pytest.approx(0.04 / 2**0.5)


def test_a_known_scatter_without_its_degrees_of_freedom_is_refused() -> None:
    asked = {"readings": [12.0], "percent": 0, "counts": 1, "digit": 0.01, "known_s": 0.04}
    with pytest.raises(ValueError, match="known_s and known_nu go together"):
        ask("reading", asked)
