"""Does a block of reference trials serve a limit, hold for the day, and look like a hand's?"""

import pytest
from tapping import TapHand

from passcheck.bench.reference_block import programmed_delays
from passcheck.bench.timing import ReferenceCourse
from passcheck.judge.latency import UNMEASURED, Latency
from passcheck.judge.reference import can_be_a_hand, serves

FILMED = Latency(0.05, 0.002)


def block(seed: int) -> tuple[float, ...]:
    hand = TapHand(seed)
    return hand.at_our_screen(ReferenceCourse(programmed_delays(0.5, hand.uniforms(40)), 0.5)).beyond_delays_s


def test_a_block_serves_limits_among_its_delays_both_ends_included() -> None:
    assert serves(0.5, 0.4)
    assert serves(0.5, 0.6)
    assert not serves(0.5, 0.39)
    assert not serves(0.5, 0.61)


@pytest.mark.parametrize("latency", [FILMED, UNMEASURED])
def test_a_simulated_hand_is_one_and_a_machine_is_none(latency: Latency) -> None:
    assert all(can_be_a_hand(block(seed), latency) for seed in range(20))
    assert not can_be_a_hand([0.05] * 20, latency)
    assert not can_be_a_hand([0.9] * 20, latency)


def test_an_unknown_latency_allows_whatever_a_hand_at_some_bench_may_show() -> None:
    assert can_be_a_hand([0.55] * 20, UNMEASURED)
    assert not can_be_a_hand([0.55] * 20, FILMED)
    assert can_be_a_hand([0.19] * 20, UNMEASURED)
