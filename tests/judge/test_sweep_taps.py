"""Is a hesitation told from the scatter of a hand?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.sweep_taps import FAMILY_ALPHA, confirmed_segment, ratio_sds, speed_deg_s, sweep_by_taps


def test_d01_the_floor_of_the_ratios() -> None:
    inputs, expected, tolerance = reference_case("D01")
    segments, segment_s = inputs["m"], inputs["segment_s"]
    end, inner, same, last = ratio_sds(segments, segment_s, inputs["s_tap_s"])
    assert (inner, end) == pytest.approx((expected["sd_interior"], expected["sd_end"]), rel=tolerance["rel"])
    assert (same, last) == (inner, end)
    smooth = sweep_by_taps([k * segment_s for k in range(segments + 1)], inputs["s_tap_s"], inputs["family_alpha"])
    assert smooth.threshold_z == pytest.approx(expected["z_bonferroni"], rel=tolerance["rel"])
    assert smooth.threshold_z * inner == pytest.approx(expected["threshold_interior"], rel=tolerance["rel"])
    assert smooth.floor_s == pytest.approx(expected["threshold_interior"] * segment_s, rel=tolerance["rel"])
    assert not smooth.hesitation


def test_d02_the_third_segment_hesitates() -> None:
    inputs, expected, tolerance = reference_case("D02")
    found = sweep_by_taps(inputs["taps_s"], inputs["s_tap_s"], inputs["family_alpha"])
    assert found.total_s == pytest.approx(expected["total_s"])
    assert found.u_total_s == pytest.approx(expected["u_total_s"], rel=tolerance["rel"])
    assert found.ratios == pytest.approx(expected["ratios"], rel=tolerance["rel"])
    assert found.z == pytest.approx(expected["z"], rel=tolerance["rel"])
    assert (found.segment, found.hesitation) == (expected["max_abs_z_segment"], expected["hesitation"])
    assert found.max_abs_z == pytest.approx(5.545, rel=tolerance["rel"])
    assert sum(found.ratios) == pytest.approx(4)


def test_d07_speed_over_270_degrees() -> None:
    inputs, expected, tolerance = reference_case("D07")
    speed, u = speed_deg_s(inputs["angle_deg"], inputs["total_s"], inputs["s_tap_s"] * 2**0.5)
    assert (speed, u) == pytest.approx((expected["speed_deg_s"], expected["u"]), rel=tolerance["rel"])
    assert speed_deg_s(-90, 2, 0.1) == (-45, 2.25)


def test_unequal_arcs_are_made_comparable() -> None:
    found = sweep_by_taps([0, 0.5, 1.5, 2.0], 0.03, arcs=[45, 90, 45])
    assert found.ratios == pytest.approx([1, 1, 1])
    assert not found.hesitation
    assert sweep_by_taps([0, 0.5, 1.5, 2.0], 0.03).hesitation


def test_short_segments_are_below_what_taps_show() -> None:
    assert sweep_by_taps([0, 0.24, 0.48], 0.03).too_quick
    assert not sweep_by_taps([0, 0.26, 0.52], 0.03).too_quick


def test_two_segments_are_both_ends() -> None:
    found = sweep_by_taps([0, 1.0, 2.0], 0.03)
    assert found.floor_s == pytest.approx(found.threshold_z * 0.03 * (0.25 + 1 + 0.25) ** 0.5)


def test_the_same_segment_twice_of_three_is_confirmed() -> None:
    assert confirmed_segment([3, None, 3]) == 3
    assert confirmed_segment([3, 2, None]) is None
    assert confirmed_segment([None, None, None]) is None
    assert confirmed_segment([]) is None
    assert confirmed_segment([3, 3, None, 2, 1]) is None


@given(st.lists(st.floats(0.3, 3), min_size=2, max_size=9), st.floats(0.2, 5), st.floats(-9, 9))
def test_another_unit_of_time_changes_no_verdict(gaps: list[float], factor: float, start: float) -> None:
    taps = [sum(gaps[:k]) for k in range(len(gaps) + 1)]
    plain = sweep_by_taps(taps, 0.03)
    other = sweep_by_taps([start + factor * time for time in taps], 0.03 * factor)
    assert other.z == pytest.approx(plain.z, rel=1e-6, abs=1e-6)
    assert other.floor_s == pytest.approx(factor * plain.floor_s)


@given(st.lists(st.floats(0.3, 3), min_size=2, max_size=9), st.floats(1, 5))
def test_a_shakier_hand_never_finds_more(gaps: list[float], shakier: float) -> None:
    taps = [sum(gaps[:k]) for k in range(len(gaps) + 1)]
    if sweep_by_taps(taps, 0.03 * shakier).hesitation:
        assert sweep_by_taps(taps, 0.03).hesitation


@pytest.mark.parametrize("taps", [[0, 1], [0, 1, 1], [0, 2, 1], [0, 1, float("inf")]])
def test_taps_that_are_no_sweep_are_refused(taps: list[float]) -> None:
    with pytest.raises(ValueError, match="3 marks"):
        sweep_by_taps(taps, 0.03)


def test_nonsense_is_refused() -> None:
    with pytest.raises(ValueError, match="tap noise"):
        sweep_by_taps([0, 1, 2], 0)
    with pytest.raises(ValueError, match="alpha"):
        sweep_by_taps([0, 1, 2], 0.03, 1.0)
    with pytest.raises(ValueError, match="as many arcs"):
        sweep_by_taps([0, 1, 2], 0.03, arcs=[45])
    with pytest.raises(ValueError, match="above 0 s"):
        speed_deg_s(270, 0, 0.1)


def test_the_edges_of_what_can_be_told() -> None:
    assert (FAMILY_ALPHA, confirmed_segment([3, 3, 2]), confirmed_segment([2, 3, 3])) == (0.01, 3, 3)
    assert confirmed_segment([3, None, None, 3]) is None
    assert speed_deg_s(1, 0.5, 0.1) == (2, 0.4)
    assert sweep_by_taps([0, 0.25, 0.5], 0.03).too_quick is False
    assert sweep_by_taps([0, 0.5, 1.5], 0.03, arcs=[0.25, 0.5]).ratios == pytest.approx([1, 1])
    for arcs in ([0, 1], [1, float("inf")]):
        with pytest.raises(ValueError, match="as many arcs"):
            sweep_by_taps([0, 1, 2], 0.03, arcs=arcs)
    for noise_s, alpha in ((float("inf"), 0.01), (0.03, 0.0)):
        with pytest.raises(ValueError, match="tap noise"):
            sweep_by_taps([0, 1, 2], noise_s, alpha)
