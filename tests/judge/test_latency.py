"""Does film give the latency of a bench with its honest uncertainty?"""

import math

import pytest

from passcheck.judge.latency import UNMEASURED, filmed_latency


def test_twelve_frames_at_240_are_50_ms() -> None:
    found = filmed_latency([12], 240)
    assert found.value_s == pytest.approx(0.050)
    assert found.u_s == pytest.approx(0.0017, abs=5e-5)
    assert found.measured


def test_five_clips_give_mean_and_spread() -> None:
    found = filmed_latency([10, 12, 14, 11, 13], 240)
    assert found.value_s == pytest.approx(0.050)
    spread = math.sqrt(2.5) / 240 / math.sqrt(5)
    assert found.u_s == pytest.approx(math.hypot(spread, 1 / (240 * math.sqrt(6))))


def test_clips_that_agree_are_no_surer_than_one() -> None:
    assert filmed_latency([12] * 5, 240).u_s == pytest.approx(filmed_latency([12], 240).u_s)


def test_an_unmeasured_latency_is_wide() -> None:
    assert (UNMEASURED.value_s, UNMEASURED.u_s, UNMEASURED.measured) == (0.115, 0.049, False)
    assert UNMEASURED.u_s == pytest.approx((0.2 - 0.03) / 2 / math.sqrt(3), abs=5e-4)


@pytest.mark.parametrize(("frames", "fps"), [([], 240), ([-1], 240), ([12], 0), ([math.nan], 240), ([12], math.inf)])
def test_what_is_no_film_is_refused(frames: list[float], fps: float) -> None:
    with pytest.raises(ValueError, match="frames"):
        filmed_latency(frames, fps)


def test_a_change_within_the_same_frame_is_no_frame_late() -> None:
    assert filmed_latency([0], 240).value_s == 0.0
    assert filmed_latency([0.5], 0.5).value_s == 1.0
    with pytest.raises(ValueError, match="frames"):
        filmed_latency([math.inf], 240)
