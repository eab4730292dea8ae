"""What a soak's looks are worth, rule by rule."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.soak_credit import Credit, Look, credit, grace_s

START = datetime(2031, 4, 2, 17, 0, tzinfo=UTC)
HOUR = 3600.0


def look(minute: float, **told: object) -> Look:
    begun = int(minute * 60_000)
    members: dict[str, object] = {"good": True, "shown": True, "done_ms": begun, **told}
    return Look(START + timedelta(minutes=minute), begun, **members)  # type: ignore[arg-type]


def worth(*looks: Look, continuous: bool = True) -> Credit:
    return credit([looks], HOUR, 60.0, continuous=continuous)


def test_hours_between_looks_in_time_count_in_full() -> None:
    assert worth(look(0), look(60), look(125)).counted_s == 125 * 60


def test_a_start_alone_shows_nothing() -> None:
    assert worth(look(0)).counted_s == 0
    assert worth().stretches == ()


def test_nothing_counts_before_the_first_look_was_done() -> None:
    assert worth(look(0, done_ms=10 * 60_000), look(60), look(120)).counted_s == 110 * 60


def test_a_late_look_counts_one_interval() -> None:
    found = worth(look(0), look(80))
    assert (found.counted_s, found.stretches[0].standing) == (HOUR, "late")


def test_from_two_intervals_on_a_look_is_missing_and_nothing_counts() -> None:
    found = worth(look(0), look(120), look(180))
    assert [one.standing for one in found.stretches] == ["missed", "in time"]
    assert found.counted_s == HOUR


def test_a_look_that_was_not_good_ends_no_stretch() -> None:
    assert worth(look(0), look(60, good=False), look(120)).counted_s == 0, "two hours without a good look between"
    assert worth(look(0), look(30, good=False), look(60)).counted_s == HOUR


@pytest.mark.parametrize(("continuous", "counted"), [(True, 0.0), (False, HOUR)])
def test_a_stretch_without_continuity_counts_only_where_none_is_asked(continuous: bool, counted: float) -> None:
    found = worth(look(0), look(60, shown=False, why_not="mains dip at 03:12"), continuous=continuous)
    assert found.counted_s == counted
    assert found.stretches[0].standing == "continuity not shown"
    assert found.stretches[0].why == "mains dip at 03:12"


def test_a_look_between_that_showed_no_continuity_spoils_the_stretch() -> None:
    assert worth(look(0), look(30, good=False, shown=False), look(60)).counted_s == 0


def test_planned_times_off_are_taken_out_and_counted() -> None:
    found = worth(look(0), look(60, cycles=3), look(120, cycles=2))
    assert (found.counted_s, found.cycles) == (2 * HOUR - 5 * 60, 5)


def test_legs_add_up_and_the_time_between_them_is_nothing() -> None:
    found = credit([(look(0), look(60)), (look(600), look(660))], HOUR, 60.0, continuous=True)
    assert found.counted_s == 2 * HOUR


def test_across_a_new_start_of_the_machine_only_measured_time_counts_and_the_wall_tells_the_lateness() -> None:
    after = Look(START + timedelta(minutes=60), 40 * 60_000, 40 * 60_000, good=True, shown=True, gap=True)
    assert worth(look(0), after).counted_s == 40 * 60
    late = Look(START + timedelta(hours=5), 40 * 60_000, 40 * 60_000, good=True, shown=True, gap=True)
    assert worth(look(0), late).stretches[0].standing == "missed"


def test_what_counts_never_runs_ahead_of_the_meter() -> None:
    found = worth(look(0, meter_s=0.0), look(60, meter_s=3240.0), look(120, meter_s=7200.0))
    assert [one.counted_s for one in found.stretches] == [3240.0, HOUR]
    assert found.counted_s == 6840.0


def test_grace_is_a_tenth_of_the_interval_and_five_minutes_at_least() -> None:
    assert (grace_s(600), grace_s(HOUR), grace_s(4 * HOUR)) == (300, 360, 1440)


minutes = st.lists(st.floats(min_value=0, max_value=400), min_size=1, max_size=8).map(sorted)


@given(minutes, st.lists(st.booleans(), min_size=8, max_size=8), st.lists(st.booleans(), min_size=8, max_size=8))
def test_the_credit_is_never_more_than_the_time_between_first_and_last_look(
    at: list[float], good: list[bool], shown: list[bool]
) -> None:
    looks = [look(minute, good=g, shown=s) for minute, g, s in zip(at, good, shown, strict=False)]
    assert 0 <= worth(*looks, continuous=False).counted_s <= (at[-1] - at[0]) * 60 + 0.001


@given(minutes, st.lists(st.booleans(), min_size=8, max_size=8), st.integers(min_value=0, max_value=7))
def test_one_look_that_shows_less_never_adds_credit(at: list[float], shown: list[bool], which: int) -> None:
    looks = [look(minute, shown=s) for minute, s in zip(at, shown, strict=False)]
    spoiled = [look(minute, shown=s and n != which) for n, (minute, s) in enumerate(zip(at, shown, strict=False))]
    assert worth(*spoiled).counted_s <= worth(*looks).counted_s
