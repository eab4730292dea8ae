"""Are the reference trials of a run as few as will do, spread around each limit, and checked for the day?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.bench.reference_block import blocks_needed, programmed_delays
from passcheck.job.timed import TimedStep
from passcheck.judge.reference import TRIALS, check_of_the_day, serves

UNIFORMS = st.lists(st.floats(0, 1, exclude_max=True), min_size=2 * TRIALS, max_size=2 * TRIALS)


def test_one_block_serves_every_limit_within_its_delays() -> None:
    [need] = blocks_needed([TimedStep("sw1", 0.5), TimedStep("sw2", 0.6), TimedStep("beep", 0.45)])
    assert need.steps == ("beep", "sw1", "sw2")
    assert need.middle_s == pytest.approx(0.525)
    assert need.why == (
        "20 reference trials for limits of 0.45 s to 0.6 s (beep, sw1, sw2): a hand alone is too slow for them."
    )


def test_a_block_for_half_a_second_is_a_warm_up_of_under_a_minute_and_a_half() -> None:
    [need] = blocks_needed([TimedStep("sw1", 0.5)])
    assert need.middle_s == 0.5
    assert need.expected_s == pytest.approx(50)


def test_a_limit_of_a_second_needs_a_block_only_where_the_hand_alone_left_a_doubt() -> None:
    assert blocks_needed([TimedStep("relay", 1.0), TimedStep("gauge", 3.0)]) == ()
    [need] = blocks_needed([TimedStep("relay", 1.0, in_doubt_by_hand=True)])
    assert "a hand alone left them in doubt" in need.why


def test_no_block_is_walked_for_a_limit_that_taps_never_decide() -> None:
    assert blocks_needed([TimedStep("pulse", 0.19)]) == ()
    assert len(blocks_needed([TimedStep("pulse", 0.2)])) == 1


@given(st.lists(st.floats(0.2, 0.99), min_size=1, max_size=12))
def test_every_limit_is_served_by_the_block_that_names_its_step(limits_s: list[float]) -> None:
    steps = [TimedStep(f"s{place}", limit_s) for place, limit_s in enumerate(limits_s)]
    needs = blocks_needed(steps)
    named = [name for need in needs for name in need.steps]
    assert sorted(named) == sorted(one.step for one in steps)
    for need in needs:
        assert all(serves(need.middle_s, one.limit_s) for one in steps if one.step in need.steps)


@given(UNIFORMS)
def test_delays_are_spread_evenly_within_a_fifth_of_the_middle(uniforms: list[float]) -> None:
    delays = programmed_delays(0.5, uniforms)
    assert delays == programmed_delays(0.5, uniforms)
    slots = sorted(int((delay / 0.5 - 0.8) / 0.4 * TRIALS + 1e-9) for delay in delays)
    assert len(delays) == TRIALS
    assert all(abs(slot - place) <= 1 for place, slot in enumerate(slots))
    assert all(0.4 - 1e-9 <= delay <= 0.6 + 1e-9 for delay in delays)


def test_delays_come_in_no_order_that_a_hand_could_learn() -> None:
    delays = programmed_delays(0.5, [0.5] * TRIALS + [(7 * place % 20) / 20 for place in range(TRIALS)])
    assert list(delays) != sorted(delays)


@pytest.mark.parametrize("uniforms", [[0.5] * 39, [0.5] * 39 + [1.0], [-0.1] + [0.5] * 39])
def test_numbers_that_are_no_draw_are_refused(uniforms: list[float]) -> None:
    with pytest.raises(ValueError, match="40 numbers"):
        programmed_delays(0.5, uniforms)


BLOCK = [0.25 + 0.004 * (place % 7) for place in range(TRIALS)]


def test_the_block_of_the_morning_holds_for_the_same_hand_and_not_for_a_slower_one() -> None:
    same = check_of_the_day(BLOCK, BLOCK[3:8])
    assert same.holds
    slower = check_of_the_day(BLOCK, [each + 0.05 for each in BLOCK[3:8]])
    assert not slower.holds
    assert slower.shift_s == pytest.approx(same.shift_s + 0.05)


def test_four_trials_are_no_check() -> None:
    with pytest.raises(ValueError, match="takes 5 trials"):
        check_of_the_day(BLOCK, BLOCK[:4])
