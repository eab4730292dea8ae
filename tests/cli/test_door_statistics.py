"""Do the statistics come through the door as they come out of the functions?"""

from collections.abc import Iterator
from typing import Any

import pytest
from door_asked import ask
from reference_cases import reference_case

from passcheck.cli.door.statistics import COMPUTES


def asked(compute: str, **fields: object) -> dict[str, Any]:
    return ask(compute, fields)


def test_e01_tries_for_a_reliability() -> None:
    inputs, expected, _tolerance = reference_case("E01")
    for (reliability, confidence), n in zip(inputs["R_C"], expected["n"], strict=True):
        answer = asked("zero-failure", confidence=confidence, reliability=reliability)
        assert (answer["n"], answer["reliability"]) == (n, reliability)


def test_what_so_many_tries_show() -> None:
    answer = asked("zero-failure", confidence=0.95, n=10)
    assert answer["reliability"] == pytest.approx(0.7411, abs=5e-5)
    assert answer["why"].startswith("10 of 10 without a failure: at least 74.1 %")


def test_e03_factors_of_the_upper_bound() -> None:
    inputs, expected, tolerance = reference_case("E03")
    for confidence, factors in expected["factor"].items():
        for failures, factor in zip(inputs["r"], factors, strict=True):
            answer = asked("rate-bound", failures=failures, hours=500, confidence=float(confidence))
            assert answer["factor"] == pytest.approx(factor, rel=tolerance["rel"])
            assert answer["upper_per_h"] == pytest.approx(answer["factor"] / 500)


def test_e04_and_e06_factors_of_heat_and_cycles() -> None:
    inputs, expected, tolerance = reference_case("E04")
    for ea_ev, factor in zip(inputs["Ea_eV"], expected["AF"], strict=True):
        answer = asked("acceleration", model="arrhenius", ea_ev=ea_ev, use_c=25, stress_c=125)
        assert answer["factor"] == pytest.approx(factor, rel=tolerance["rel"])
        assert answer["factor_low"] < answer["factor_high"]
    inputs, expected, tolerance = reference_case("E06")
    swings = {"use_dt": inputs["dT_use"], "stress_dt": inputs["dT_test"]}
    manson = asked("acceleration", model="coffin-manson", **swings, exponent=inputs["m"])
    assert manson == {"factor": pytest.approx(expected["AF_CM"], rel=tolerance["rel"])}
    cycles = {"use_per_day": inputs["f_use_per_day"], "stress_per_day": inputs["f_test_per_day"]}
    hottest = {"use_max_c": inputs["Tmax_use_degC"], "stress_max_c": inputs["Tmax_test_degC"]}
    landzberg = asked("acceleration", model="norris-landzberg", **swings, **cycles, **hottest)
    assert landzberg == {"factor": pytest.approx(expected["AF_NL"], rel=tolerance["rel"])}


def test_e08_both_bounds_of_a_rate() -> None:
    inputs, expected, tolerance = reference_case("E08")
    answers = [asked("rate-bound", failures=inputs["r"], hours=inputs["T_h"], confidence=c) for c in (0.6, 0.95)]
    assert answers[0]["rate_per_h"] == pytest.approx(expected["lambda_hat"], rel=tolerance["rel"])
    assert answers[0]["upper_per_h"] == pytest.approx(expected["lambda_U60"], rel=tolerance["rel"])
    assert answers[1]["lower_per_h"] == pytest.approx(expected["lambda_L90"], rel=tolerance["rel"])
    assert answers[1]["upper_per_h"] == pytest.approx(expected["lambda_U90"], rel=tolerance["rel"])


