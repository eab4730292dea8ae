"""What is said of margins that run toward a limit?"""

from collections.abc import Sequence

import pytest
from counted import COUNTED, MONTHS, PANEL, RAIL, RIPPLE, THERMOSTAT, margin
from hypothesis import given
from hypothesis import strategies as st

from passcheck.job.counts import Counts, MonthMargins
from passcheck.job.figure import Course
from passcheck.job.figure_margins import margins_figure
from passcheck.job.figure_months import month_number, month_text
from passcheck.job.margin_month import mean_interval


def trend(months: Sequence[MonthMargins]) -> str:
    return margins_figure(Counts(1, 1, margins=tuple(months)), PANEL, None).rows[0][-1]


def falling(count: int, units: int = 5) -> list[MonthMargins]:
    wobbles = (0.01, -0.01, 0.0) * 4
    return [margin(RIPPLE, MONTHS[at], units, 0.6 - 0.04 * at + wobbles[at], 0.04) for at in range(count)]


def test_what_lies_nearest_to_its_limit_is_on_top() -> None:
    # The last month of the ripple: mean 0.16, s = 0.04 sqrt(5/4) = 0.0447, t(4) = 2.776: +- 0.0555.
    assert margins_figure(COUNTED, None, None).rows == (
        (PANEL, RIPPLE[1], "2032-03", "5", "16 % (10 to 22 %)", "8", "-4"),
        (THERMOSTAT, "Sensor at 25 °C", "2031-09", "1", "40 %", "40", "too few"),
        (PANEL, RAIL[1], "2031-11", "4", "69 % (63 to 75 %)", "62", "none"),
    )


def test_a_trend_is_told_in_a_sentence_with_its_interval_and_without_a_cause() -> None:
    words = margins_figure(COUNTED, None, None).words
    assert words[0].startswith(
        f"{PANEL} {RIPPLE[1]}: the margin creeps toward the limit by 4 percentage points a month"
    )
    assert words[1].startswith("Looked at: 2 of 3 steps;")
    assert any("A trend is not a cause." in one for one in words)


def test_under_six_months_or_three_units_a_month_nothing_is_said() -> None:
    assert trend(falling(6)).startswith("-")
    assert trend(falling(5)) == "too few"
    assert trend(falling(12, units=2)) == "too few"
    words = margins_figure(Counts(1, 1, margins=tuple(falling(5))), PANEL, None).words
    assert words[0].startswith("No statement on trends yet: a trend asks for 6 months with 3 units each")


def test_a_margin_that_grows_creeps_away() -> None:
    assert trend([margin(RIPPLE, one.month, 5, 1 - one.mean, 0.04) for one in falling(8)]).startswith("+")


def wobbling(step: tuple[str, str]) -> list[MonthMargins]:
    """Six months of a slope of -0.012 whose error is 0.0028: a t of 4.3."""
    return [
        margin(step, MONTHS[at], 5, 0.6 - 0.01 * at + (0.014, -0.01, -0.004)[at % 3], 0.04) for at in range(6)
    ]  # fmt: skip


def test_what_one_step_alone_would_show_may_be_chance_among_many() -> None:
    # With 4 degrees of freedom one step asks for a t of 2.8, one of forty for 8.1.
    assert trend(wobbling(RIPPLE)).startswith("-")
    assert trend([one for step in range(40) for one in wobbling((f"s{step}", f"Step {step}"))]) == "none"


def test_one_unit_has_no_scatter_and_so_no_interval() -> None:
    assert mean_interval(margin(RAIL, "2031-04", 1, 0.5, 0.0)) is None
    # Two units 0.4 and 0.6: s = 0.1414, t(1) = 12.706, s / sqrt(2) = 0.1: 0.5 +- 1.2706.
    assert mean_interval(margin(RAIL, "2031-04", 2, 0.5, 0.1)) == pytest.approx((-0.7706, 1.7706), abs=1e-3)


def test_each_course_stands_in_the_order_of_the_rows_with_the_limit_as_its_line() -> None:
    made = margins_figure(COUNTED, None, None)
    assert made.apart
    courses = [one for one in made.plots if isinstance(one, Course)]
    assert [one.name.split(" ", 1)[1] for one in courses] == [row[1] for row in made.rows]
    assert {one.line for one in courses} == {0.0}
    assert courses[0].x_labels[0] == (month_number("2031-04"), "2031-04")


@given(st.lists(st.floats(-1, 1), min_size=2, max_size=30))
def test_the_interval_of_a_mean_holds_it(values: list[float]) -> None:
    mean = sum(values) / len(values)
    square_mean = sum(value**2 for value in values) / len(values)
    low, high = mean_interval(MonthMargins(PANEL, *RAIL, "2031-04", len(values), mean, square_mean, 0.0)) or (1, 0)
    assert low <= mean <= high


@given(st.integers(1, 9999 * 12))
def test_a_month_and_its_number_are_one_thing(number: int) -> None:
    assert month_number(month_text(number)) == number
