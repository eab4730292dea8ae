"""Which unit is to be looked at next, how late is that, and what hit several at once?"""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rig import RigClock

from passcheck.job.moment import Moment
from passcheck.job.rack import common_cause, rack
from passcheck.job.shelf_row import ShelfRow, SoakTag

NOW = RigClock()()


def tag(in_minutes: float = 20, **members: object) -> SoakTag:
    told: dict[str, object] = {
        "step": "soak",
        "due_at": (NOW.utc + timedelta(minutes=in_minutes)).isoformat(),
        "due_ms": NOW.boottime_ms + int(in_minutes * 60_000),
        "boot_id": NOW.boot_id,
        "every_s": 3600,
        "counted_s": 7200,
        "wanted_s": 14400,
        "cycles": 0,
        "cycles_wanted": 0,
        "still_to_pass": 0,
        "alone": False,
        "complete": False,
        **members,
    }
    return SoakTag(**told)  # type: ignore[arg-type]


def row(job: str, soak: SoakTag | None, *, ended: str | None = None) -> ShelfRow:
    return ShelfRow(job, f"S-{job}", "LB-3", "1", "Lamp board", "burn in", "", "", "", 2, ended, soak)


def words(soak: SoakTag, moment: Moment = NOW) -> str:
    (place,) = rack([row("A31-0001", soak)], moment)
    return place.words


@pytest.mark.parametrize(
    ("in_minutes", "said"),
    [
        (20.5, "in 20 min"),
        (95, "in 1 h 35 min"),
        (0, "DUE NOW"),
        (-6, "DUE NOW"),  # the grace of an hourly look
        (-7, "LATE by 7 min"),
        (-59, "LATE by 59 min"),
        (-60, "MISSED, late by 1 h 00 min"),
        (-125, "MISSED, late by 2 h 05 min"),
    ],
)
def test_lateness_is_told_in_words(in_minutes: float, said: str) -> None:
    assert words(tag(in_minutes)) == said


def test_a_look_that_is_open_and_a_soak_that_is_done_say_so() -> None:
    assert words(tag(still_to_pass=1)) == "LOOK OPEN, 1 step to pass"
    assert words(tag(still_to_pass=3)) == "LOOK OPEN, 3 steps to pass"
    assert words(tag(complete=True)) == "DONE: end the soak"


def test_the_unit_to_look_at_next_stands_on_top_and_what_does_not_soak_is_not_there() -> None:
    rows = [row("A31-0001", tag(20)), row("A31-0002", tag(-30)), row("A31-0003", None), row("A31-0004", tag(5))]
    rows.append(row("A31-0005", tag(-99), ended="signed off"))
    assert [place.row.job for place in rack(rows, NOW)] == ["A31-0002", "A31-0004", "A31-0001"]


def test_the_clock_on_the_wall_counts_only_once_the_machine_was_started_anew() -> None:
    moved = replace(NOW, utc=NOW.utc + timedelta(hours=9))
    assert words(tag(20), moved) == "in 20 min"
    anew = replace(moved, boot_id="boot-2", boottime_ms=5_000)
    assert words(tag(20), anew) == "MISSED, late by 8 h 40 min"


def lost(begun: str, ended: str, why: str = "dip") -> SoakTag:
    return tag(lost_from=f"2031-04-02T{begun}+00:00", lost_to=f"2031-04-02T{ended}+00:00", lost_why=why)


def test_a_dip_that_hit_two_units_is_told_once_with_the_time_that_they_share() -> None:
    rows = [row("A", lost("02:00:00", "03:30:00")), row("B", lost("03:00:00", "04:00:00")), row("C", tag())]
    (sentence,) = common_cause(rows, 120)
    assert sentence.startswith("2 units may have lost power between 02 Apr 05:00 and 05:30 (S-A, S-B)")


def test_dips_of_different_times_have_no_common_cause() -> None:
    assert common_cause([row("A", lost("02:00:00", "03:00:00")), row("B", lost("03:00:00", "04:00:00"))], 0) == ()


def test_many_units_are_counted_and_a_few_named() -> None:
    rows = [row(f"{n:02d}", lost("02:00:00", "03:00:00")) for n in range(20)]
    (sentence,) = common_cause(rows, 0)
    assert "20 units" in sentence
    assert "and 16 more" in sentence


@given(st.lists(st.integers(min_value=-300, max_value=300), max_size=30))
def test_the_rack_is_in_order_of_lateness_and_loses_nobody(minutes: list[int]) -> None:
    rows = [row(f"A31-{n:04d}", tag(minute)) for n, minute in enumerate(minutes)]
    places = rack(rows, NOW)
    assert sorted(place.late_s for place in places) == [place.late_s for place in reversed(places)]
    assert {place.row.job for place in places} == {one.job for one in rows}


def test_a_moment_before_the_epoch_of_the_tag_is_only_early() -> None:
    before = replace(NOW, utc=datetime(2000, 1, 1, tzinfo=UTC))
    assert words(tag(20), before) == "in 20 min"