def test_e09_sums_of_the_handbook() -> None:
    inputs, expected, tolerance = reference_case("E09")
    answer = asked("cusum", values=inputs["x"], target=inputs["mu0"], k=inputs["k"], h=inputs["h"])
    assert answer["first_signal"] == expected["first_signal"]
    assert answer["up"][12:16] == pytest.approx(expected["S_hi_13_to_16"], abs=tolerance["abs"])
    assert answer["up"][19] == pytest.approx(expected["S_hi_20"], abs=tolerance["abs"])
    assert answer["why"] == "20 readings: the value has moved upward, first seen at reading 14."


def test_e11_and_e20_shares() -> None:
    inputs, expected, tolerance = reference_case("E11")
    for (k, n), ends in zip(inputs["k_n"], expected["ci"], strict=True):
        answer = asked("yield", k=k, n=n, level=inputs["level"])
        assert [answer["low"], answer["high"]] == pytest.approx(ends, abs=tolerance["abs"])
    inputs, expected, tolerance = reference_case("E20")
    answer = asked("yield", **inputs)
    found = [answer["share"], answer["low"], answer["high"]]
    assert found == pytest.approx([expected["fpy"], expected["lo"], expected["hi"]], abs=tolerance["abs"])


@pytest.mark.parametrize("as_flag", [bool, int])
def test_e13_returns(as_flag: type) -> None:
    inputs, expected, tolerance = reference_case("E13")
    fates = [as_flag(event) for event in inputs["event"]]
    answer = asked("returns", days=inputs["time"], returned=fates, at_days=23)
    assert [row["day"] for row in answer["table"]] == expected["t"]
    assert [row["survival"] for row in answer["table"]] == pytest.approx(expected["S"], abs=tolerance["abs"])
    assert [row["se"] for row in answer["table"]] == pytest.approx(expected["se"], abs=tolerance["abs"])
    assert answer["survival"] == pytest.approx(expected["S"][-1], abs=tolerance["abs"])
    assert answer["return_rate"] == 1 - answer["survival"]
    assert answer["low"] < answer["survival"] < answer["high"]


def test_e15_the_sleep_data() -> None:
    inputs, expected, tolerance = reference_case("E15")
    answer = asked("paired", **inputs)
    found = [answer["mean_difference"], answer["t"], answer["df"], answer["p"]]
    wanted = [expected["mean_diff"], expected["t"], expected["df"], expected["p"]]
    assert found == pytest.approx(wanted, rel=tolerance["rel"])
    assert answer["p_signed_rank"] == 2 / 2**9


def test_e18_the_cheapest_soak() -> None:
    inputs, expected, tolerance = reference_case("E18")
    costs = {"cost_return": inputs["c_return"], "cost_hour": inputs["c_hour"]}
    answer = asked("latent", p_latent=inputs["p0"], mean_h=inputs["td_h"], factor=1, soak_h=8, target=0.01, **costs)
    assert answer["best_h"] == pytest.approx(expected["h_star"], rel=tolerance["rel"])
    again = asked("latent", p_latent=inputs["p0"], mean_h=inputs["td_h"], factor=1, soak_h=answer["hours_for_target"])
    assert again["p_after"] == pytest.approx(0.01)
    assert set(again) == {"p_after", "p_caught", "why"}


def test_a_soak_is_told_without_a_life() -> None:
    answer = asked("soak-evidence", hours=8, units=1, failures=0, soak_c=60, use_c=35, ea_ev=0.7, confidence=0.9)
    assert answer["mtbf_lower_h"] == pytest.approx(25.1, abs=0.05)
    assert answer["equivalent_low_h"] < answer["equivalent_h"] <= answer["equivalent_high_h"]
    assert answer["why"].endswith("A soak screens, it proves no life.")


def test_drift_is_computed_but_not_told_from_few_readings() -> None:
    answer = asked("drift", hours=[1, 2, 3, 4, 5], values=[2, 4, 5, 4, 5])
    assert answer["slope_per_h"] == pytest.approx(0.6)
    assert answer["p"] == pytest.approx(0.124027, abs=1e-6)
    assert answer["why"] == "5 readings: too few to say whether the value drifts."


