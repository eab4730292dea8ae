"""Do flash rates and duties come through the door as they come out of the functions?"""

import math

import pytest
from door_asked import ask
from reference_cases import reference_case


def test_c02_a_rate_from_twelve_taps() -> None:
    inputs, expected, tolerance = reference_case("C02")
    answer = ask("blink", {"taps_s": inputs["taps_s"]})
    assert answer["period_s"] == pytest.approx(expected["T_s"], rel=tolerance["rel"])
    assert answer["rate_hz"] == pytest.approx(expected["f_Hz"], rel=tolerance["rel"])
    assert answer["u_least_squares_s"] == pytest.approx(expected["u_T_s"], rel=tolerance["rel"])
    floor = expected["resid_sd_s"] * math.sqrt(2) / 11
    assert answer["u_period_s"] == pytest.approx(floor, rel=tolerance["rel"]), "never under the end-to-end error"
    assert answer["u_rate_hz"] == pytest.approx(floor * expected["f_Hz"] ** 2, rel=3 * tolerance["rel"])
    assert (answer["index"], answer["missed"], answer["irregular"]) == (list(range(12)), 0, 0)


def test_gaps_and_slips_are_told() -> None:
    answer = ask("blink", {"taps_s": [0, 1, 2, 2.3, 3, 5, 6, 7, 8, 9]})
    assert answer["index"] == [0, 1, 2, None, 3, 5, 6, 7, 8, 9]
    assert (answer["missed"], answer["irregular"], answer["two_rates"]) == (1, 1, False)


def test_c05_counts() -> None:
    inputs, expected, tolerance = reference_case("C05")
    for on_flash, kind in ((True, "sync"), (False, "unsync")):
        answer = ask("count-rate", {**inputs, "on_flash": on_flash})
        assert answer["rate_hz"] == pytest.approx(expected[f"f_{kind}_Hz"], rel=tolerance["rel"])
        assert answer["u_hz"] == pytest.approx(expected[f"u_{kind}_Hz"], rel=tolerance["rel"])


def test_a_duty() -> None:
    answer = ask("duty", {"on_s": [0.48, 0.5, 0.52, 0.5], "period_s": 1.0, "u_bias_s": 0.01})
    assert answer == {"duty": pytest.approx(0.5), "u": pytest.approx(math.hypot(0.01633 / 2, 0.01), rel=1e-3)}
    with pytest.raises(ValueError, match=r"above 0\.8 s"):
        ask("duty", {"on_s": [0.4, 0.4], "period_s": 0.8, "u_bias_s": 0.01})
