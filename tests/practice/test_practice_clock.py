"""Does time that is made to go by go by alike on every clock?"""

from datetime import UTC, datetime, timedelta

import pytest

from passcheck.errors import OurBug
from passcheck.practice.clock import ForwardClock, SteppedClock

START = datetime(2031, 4, 2, 8, 0, 0, tzinfo=UTC)


def test_a_stepped_clock_stands_still_until_it_is_moved() -> None:
    clock = SteppedClock(START, 120)
    before = clock()
    assert clock() == before
    assert (before.utc, before.local().hour) == (START, 10)
    clock.pass_time(hours=1, minutes=2, seconds=3)
    assert clock().utc - START == clock().since(before) == timedelta(hours=1, minutes=2, seconds=3)


def test_wall_and_machine_stay_together_over_ten_thousand_crooked_steps() -> None:
    clock = SteppedClock(START)
    before = clock()
    for _ in range(10_000):
        clock.pass_time(seconds=0.2137)
    assert clock().utc - START == clock().since(before)


def test_a_clock_put_forward_keeps_going_with_the_clock_it_was_given() -> None:
    real = SteppedClock(START)
    clock = ForwardClock(real)
    assert clock() == real()
    before = clock()
    clock.pass_time(minutes=10)
    assert clock().since(before) == timedelta(minutes=10)
    real.pass_time(seconds=5)
    clock.pass_time(minutes=10)
    now = clock()
    assert now.utc - START == now.since(before) == timedelta(minutes=20, seconds=5)
    assert real().since(before) == timedelta(seconds=5)


def test_no_clock_of_practice_goes_back() -> None:
    real = SteppedClock(START)
    for clock in (real, ForwardClock(real)):
        before = clock()
        with pytest.raises(OurBug, match="time only goes on"):
            clock.pass_time(minutes=-1)
        assert clock() == before
