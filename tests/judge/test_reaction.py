"""Is a reference block one that a person can have tapped?"""

import pytest
from reference_cases import reference_case

from passcheck.judge.reaction import age_difference_s, hardware_delay_s, is_plausible


def test_b11_the_published_figures() -> None:
    inputs, expected, tolerance = reference_case("B11")
    assert 1000 * hardware_delay_s() == pytest.approx(expected["hardware_delay_ms"], abs=tolerance["abs"])
    assert 1000 * age_difference_s(*inputs["ages"]) == pytest.approx(
        expected["age_difference_ms"], abs=tolerance["abs"]
    )


@pytest.mark.parametrize(("middle_s", "plausible"), [(0.199, False), (0.201, True), (0.449, True), (0.451, False)])
def test_reactions_lie_between_150_and_400_ms(middle_s: float, plausible: bool) -> None:
    assert is_plausible([0.1, middle_s, 0.9], 0.050) is plausible


def test_an_empty_block_shows_nothing() -> None:
    with pytest.raises(ValueError, match="empty"):
        is_plausible([], 0.05)
