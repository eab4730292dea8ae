"""When did something happen, by clocks that a person can't set back unnoticed?"""

from datetime import timedelta

import pytest
from rig import RigClock


def test_time_passed_is_counted_by_the_clock_that_can_not_be_set_back() -> None:
    clock = RigClock()
    before = clock()
    clock.pass_time(minutes=7)
    clock.set_wall(hours=-3)
    assert clock().since(before) == timedelta(minutes=7)


def test_across_a_restart_of_the_machine_nobody_knows() -> None:
    clock = RigClock()
    before = clock()
    clock.reboot()
    assert clock().since(before) is None
    assert clock().absent_since(before)


@pytest.mark.parametrize(("seconds", "absent"), [(0, False), (899, False), (900, True), (90_000, True)])
def test_a_quarter_of_an_hour_is_an_absence(seconds: float, absent: bool) -> None:
    clock = RigClock()
    before = clock()
    clock.pass_time(seconds=seconds)
    assert clock().absent_since(before) is absent


def test_the_wall_s_time_is_shown_with_its_offset() -> None:
    moment = RigClock()()
    assert moment.local().hour == 10
    assert moment.local().tzinfo is None
