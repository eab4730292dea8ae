"""Does a warranty end on the day that an owner would reckon?"""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from story import Story

from passcheck.job.commands import ReturnUnrepaired, SignOff
from passcheck.job.warranty import months_after, warranty_end


@pytest.mark.parametrize(
    ("day", "months", "end"),
    [
        (date(2031, 4, 2), 12, date(2032, 4, 2)),
        (date(2031, 11, 30), 3, date(2032, 2, 29)),
        (date(2031, 8, 31), 6, date(2032, 2, 29)),
        (date(2032, 2, 29), 12, date(2033, 2, 28)),
        (date(2031, 12, 15), 1, date(2032, 1, 15)),
        (date(2031, 1, 31), 1, date(2031, 2, 28)),
        (date(2032, 1, 31), 1, date(2032, 2, 29)),
        (date(2031, 12, 31), 6, date(2032, 6, 30)),
        (date(2031, 10, 15), 240, date(2051, 10, 15)),
    ],
)
def test_the_end_is_the_same_day_or_the_last_of_a_shorter_month(day: date, months: int, end: date) -> None:
    assert months_after(day, months) == end


@given(st.dates(date(2000, 1, 1), date(2100, 1, 1)), st.integers(1, 240))
def test_the_end_lies_so_many_months_on_and_never_on_a_later_day_of_the_month(day: date, months: int) -> None:
    end = months_after(day, months)
    assert (end.year - day.year) * 12 + end.month - day.month == months
    assert end.day <= day.day


def test_only_a_release_has_one_and_only_where_the_shop_gives_one() -> None:
    released, given_back = Story().walk(), Story()
    assert warranty_end(released.job, 12) is None
    released.do(SignOff("t1", released.job.serial))
    given_back.do(ReturnUnrepaired("t1", "no parts"))
    assert warranty_end(released.job, 12) == date(2032, 4, 2)
    assert warranty_end(released.job, None) is None
    assert warranty_end(given_back.job, 12) is None
