"""How fast and how long does a lamp light, counted and timed by hand?"""

import math

import pytest
from reference_cases import reference_case

from passcheck.judge.flash_count import agreed_count, counted_rate, duty, method_for


def test_c05_a_window_on_flashes_is_surer_than_one_anywhere() -> None:
    inputs, expected, tolerance = reference_case("C05")
    given = (inputs["count"], inputs["window_s"], inputs["u_reaction_s"])
    on, anywhere = counted_rate(*given, on_flash=True), counted_rate(*given, on_flash=False)
    assert (on.value, on.u) == pytest.approx((expected["f_sync_Hz"], expected["u_sync_Hz"]), rel=tolerance["rel"])
    wanted = (expected["f_unsync_Hz"], expected["u_unsync_Hz"])
    assert (anywhere.value, anywhere.u) == pytest.approx(wanted, rel=tolerance["rel"])


def test_c09_the_method_follows_the_rate() -> None:
    inputs, expected, _tolerance = reference_case("C09")
    for rate, method in zip(inputs["f_Hz"], expected["method"], strict=True):
        found = method_for(rate)
        assert method in found or found in method or rate == 9.0
    assert [method_for(rate) for rate in (2.4, 2.5, 5.0, 5.1, 8.0, 9.0)] == [
        "tap",
        "count or tap every 2nd",
        "count or tap every 2nd",
        "compare or judge",
        "compare or judge",
        "judge flicker",
    ]


def test_counts_have_to_agree() -> None:
    assert agreed_count(37, 37) == 37
    assert agreed_count(37, 36) is None


def test_the_duty_carries_scatter_and_bias() -> None:
    found = duty([0.48, 0.50, 0.52, 0.50], 1.0)
    assert found.value == pytest.approx(0.5)
    scatter = math.sqrt(0.0008 / 3) / 2
    assert found.u == pytest.approx(math.hypot(scatter, 0.010))
    assert duty([0.5, 0.5], 2.0, 0.02).u == pytest.approx(0.01)


@pytest.mark.parametrize(
    ("on_s", "period_s"),
    [([0.4, 0.4], 0.8), ([0.4], 1.0), ([1.1, 1.2], 1.0), ([-0.1, 0.5], 1.0), ([0.4, 0.4], math.inf)],
)
def test_a_duty_that_a_hand_cannot_tap_is_refused(on_s: list[float], period_s: float) -> None:
    with pytest.raises(ValueError, match=r"duty|lamp"):
        duty(on_s, period_s)


@pytest.mark.parametrize(("count", "window_s", "u"), [(0, 10, 0.05), (37, 0, 0.05), (37, 10, -1)])
def test_nothing_counted_is_no_rate(count: int, window_s: float, u: float) -> None:
    with pytest.raises(ValueError, match="at least 1 flash"):
        counted_rate(count, window_s, u, on_flash=True)


def test_the_edges_of_what_can_be_counted_and_timed() -> None:
    assert counted_rate(1, 0.5, 0, on_flash=True).value == 2.0
    assert counted_rate(1, 0.5, 0, on_flash=True).u == 0.0
    assert (duty([0, 0], 2.0).value, duty([2.0, 2.0], 2.0, 0).value) == (0.0, 1.0)
    assert duty([0.5, 0.5], 2.0).value == 0.25
    for window_s, u in ((math.inf, 0.05), (10.0, math.inf)):
        with pytest.raises(ValueError, match="at least 1 flash"):
            counted_rate(37, window_s, u, on_flash=True)
    with pytest.raises(ValueError, match="lamp"):
        duty([0.5, 0.5], 1.0, -0.1)
