"""Does a decision follow from the probability of conformity, and never get surer by measuring worse?"""

import math
from decimal import Decimal

from hypothesis import assume, given
from hypothesis import strategies as st

from passcheck.judge.conformity import guarded, is_narrow, probability_inside
from passcheck.judge.limits import Limits, parse_limits

RAIL = parse_limits("4.85 V .. 5.15 V")
RIPPLE = parse_limits("at most 60 mV")
SUREST_FIRST = ("pass", "in doubt", "fail")


def test_exactly_at_one_limit_the_odds_are_even_and_nothing_is_decided() -> None:
    assert probability_inside(Decimal("0.060"), 0.002, RIPPLE) == 0.5
    assert guarded(Decimal("0.060"), 0.002, RIPPLE) == "in doubt"


def test_the_guard_band_is_1_645_standard_uncertainties() -> None:
    assert guarded(Decimal("0.060") - Decimal("0.001646"), 0.001, RIPPLE) == "pass"
    assert guarded(Decimal("0.060") - Decimal("0.001644"), 0.001, RIPPLE) == "in doubt"
    assert guarded(Decimal("0.060") + Decimal("0.001644"), 0.001, RIPPLE) == "in doubt"
    assert guarded(Decimal("0.060") + Decimal("0.001646"), 0.001, RIPPLE) == "fail"


def test_few_degrees_of_freedom_widen_the_guard_band() -> None:
    value = Decimal("0.058")
    assert guarded(value, 0.001, RIPPLE) == "pass"
    assert guarded(value, 0.001, RIPPLE, nu=1) == "in doubt"


def test_limits_narrower_than_3_92_u_pass_nothing_and_fail_only_what_is_clearly_beyond() -> None:
    assert is_narrow(0.0766, RAIL)
    assert not is_narrow(0.0765, RAIL)
    assert guarded(Decimal("5.00"), 0.0766, RAIL) == "in doubt"
    assert guarded(Decimal("5.16"), 10.0, RAIL) == "in doubt"
    assert guarded(Decimal("50"), 10.0, RAIL) == "fail"


def test_an_exact_number_is_decided_at_once() -> None:
    assert guarded(Decimal("5.15"), 0.0, RAIL) == "pass"
    assert guarded(Decimal("5.1501"), 0.0, RAIL) == "fail"


@given(
    st.decimals(4, 6, places=3),
    st.floats(1e-4, 1.0),
    st.floats(1.0, 50.0),
    st.sampled_from([math.inf, 1.0, 4.0, 30.0]),
    st.sampled_from([RAIL, parse_limits("at most 5.15 V"), parse_limits("at least 4.85 V")]),
)
def test_measuring_worse_never_makes_a_verdict_surer(
    value: Decimal, u: float, worse: float, nu: float, limits: Limits
) -> None:
    fine, coarse = guarded(value, u, limits, nu), guarded(value, u * worse, limits, nu)
    assert coarse in {fine, "in doubt"}
    if limits.holds(value):
        assert probability_inside(value, u * worse, limits, nu) <= probability_inside(value, u, limits, nu) + 1e-12


@given(st.decimals(4, 6, places=3), st.floats(1e-4, 1.0))
def test_pass_and_fail_stand_on_their_own_side_of_the_limit(value: Decimal, u: float) -> None:
    verdict = guarded(value, u, RAIL)
    assume(verdict != "in doubt")
    assert (verdict == "pass") is RAIL.holds(value)
