"""How many came back, when most are still out?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.chi_square import chi_square_tail
from passcheck.judge.returns import back_of_1000, log_rank, returns_sentence, survival, survival_at

UNITS = st.lists(st.tuples(st.integers(0, 40).map(float), st.booleans()), min_size=1, max_size=40)


def test_e13_the_textbook_curve() -> None:
    inputs, expected, tolerance = reference_case("E13")
    rows = survival(inputs["time"], inputs["event"]).rows
    assert [row.day for row in rows] == expected["t"]
    assert [row.survival for row in rows] == pytest.approx(expected["S"], abs=tolerance["abs"])
    assert [row.se for row in rows] == pytest.approx(expected["se"], abs=tolerance["abs"])


def test_the_interval_is_the_published_one_on_the_log_log_scale() -> None:
    inputs, _expected, _tolerance = reference_case("E13")
    found = survival_at(survival(inputs["time"], inputs["event"]), 10)
    assert found.survival == pytest.approx(0.7529, abs=5e-5)
    # As R's survfit gives it for this arm with conf.type "log-log".
    assert found.low == pytest.approx(0.5032, abs=5e-4)
    assert found.high == pytest.approx(0.8894, abs=5e-4)


def test_a_return_on_the_day_of_a_censoring_comes_first() -> None:
    rows = survival([10, 10], [True, False]).rows
    assert (rows[0].at_risk, rows[0].survival) == (2, 0.5)


@given(UNITS, st.randoms(use_true_random=False))
def test_the_order_of_the_units_changes_nothing(units: list[tuple[float, bool]], shuffle: object) -> None:
    mixed = list(units)
    shuffle.shuffle(mixed)  # type: ignore[attr-defined]
    assert survival(*zip(*mixed, strict=True)) == survival(*zip(*units, strict=True))


@given(UNITS)
def test_without_units_still_out_the_curve_is_the_plain_share(units: list[tuple[float, bool]]) -> None:
    days = [day for day, _back in units]
    for row in survival(days, [True] * len(days)).rows:
        still_out = sum(day > row.day for day in days) / len(days)
        assert row.survival == pytest.approx(still_out, abs=1e-12)
        if row.se is not None:
            assert row.se == pytest.approx(math.sqrt(still_out * (1 - still_out) / len(days)), abs=1e-12)


@given(UNITS)
def test_returned_over_shipped_is_never_more_than_the_curve_says(units: list[tuple[float, bool]]) -> None:
    curve = survival(*zip(*units, strict=True))
    naive = sum(back for _day, back in units) / len(units)
    assert 1 - survival_at(curve, curve.followed_days).survival >= naive - 1e-12


@given(UNITS, st.floats(0, 40))
def test_the_interval_holds_the_value_and_stays_within_bounds(units: list[tuple[float, bool]], day: float) -> None:
    curve = survival(*zip(*units, strict=True))
    found = survival_at(curve, day)
    if found.low is not None and found.high is not None:
        assert 0 <= found.low <= found.survival <= found.high <= 1


def test_before_the_first_return_all_are_out_and_no_interval_is_stated() -> None:
    found = survival_at(survival([5, 9, 9], [True, False, False]), 4)
    assert (found.survival, found.se, found.low, found.high) == (1, 0, None, None)


def test_once_all_are_back_nothing_is_left_to_estimate() -> None:
    found = survival_at(survival([5, 9], [True, True]), 100)
    assert (found.survival, found.se, found.low) == (0, None, None)
    assert found.is_followed


def test_beyond_the_oldest_unit_it_is_said_that_more_may_come() -> None:
    curve = survival([5, 90], [True, False])
    assert survival_at(curve, 90).is_followed
    found = survival_at(curve, 365)
    assert (found.survival, found.is_followed) == (0.5, False)
    assert returns_sentence(curve, found) == (
        "1 of 2 units came back; units still out are counted up to their age, and none has been out for 365 days: "
        "more may come back by then."
    )


def test_what_is_known_is_told_in_counts() -> None:
    curve = survival([5, 90, 90, 90, 100], [True, False, False, False, False])
    assert returns_sentence(curve, survival_at(curve, 30)) == (
        "1 of 5 units came back; units still out are counted up to their age: by day 30 about 200 of 1000 are back."
    )


@pytest.mark.parametrize(
    ("times", "told"),
    [(1, "400"), (20, "430"), (2000, "430")],
    ids=["7 units tell hundreds", "140 units tell tens", "14000 units tell no more: two digits are enough"],
)
def test_the_share_is_told_no_finer_than_so_many_units_can_carry(times: int, told: str) -> None:
    curve = survival([5.0, 5.0, 5.0, 90.0, 90.0, 90.0, 90.0] * times, [True, True, True, *[False] * 4] * times)
    assert f"about {told} of 1000 are back" in returns_sentence(curve, survival_at(curve, 30))


@given(UNITS)
def test_some_are_never_told_as_none_or_as_all(units: list[tuple[float, bool]]) -> None:
    curve = survival(*zip(*units, strict=True))
    found = survival_at(curve, curve.followed_days)
    assert (back_of_1000(found) == "0") == (found.survival == 1)
    assert (back_of_1000(found) == "1000") == (found.survival == 0)


def test_what_is_no_history_is_refused() -> None:
    for days, back in (([], []), ([1.0], []), ([-1.0], [True]), ([math.nan], [True])):
        with pytest.raises(ValueError, match="each unit has both"):
            survival(days, back)
    for day, level in ((-1.0, 0.95), (math.inf, 0.95), (1.0, 0.0), (1.0, 1.0), (1.0, 1.5)):
        with pytest.raises(ValueError, match="an age of 0 days"):
            survival_at(survival([1.0], [True]), day, level)


def test_a_unit_that_never_left_and_the_day_it_left_are_ages_too() -> None:
    curve = survival([0.0, 5.0], [True, False])
    assert survival_at(curve, 0.0).survival == 0.5


def test_five_returns_in_each_period_are_enough_and_the_last_unit_out_adds_nothing() -> None:
    early, late = [1.0, 2.0, 3.0, 4.0, 5.0], [6.0, 7.0, 8.0, 9.0, 10.0]
    assert log_rank((early, late), ([True] * 5, [True] * 5)) == pytest.approx(
        0.00184194, rel=1e-5
    )  # another implementation's figure


def test_two_periods_are_compared_by_the_log_rank_test() -> None:
    inputs, _expected, _tolerance = reference_case("E13")
    placebo = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23]
    p = log_rank((inputs["time"], placebo), (inputs["event"], [True] * 21))
    assert p == pytest.approx(4.17e-5, rel=0.005)  # chi-square 16.79, as published for this trial
    same = log_rank((placebo, placebo), ([True] * 21, [True] * 21))
    assert same == 1


def test_periods_with_few_returns_are_not_compared() -> None:
    with pytest.raises(ValueError, match="fewer than 5 returns"):
        log_rank(([1] * 4, [1] * 9), ([True] * 4, [True] * 9))


HISTORY = st.lists(st.tuples(st.integers(0, 9).map(float), st.booleans()), max_size=20)


@given(HISTORY, HISTORY)
def test_the_log_rank_test_is_the_sum_over_every_age_at_which_somebody_came_back(
    early: list[tuple[float, bool]], late: list[tuple[float, bool]]
) -> None:
    halves = ([*early, *[(3.0, True)] * 5], [*late, *[(4.0, True)] * 5])
    excess = variance = 0.0
    for age in {day for half in halves for day, back in half if back}:
        at_risk = [sum(day >= age for day, _back in half) for half in halves]
        d = sum((day, back) == (age, True) for half in halves for day, back in half)
        n = sum(at_risk)
        excess += sum((day, back) == (age, True) for day, back in halves[0]) - d * at_risk[0] / n
        variance += d * at_risk[0] * at_risk[1] * (n - d) / (n * n * (n - 1)) if n > 1 else 0.0
    expected = chi_square_tail(excess**2 / variance, 1) if variance else 1.0
    days, came_back = zip(*(zip(*half, strict=True) for half in halves), strict=True)
    assert log_rank(days, came_back) == pytest.approx(expected, abs=1e-12)
