"""Until which day does a warranty run, also from a month's last day?"""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.report.warranty import warranty_until


@pytest.mark.parametrize(
    ("released", "months", "until"),
    [
        (date(2031, 4, 2), 12, date(2032, 4, 2)),
        (date(2031, 1, 31), 1, date(2031, 2, 28)),
        (date(2032, 1, 31), 1, date(2032, 2, 29)),
        (date(2032, 2, 29), 12, date(2033, 2, 28)),
        (date(2031, 12, 31), 6, date(2032, 6, 30)),
        (date(2031, 10, 15), 240, date(2051, 10, 15)),
    ],
)
def test_the_last_day_is_the_same_of_its_month_or_the_months_last(released: date, months: int, until: date) -> None:
    assert warranty_until(released, months) == until


@given(st.dates(date(2000, 1, 1), date(2200, 1, 1)), st.integers(1, 240))
def test_it_never_runs_into_the_month_after(released: date, months: int) -> None:
    until = warranty_until(released, months)
    assert (until.year - released.year) * 12 + until.month - released.month == months
    assert until.day <= released.day
