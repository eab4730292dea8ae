"""Do tapped and filmed times come through the door as they come out of the functions?"""

from typing import Any

import pytest
from door_asked import ask
from reference_cases import reference_case

REFERENCE = reference_case("B03")[0]["ref_minus_programmed_s"]


def response(*taps_s: float | None, **more: object) -> dict[str, Any]:
    fields: dict[str, object] = {
        "unit_taps_s": list(taps_s),
        "reference_minus_programmed_s": REFERENCE,
        "latency_s": 0.0583,
        "u_latency_s": 0.0017,
        "u_model_s": 0.012,
        "limit_s": 0.5,
    }
    return ask("response", {**fields, **more})


def test_b03_every_intermediate_of_the_first_look() -> None:
    inputs, expected, tolerance = reference_case("B03")
    answer = response(*inputs["unit_taps_s"])
    assert answer["delay_s"] == pytest.approx(expected["D_hat_s"], abs=tolerance["D_hat_s"])
    assert answer["u_s"] == pytest.approx(expected["u_s"], abs=tolerance["u_s"])
    assert answer["s_w_s"] == pytest.approx(expected["s_w_s"], abs=tolerance["u_s"])
    assert answer["nu"] == pytest.approx(expected["nu"], abs=0.05)
    assert answer["k"] == pytest.approx(expected["k"], abs=tolerance["k"])
    assert answer["low_s"] == pytest.approx(expected["lower_s"], abs=tolerance["bounds_s"])
    assert answer["high_s"] == pytest.approx(expected["upper_s"], abs=tolerance["bounds_s"])
    assert (answer["verdict"], answer["voided"], answer["valid"]) == (expected["decision"], 0, 3)
    assert answer["why"] == "0.43 s ± 0.04 s is inside at most 0.5 s after 3 valid trials."


def test_b10_voids_and_a_missing_response() -> None:
    inputs, expected, _tolerance = reference_case("B10")
    answer = response(*inputs["trials_stop_minus_start_s"])
    assert answer["trials"] == expected["status"]
    assert (answer["verdict"], answer["voided"], answer["unanswered"]) == ("fail", 2, 1)


def test_more_trials_are_asked_for_without_a_number_where_there_is_none() -> None:
    answer = response(0.05)
    assert (answer["verdict"], answer["delay_s"], answer["high_s"]) == ("more trials", None, None)
    assert response(0.6, 0.6)["verdict"] == "more trials"


def test_a_short_limit_wants_an_instrument() -> None:
    with pytest.raises(ValueError, match="can't be decided by taps"):
        response(0.3, 0.3, 0.3, limit_s=0.1)


def test_presses() -> None:
    answer = ask("presses", {"times_s": [0.3, None, 0.6], "limit_s": 0.5, "n": 3})
    assert (answer["in_time"], answer["verdict"]) == (1, "fail")
    answer = ask("presses", {"times_s": [0.3] * 10, "limit_s": 0.5, "n": 10})
    assert (answer["in_time"], answer["verdict"]) == (10, "pass")
    assert ask("presses", {"times_s": [], "limit_s": 0.5, "n": 10})["verdict"] == "more trials"


def test_latency_from_one_clip_and_from_five() -> None:
    one = ask("latency", {"frames": 12, "fps": 240})
    assert (one["latency_s"], one["u_s"]) == (pytest.approx(0.05), pytest.approx(0.0017, abs=5e-5))
    five = ask("latency", {"frames": [10, 12, 14, 11, 13], "fps": 240})
    assert five["latency_s"] == pytest.approx(0.05)
    assert five["u_s"] > one["u_s"]
