"""Do sweeps and marks come through the door as they come out of the functions?"""

import math

import pytest
from door_asked import ask
from reference_cases import reference_case


def test_d01_a_smooth_sweep_carries_its_floor() -> None:
    inputs, expected, tolerance = reference_case("D01")
    taps = [inputs["segment_s"] * k for k in range(inputs["m"] + 1)]
    fields = {"taps_s": taps, "tap_noise_s": inputs["s_tap_s"], "family_alpha": inputs["family_alpha"]}
    answer = ask("sweep", fields)
    assert answer["threshold_z"] == pytest.approx(expected["z_bonferroni"], rel=tolerance["rel"])
    floor = expected["threshold_interior"] * inputs["segment_s"]
    assert answer["floor_s"] == pytest.approx(floor, rel=tolerance["rel"])
    assert answer["hesitation"] is False
    assert "speed_deg_s" not in answer


def test_d02_and_d07_a_sweep_that_hesitates() -> None:
    inputs, expected, tolerance = reference_case("D02")
    answer = ask("sweep", {"taps_s": inputs["taps_s"], "tap_noise_s": inputs["s_tap_s"], "angle_deg": 270})
    assert answer["total_s"] == pytest.approx(expected["total_s"], rel=tolerance["rel"])
    assert answer["u_total_s"] == pytest.approx(expected["u_total_s"], rel=tolerance["rel"])
    assert answer["ratios"] == pytest.approx(expected["ratios"], rel=tolerance["rel"])
    assert answer["z"] == pytest.approx(expected["z"], rel=tolerance["rel"])
    assert answer["max_abs_z"] == pytest.approx(5.545, rel=tolerance["rel"])
    assert (answer["segment"], answer["hesitation"]) == (3, True)
    _inputs, expected, tolerance = reference_case("D07")
    assert answer["speed_deg_s"] == pytest.approx(expected["speed_deg_s"], rel=tolerance["rel"])
    assert answer["u_speed_deg_s"] == pytest.approx(expected["u"], rel=tolerance["rel"])


def test_d04_marks() -> None:
    inputs, expected, tolerance = reference_case("D04")
    answer = ask("marks", {"expected": inputs["expected"], "up": inputs["reading"]})
    assert answer["error_percent"] == pytest.approx(expected["error_percent_span"], abs=tolerance["abs"])
    names = {
        "max_error_percent": "max_error",
        "terminal_based_percent": "terminal_based",
        "least_squares_percent": "least_squares",
        "independent_percent": "independent",
    }
    for name, case_name in names.items():
        assert answer[name] == pytest.approx(expected[case_name], abs=tolerance["abs"])
    assert (answer["end_low_percent"], answer["end_high_percent"]) == (0.5, -1.0)
    assert "u" not in answer
    assert "hysteresis_percent" not in answer


def test_both_directions_and_the_eye() -> None:
    fields = {"expected": [0, 5, 10], "up": [0, 5, 10], "down": [0, 5.5, 10], "division": 1}
    answer = ask("marks", fields)
    assert (answer["hysteresis_percent"], answer["max_error_percent"]) == (5, 5)
    assert answer["error_down_percent"] == [0, 5, 0]
    assert answer["u"] == pytest.approx(0.2 / math.sqrt(3))
    assert ask("marks", {**fields, "readability": 0.3})["u"] == pytest.approx(0.3 / math.sqrt(3))
    assert ask("marks", {**fields, "span": 20})["hysteresis_percent"] == 2.5