def test_changed_pairs() -> None:
    answer = asked("mcnemar", b=121, c=59)
    assert answer["chi2"] == pytest.approx(21.35, abs=0.01)
    assert answer["p_exact"] == pytest.approx(4.434e-6, rel=1e-3)


@pytest.mark.parametrize(
    ("compute", "fields", "why"),
    [
        ("zero-failure", {"confidence": 0.9}, "either reliability or n"),
        ("zero-failure", {"confidence": 0.9, "reliability": 0.9, "n": 2}, "either reliability or n"),
        ("zero-failure", {"confidence": 0.9, "n": 0}, "show nothing"),
        ("acceleration", {"model": "arrhenius", "ea_ev": 0.7, "use_c": 25}, "arrhenius needs stress_c"),
        (
            "acceleration",
            {"model": "coffin-manson", "use_dt": 40, "stress_dt": 100, "exponent": 2, "ea_ev": 1},
            "coffin-manson has no use for ea_ev",
        ),
        (
            "latent",
            {"p_latent": 0.1, "mean_h": 6, "factor": 1, "soak_h": 8, "cost_return": 400},
            "cost_return and cost_hour go together",
        ),
        ("returns", {"days": [1, 2], "returned": [2, 0], "at_days": 1}, "returned value 1 has to be"),
        ("returns", {"days": [1, 2], "returned": [1], "at_days": 1}, "each unit has both"),
        ("drift", {"hours": [1, 1, 1], "values": [1, 2, 3]}, "same time"),
        ("rate-bound", {"failures": 1.5, "hours": 10, "confidence": 0.9}, "whole number"),
        ("paired", {"before": [1, 2], "after": [1, 2, 3]}, "needs its pair"),
    ],
)
def test_what_cannot_be_computed_is_refused_with_a_reason(compute: str, fields: dict[str, Any], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        ask(compute, fields)


def examples() -> Iterator[tuple[str, dict[str, Any]]]:
    yield "rate-bound", {"failures": 0, "hours": 10, "confidence": 0.9}
    yield "zero-failure", {"confidence": 0.9, "n": 22}
    yield "acceleration", {"model": "arrhenius", "ea_ev": 0.7, "use_c": 35, "stress_c": 60}
    fields = {"hours": 8, "units": 1, "failures": 0, "soak_c": 60, "use_c": 35, "ea_ev": 0.7, "confidence": 0.9}
    yield "soak-evidence", fields
    screen = {"p_latent": 0.08, "mean_h": 60, "factor": 10, "soak_h": 8, "target": 0.01}
    yield "latent", {**screen, "cost_return": 400, "cost_hour": 1.5}
    yield "drift", {"hours": [1, 2, 3], "values": [1, 2, 4]}
    yield "cusum", {"values": [1, 2, 3], "target": 1, "k": 0.5, "h": 5}
    yield "yield", {"k": 46, "n": 50, "level": 0.95}
    yield "returns", {"days": [1, 2], "returned": [True, False], "at_days": 1}
    yield "paired", {"before": [1, 2], "after": [1, 3]}
    yield "mcnemar", {"b": 1, "c": 4}


@pytest.mark.parametrize(("compute", "fields"), list(examples()))
def test_the_answers_are_those_that_the_help_promises(compute: str, fields: dict[str, Any]) -> None:
    promised = {name.removesuffix("?") for name in COMPUTES[compute].answers}
    assert set(ask(compute, fields)) == promised


def test_every_computation_has_its_example() -> None:
    assert [compute for compute, _fields in examples()] == list(COMPUTES)


def test_what_is_infinite_is_null() -> None:
    answer = ask("drift", {"hours": [0, 1, 2, 3], "values": [1, 2, 3, 4]})
    assert (answer["t"], answer["p"]) == (None, 0)
    assert ask("returns", {"days": [1], "returned": [True], "at_days": 2})["se"] is None
