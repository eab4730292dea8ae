"""Two readings of an hour meter, and the time that passed between."""

import pytest

from passcheck.judge.hour_meter import advance
from passcheck.judge.quantity import parse_quantity


def compared(before: str, after: str, passed_min: float, *, at_least: bool = False) -> bool:
    return advance(parse_quantity(before), parse_quantity(after), passed_min * 60, at_least=at_least).shown


@pytest.mark.parametrize(
    ("before", "after", "passed_min", "shown"),
    [
        ("1204.6 h", "1205.6 h", 60, True),
        ("1204.6 h", "1205.6 h", 69, True),  # one digit and a half is 9 min
        ("1204.6 h", "1205.6 h", 70, False),
        ("1204.6 h", "1205.0 h", 60, False),
        ("1204.60 h", "1205.58 h", 60, False),
        ("1204.60 h", "1205.60 h", 60, True),
        ("1204.6 h", "1206.6 h", 60, False),
    ],
)
def test_the_advance_agrees_with_the_time_within_one_and_a_half_digits(
    before: str, after: str, passed_min: float, shown: bool
) -> None:
    assert compared(before, after, passed_min) is shown


def test_where_more_time_may_have_passed_only_too_small_an_advance_speaks_against_it() -> None:
    assert compared("1204.6 h", "1206.6 h", 60, at_least=True)
    assert not compared("1204.6 h", "1204.7 h", 60, at_least=True)


def test_the_reason_names_both_readings() -> None:
    found = advance(parse_quantity("1204.6 h"), parse_quantity("1204.8 h"), 3600)
    assert found.why == "the meter went from 1204.6 h to 1204.8 h: less than the time that passed"
