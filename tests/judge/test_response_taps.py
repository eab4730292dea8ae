"""Does the sequential rule decide what taps can decide, and nothing more?"""

import random  # noqa: TID251 - the type of what hypothesis shuffles with
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.blink import FEWEST_TAPS, LOCKING_IN
from passcheck.judge.latency import CLIPS_WANTED, UNMEASURED, Latency
from passcheck.judge.response_taps import (
    FEWEST_REFERENCE,
    INFLATION,
    LOOK_SHARE,
    LOOKS,
    U_MODEL_LEARNING_MEASURED_S,
    U_MODEL_S,
    TapFinding,
    decide_by_taps,
    learned_s,
    stray_trials_forbid_a_pass,
    tap_delay,
)
from passcheck.judge.student import student_quantile

REFERENCE: list[float] = reference_case("B03")[0]["ref_minus_programmed_s"]
MEASURED = Latency(0.0583, 0.0017)
trial = st.floats(0.3, 1.0)
order = {"pass": 0, "more trials": 1, "in doubt": 1, "fail": 2}


def decided(*trials: float | None, limit_s: float = 0.5, u_model_s: float = 0.012) -> TapFinding:
    return decide_by_taps(trials, REFERENCE, MEASURED, limit_s, u_model_s)


def tapped(delay_s: float) -> float:
    """What a steady hand taps at a unit that answers after this delay."""
    return delay_s + statistics.median(REFERENCE) - MEASURED.value_s


def test_b03_the_first_look_passes_with_the_expected_intermediates() -> None:
    inputs, expected, tolerance = reference_case("B03")
    finding = decided(*inputs["unit_taps_s"])
    delay = finding.delay
    assert delay is not None
    assert finding.verdict == expected["decision"]
    assert delay.delay_s == pytest.approx(expected["D_hat_s"], abs=tolerance["D_hat_s"])
    assert delay.scale_s == pytest.approx(expected["s_w_s"], abs=tolerance["u_s"])
    assert delay.u_s == pytest.approx(expected["u_s"], abs=tolerance["u_s"])
    assert delay.nu == pytest.approx(expected["nu"], abs=0.05)
    assert delay.k == pytest.approx(expected["k"], abs=tolerance["k"])
    assert delay.high_s == pytest.approx(expected["upper_s"], abs=tolerance["bounds_s"])
    assert delay.low_s == pytest.approx(expected["lower_s"], abs=tolerance["bounds_s"])
    assert delay.end_k == pytest.approx(student_quantile(0.975, delay.nu))


@pytest.mark.parametrize("count", [1, 2, 4, 6, 7])
def test_between_the_looks_more_trials_are_needed(count: int) -> None:
    assert decided(*[tapped(0.2)] * count).verdict == "more trials"
    assert decided(*[tapped(0.9)] * count).verdict == "more trials"


@pytest.mark.parametrize("count", [3, 5, 8, 9, 24])
def test_a_quick_unit_passes_at_every_look(count: int) -> None:
    assert decided(*[tapped(0.3)] * count).verdict == "pass"


def test_no_unit_fails_before_the_second_look() -> None:
    assert decided(*[tapped(0.9)] * 3).verdict == "more trials"
    assert decided(*[tapped(0.9)] * 5).verdict == "fail"


def test_a_unit_at_its_limit_is_in_doubt_in_the_end() -> None:
    assert decided(*[tapped(0.5)] * 3).verdict == "more trials"
    assert decided(*[tapped(0.5)] * 8).verdict == "in doubt"
    assert decided(*[tapped(0.5)] * 16).verdict == "in doubt"


def test_b10_a_missing_response_fails_whatever_the_others_say() -> None:
    finding = decided(0.045, 0.612, 0.598, None, 0.631, 0.094)
    assert finding.verdict == "fail"
    assert decided(None).verdict == "fail"
    assert decided(*[tapped(0.3)] * 8, 3.0).verdict == "fail"


def test_nothing_but_voids_is_nothing() -> None:
    finding = decided(0.05, 0.02)
    assert (finding.verdict, finding.delay, finding.early, finding.late) == ("more trials", None, 0, 0)
    assert decided().verdict == "more trials"


def test_too_many_voids_begin_the_block_again() -> None:
    assert decided(*[0.05] * 4, *[tapped(0.3)] * 3).verdict == "more trials"
    assert decided(*[0.05] * 3, *[tapped(0.3)] * 3).verdict == "pass"


def test_one_early_tap_bars_a_pass_at_the_first_look_only() -> None:
    early = tapped(0.3) - 0.09
    assert decided(early, tapped(0.3), tapped(0.3)).verdict == "more trials"
    assert decided(early, *[tapped(0.3)] * 4).verdict == "pass"
    assert decided(early, early, *[tapped(0.3)] * 6).verdict == "in doubt"


