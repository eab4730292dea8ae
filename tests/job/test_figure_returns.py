"""What is said of units that came back, when most are still out?"""

import re

import pytest
from counted import COUNTED, UNTIL, released
from hypothesis import given
from hypothesis import strategies as st

from passcheck.job.counts import Counts, OutAndBack
from passcheck.job.figure import Course, Figure
from passcheck.job.figure_returns import fate, returns_figure


def shown(*units: OutAndBack, until: str = UNTIL) -> Figure:
    return returns_figure(Counts(len(units), 0, out_and_back=units), until)


def words(*units: OutAndBack) -> str:
    return " ".join(shown(*units).words)


def test_units_still_out_count_up_to_their_age() -> None:
    # By hand: 10 out; day 20: 9/10; 2 leave at 25; day 60: 9/10 x 6/7 = 0.771; 2 leave; day 100: x 3/4 = 0.579.
    assert [row[:2] for row in returns_figure(COUNTED, UNTIL).rows] == [
        ("30", "10 % (1 to 53 %)"),
        ("90", "23 % (6 to 66 %)"),
        ("180", "42 % (15 to 85 %)"),
        ("365", "42 % (15 to 85 %)"),
    ]


def test_back_of_all_released_stands_beside_it_with_why_it_is_too_low() -> None:
    made = returns_figure(COUNTED, UNTIL)
    assert [row[2:] for row in made.rows] == [
        ("7", "1 of 10 (2 to 40 %)"),
        ("4", "2 of 10 (6 to 51 %)"),
        ("2", "3 of 10 (11 to 60 %)"),
        ("2", "3 of 10 (11 to 60 %)"),
    ]
    assert any("too low as an answer: 5 of 10 are out for less than 365 days" in one for one in made.words)


def test_an_age_that_no_unit_reached_is_not_known() -> None:
    young = [released(serial, 306, 5 if serial == 1 else None) for serial in range(1, 9)]
    assert [row[1] for row in shown(*young).rows][1:] == ["not known: none out so long"] * 3
    assert "1 of 8 units came back" in words(*young)


def test_while_none_came_back_the_units_still_out_say_how_little_that_is() -> None:
    young = [released(serial, 306) for serial in range(12)]
    # None of 12: Wilson's upper end is z^2 / (12 + z^2) = 3.841 / 15.841 = 24 %.
    assert words(*young).startswith("None of 12 released units came back so far.")
    assert shown(*young).rows[0] == ("30", "none (0 to 24 %)", "12", "0 of 12 (0 to 24 %)")


def test_once_all_are_back_no_interval_is_stated() -> None:
    rows = shown(released(1, 0, 10), released(2, 0, 20)).rows
    assert [row[1] for row in rows] == ["all of them"] * 4
    assert "Every unit still out has been followed" in words(released(1, 0, 10))


def test_what_happened_after_the_day_asked_for_isn_t_known_on_it() -> None:
    assert fate(released(1, 0, 20), "2031-04-12") == (10, False)
    assert fate(released(1, 0, 20), "2031-04-22") == (20, True)
    assert shown(released(1, 30), until="2031-04-12").words == ("No unit was released yet.",)


def test_a_visit_that_a_clock_puts_before_the_release_was_no_day_out() -> None:
    assert fate(released(1, 20, -3), UNTIL) == (0, True)


def test_a_time_of_the_day_changes_no_count_of_days() -> None:
    assert fate(released(1, 0), "2031-05-02T23:59:59Z") == fate(released(1, 0), "2031-05-02") == (30, False)


def test_whether_the_same_block_brought_them_back_is_told_where_both_visits_were_released() -> None:
    assert "touched again: 1 of 2 (9 to 91 %); left out: 1 return without another release so far." in " ".join(
        returns_figure(COUNTED, UNTIL).words
    )
    assert "touched again: none yet; left out: 1 return without another release so far." in words(
        released(1, 0, 5), released(2, 0)
    )
    assert "touched again" not in words(released(1, 0))


def test_halves_with_few_returns_are_not_compared() -> None:
    assert "can't be compared yet: each half needs 5 returns, and has 2 before 2031-12-24 and 1 since." in " ".join(
        returns_figure(COUNTED, UNTIL).words
    )


def halves(later_back_after: int, back: int) -> list[OutAndBack]:
    early = [released(serial, 0, 200 + serial if serial < 6 else None) for serial in range(12)]
    return early + [released(100 + serial, 40, later_back_after if serial < back else None) for serial in range(12)]


def test_two_halves_that_come_back_alike_show_no_difference() -> None:
    assert re.search(
        r"no difference is shown \(p = 0\.\d+\), which doesn't mean that there is none", words(*halves(205, 6))
    )


def test_two_halves_that_differ_are_told_side_by_side_without_a_cause() -> None:
    said = words(*halves(10, 11))
    assert "Released before 2031-05-12 (6 returns) and since (11)" in said
    assert re.search(r"they differ \(p (= 0\.0\d+|below 0\.001)\)", said)
    assert "By day 326 about 500 of 1000 of the earlier and 920 of the later are back. Why they differ" in said


UNITS = st.lists(
    st.tuples(st.integers(0, 400), st.one_of(st.none(), st.integers(0, 400))), min_size=1, max_size=30
)  # fmt: skip


@given(UNITS)
def test_the_curve_only_rises_and_its_interval_holds_it(units: list[tuple[int, int | None]]) -> None:
    made = shown(*(released(serial, day, back) for serial, (day, back) in enumerate(units)))
    if not made.rows:
        return
    (course,) = made.plots
    assert isinstance(course, Course)
    ys = [point.y for point in course.points]
    assert ys == sorted(ys)
    assert [point.x for point in course.points] == sorted(point.x for point in course.points)
    for point in course.points:
        if point.low is not None and point.high is not None:
            assert -1e-9 <= point.low <= point.y <= point.high <= 100 + 1e-9
        assert point.y == pytest.approx(min(max(point.y, 0), 100))
