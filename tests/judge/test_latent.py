"""Does the screen for hidden defects count as it should?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.latent import latent_screen, latent_sentence

SHARES = st.floats(0.001, 0.9)
HOURS = st.floats(0.1, 100)


def test_e18_the_cheapest_hours() -> None:
    inputs, expected, tolerance = reference_case("E18")
    screen = latent_screen(inputs["p0"], inputs["td_h"], 1, 8, costs=(inputs["c_return"], inputs["c_hour"]))
    assert screen.best_h == pytest.approx(expected["h_star"], rel=tolerance["rel"])


@given(SHARES, HOURS, st.floats(1, 20), HOURS)
def test_what_is_left_follows_from_what_was_caught(share: float, mean_h: float, factor: float, soak_h: float) -> None:
    screen = latent_screen(share, mean_h, factor, soak_h)
    left = share * (1 - screen.p_caught)
    assert screen.p_after == pytest.approx(left / (1 - share * screen.p_caught), abs=1e-12)
    assert screen.p_after <= share
    assert (screen.hours_for_target, screen.best_h) == (None, None)


@given(SHARES, HOURS, st.floats(1, 20), SHARES)
def test_the_hours_for_a_target_reach_it(share: float, mean_h: float, factor: float, target: float) -> None:
    hours = latent_screen(share, mean_h, factor, 0, target).hours_for_target
    assert hours is not None
    after = latent_screen(share, mean_h, factor, hours).p_after
    assert after == pytest.approx(min(share, target), rel=1e-9)


@given(SHARES, HOURS, st.floats(10, 1000), st.floats(0.1, 10), st.floats(0, 200))
def test_no_other_soak_is_cheaper(
    share: float, mean_h: float, per_return: float, per_hour: float, other: float
) -> None:
    best = latent_screen(share, mean_h, 1, 0, costs=(per_return, per_hour)).best_h
    assert best is not None

    def cost(hours: float) -> float:
        return per_hour * hours + per_return * share * math.exp(-hours / mean_h)

    assert cost(best) <= cost(other) * (1 + 1e-9)


def test_a_hotter_soak_shows_the_same_in_fewer_hours() -> None:
    cool, hot = latent_screen(0.08, 60, 1, 80, 0.01), latent_screen(0.08, 60, 10, 8, 0.01)
    assert hot.p_after == pytest.approx(cool.p_after)
    assert cool.hours_for_target is not None
    assert hot.hours_for_target == pytest.approx(cool.hours_for_target / 10)


def test_the_sentence_counts_units_and_names_the_assumption() -> None:
    assert latent_sentence(latent_screen(0.08, 6, 1, 8)) == (
        "If 80 of 1000 repairs hide a defect, 22 of 1000 still do after a clean soak of 8 h. "
        "Share and mean time are assumptions unless this shop's own soaks gave them."
    )


@pytest.mark.parametrize("fault", [(1.0, 6, 1, 8), (-0.1, 6, 1, 8), (0.1, 0, 1, 8), (0.1, 6, 0, 8), (0.1, 6, 1, -1)])
def test_what_is_no_screen_is_refused(fault: tuple[float, float, float, float]) -> None:
    with pytest.raises(ValueError, match=r"shares lie between|are above 0"):
        latent_screen(*fault)


def test_a_soak_that_costs_more_than_it_catches_is_not_worth_while() -> None:
    assert latent_screen(0.1, 10, 1, 8, costs=(100, 1)).best_h == 0
    assert latent_screen(0.1, 10, 1, 8, costs=(50, 1)).best_h == 0
    assert latent_screen(0.1, 10, 1, 8, target=0.2).hours_for_target == 0


def test_no_hidden_defects_leave_none() -> None:
    screen = latent_screen(0, 6, 1, 8, target=0.01)
    assert (screen.p_after, screen.hours_for_target) == (0, 0)


def test_a_target_or_costs_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="shares lie between"):
        latent_screen(0.1, 6, 1, 8, target=0)
    with pytest.raises(ValueError, match="shares lie between"):
        latent_screen(0.1, 6, 1, 8, target=1)
    with pytest.raises(ValueError, match="are above 0"):
        latent_screen(0.1, math.inf, 1, 8)
    with pytest.raises(ValueError, match="are above 0"):
        latent_screen(0.1, 6, 1, math.inf)
    with pytest.raises(ValueError, match="are above 0"):
        latent_screen(0.1, 6, 1, 8, costs=(400, 0))
    for mean_h, factor in ((5e-324, 10), (1e300, 1e-300)):
        with pytest.raises(ValueError, match="is no time"):
            latent_screen(0.1, mean_h, factor, 8)