def test_late_trials_are_counted_and_never_dropped() -> None:
    late = tapped(0.7)
    assert decided(late, *[tapped(0.3)] * 4).verdict == "more trials"
    one, two = decided(late, *[tapped(0.3)] * 7), decided(late, late, *[tapped(0.3)] * 6)
    assert (one.verdict, one.late) == ("pass", 1)
    assert (two.verdict, two.late) == ("in doubt", 2)


@pytest.mark.parametrize(
    ("count", "early", "late", "barred"),
    [
        (3, 0, 0, False), (3, 1, 0, True), (3, 0, 1, True), (5, 1, 0, False), (5, 2, 0, True), (5, 0, 1, True),
        (8, 1, 1, False), (8, 2, 0, True), (8, 0, 2, True), (16, 2, 2, False), (16, 3, 0, True), (16, 0, 3, True),
    ],
)  # fmt: skip
def test_how_many_stray_trials_a_look_bears(count: int, early: int, late: int, barred: bool) -> None:
    assert stray_trials_forbid_a_pass(count, early, late) is barred


def test_a_latency_that_nobody_measured_passes_only_what_is_far_from_the_limit() -> None:
    trials = [tapped(0.3) - UNMEASURED.value_s + MEASURED.value_s] * 8
    wide = decide_by_taps(trials, REFERENCE, UNMEASURED, 0.4)
    assert wide.verdict == "in doubt"
    assert decide_by_taps(trials, REFERENCE, Latency(UNMEASURED.value_s, 0.0017), 0.4).verdict == "pass"


def test_what_was_learned_on_the_unit_is_added_to_the_delay() -> None:
    plain = tap_delay([0.6] * 5, REFERENCE, MEASURED)
    learned = tap_delay([0.6] * 5, REFERENCE, MEASURED, learned_s=0.02)
    assert learned.delay_s == pytest.approx(plain.delay_s + 0.02)
    assert learned_s([each - 0.03 for each in REFERENCE[:5]], REFERENCE[:5]) == pytest.approx(0.03)
    assert learned_s([each + 0.03 for each in REFERENCE], REFERENCE) == 0.0
    with pytest.raises(ValueError, match="5 trials"):
        learned_s(REFERENCE[:4], REFERENCE)


def test_what_was_learned_makes_a_trial_later_too() -> None:
    trials = [tapped(0.57)] * 3
    assert decide_by_taps(trials, REFERENCE, MEASURED, 0.5).late == 0
    assert decide_by_taps(trials, REFERENCE, MEASURED, 0.5, learned_s=0.02).late == 3


def test_the_figures_that_a_bench_goes_by() -> None:
    assert (LOOKS, LOOK_SHARE, INFLATION) == ((3, 5, 8), 0.011, 1.2)
    assert (U_MODEL_S, U_MODEL_LEARNING_MEASURED_S, FEWEST_REFERENCE) == (0.025, 0.012, 15)
    assert (LOCKING_IN, FEWEST_TAPS, CLIPS_WANTED) == (2, 8, 5)


def test_limits_that_taps_cannot_decide_are_refused() -> None:
    with pytest.raises(ValueError, match="instrument"):
        decided(0.3, 0.3, 0.3, limit_s=0.19)
    assert decided(0.3, 0.3, 0.3, limit_s=0.2).delay is not None


def test_no_trial_has_no_delay() -> None:
    with pytest.raises(ValueError, match="at least one"):
        tap_delay([], REFERENCE, MEASURED)


def test_a_reference_without_scatter_still_has_the_other_errors() -> None:
    delay = tap_delay([0.6] * 3, [0.3] * 20, MEASURED, 0.012)
    assert delay.u_s == pytest.approx((0.0017**2 + 0.012**2) ** 0.5)
    assert delay.k == pytest.approx(student_quantile(1 - LOOK_SHARE, 1e9), abs=1e-6)


@given(st.lists(trial, min_size=3, max_size=10), st.randoms(use_true_random=False))
def test_the_order_of_trials_changes_nothing(trials: list[float], shuffled: random.Random) -> None:
    mixed = list(trials)
    shuffled.shuffle(mixed)
    block = sorted(REFERENCE)
    other = decide_by_taps(mixed, block, MEASURED, 0.5, 0.012)
    first = decided(*trials)
    assert (other.verdict, other.early, other.late) == (first.verdict, first.early, first.late)


@given(st.lists(trial, min_size=3, max_size=10), st.floats(0.001, 0.1), st.floats(0.0, 0.1))
def test_less_sure_never_passes_more_nor_fails_more(trials: list[float], u_model_s: float, more: float) -> None:
    sharp = decided(*trials, u_model_s=u_model_s).verdict
    wide = decided(*trials, u_model_s=u_model_s + more).verdict
    assert wide in {sharp, "more trials", "in doubt"}


@given(st.lists(trial, min_size=8, max_size=8), st.floats(0.0, 0.3))
def test_a_slower_unit_is_never_judged_better(trials: list[float], slower: float) -> None:
    before, after = decided(*trials).verdict, decided(*[each + slower for each in trials]).verdict
    assert order[after] >= order[before]
