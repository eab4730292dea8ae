"""What earlier visits of a unit leave: time away, the same block or another, what reads otherwise now."""

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from unit_visits import RAIL, found, job_row, left, said, touch

from passcheck.job.archive_rows import AttemptRow, JobRow, TouchRow
from passcheck.job.before_after import NO_CHANGE
from passcheck.job.figure import Point
from passcheck.job.moment import Moment
from passcheck.job.time_away import days_words
from passcheck.job.visit_drift import Drift, drift, limits_words
from passcheck.job.visit_series import course, series
from passcheck.job.visit_words import NONE_ON_RECORD, headline, ordinal, same_words
from passcheck.job.visits import StepHistory, UnitHistory, Visit, story

NOW = "2031-04-15T09:00:00Z"
FIRST = job_row(
    "A31-0211",
    opened_at="2031-01-05T08:00:00Z",
    ended="signed off",
    ended_at="2031-01-20T15:00:00Z",
    complaint="Warm: the FUEL needle drops",
)
SECOND = job_row(
    "A31-0392",
    opened_at="2031-02-20T08:00:00Z",
    ended="signed off",
    ended_at="2031-03-02T08:00:00Z",
    complaint="no sound from the beeper",
)
THIRD = job_row("A31-0417", opened_at="2031-04-12T08:00:00Z", complaint="Fuel goes to nothing, needle drops when warm")
VALUES = st.floats(-500, 500, allow_nan=False).map(lambda value: float(f"{value:.6g}"))
UNCERTAINTIES = st.floats(1e-3, 20).map(lambda value: float(f"{value:.6g}"))


def visit(job: JobRow, *attempts: AttemptRow, touched: tuple[TouchRow, ...] = ()) -> Visit:
    return Visit(job, attempts, touched, ())


def drifted(before: AttemptRow, after: AttemptRow) -> Drift:
    told = drift(before, after)
    assert told is not None
    return told


def rail_of(history: UnitHistory) -> StepHistory:
    step = history.step(RAIL)
    assert step is not None
    return step


def three_visits(*values: float) -> UnitHistory:
    """As left, as found, as left, as found."""
    one, two, three, four = values
    return story(
        [
            visit(FIRST, found(FIRST, value=4.62, verdict="fail"), left(FIRST, value=one)),
            visit(SECOND, found(SECOND, value=two), left(SECOND, value=three)),
            visit(THIRD, found(THIRD, value=four)),
        ],
        NOW,
    )


def test_days_away_are_whole_days_since_it_left() -> None:
    _first, second, third = story([visit(FIRST), visit(SECOND), visit(THIRD)], NOW).visits
    assert second.away is not None
    assert third.away is not None
    # from 20 January 15:00 to 20 February 08:00: 30 days and 17 hours; from 2 March 08:00 to 12 April 08:00: 41 days
    assert (second.away.days, third.away.days) == (30, 41)
    assert third.away.words == "back after 41 days"
    assert third.away.in_service
    assert [days_words(days) for days in (0, 1, 2)] == ["less than a day", "1 day", "2 days"]


def test_a_unit_that_was_not_released_was_not_in_service() -> None:
    returned = replace(SECOND, ended="returned unrepaired")
    away = story([visit(returned), visit(THIRD)], NOW).visits[1].away
    assert away is not None
    assert not away.in_service
    assert away.words == "back after 41 days; it had been returned unrepaired"


@pytest.mark.parametrize(
    ("before", "words"),
    [
        (replace(SECOND, ended="", ended_at=""), "A31-0392, the visit before, has no ending on record"),
        (replace(SECOND, ended_at="2031-05-01T08:00:00Z"), "by the times on record it came back before it left"),
    ],
)
def test_where_the_record_can_not_tell_the_days_it_says_so(before: JobRow, words: str) -> None:
    away = story([visit(before), visit(THIRD)], NOW).visits[1].away
    assert away is not None
    assert (away.days, away.words) == (None, words)


@pytest.mark.parametrize(
    ("outcome", "ended", "then", "now", "finding"),
    [
        ("", "", ("PWR",), ("PWR", "GAUGE"), "same block reworked: PWR"),
        ("", "", ("PWR",), ("GAUGE",), "other block: GAUGE; at the visit before PWR was reworked"),
        ("", "", (), ("GAUGE",), "other block: GAUGE; at the visit before nothing was reworked"),
        ("", "", ("PWR",), (), "nothing reworked yet"),
        ("", "returned unrepaired", ("PWR",), (), "nothing reworked"),
        ("not reproduced under: warm", "", ("PWR",), (), "not reproduced under: warm"),
        ("not reproduced under: warm", "", ("PWR",), ("PWR",), "same block reworked: PWR"),
    ],
)
def test_a_return_is_told_beside_the_blocks_of_the_visit_before(
    outcome: str, ended: str, then: tuple[str, ...], now: tuple[str, ...], finding: str
) -> None:
    job = replace(THIRD, outcome=outcome, ended=ended, ended_at=NOW if ended else "")
    told = story(
        [
            visit(SECOND, touched=tuple(touch(SECOND, block) for block in then)),
            visit(job, touched=tuple(touch(job, block) for block in now)),
        ],
        NOW,
    )
    assert [one.finding for one in told.visits] == ["", finding]


def test_blocks_of_another_board_are_never_the_same() -> None:
    other = replace(THIRD, board="EK-8")
    told = story(
        [visit(SECOND, touched=(touch(SECOND, "PWR"),)), visit(other, touched=(touch(other, "PWR"),))], NOW
    ).visits[1]
    assert told.finding.startswith("other block")
    assert told.remarks == ("it was tested as OV-24P then, as EK-8 now: nothing is compared",)


def test_another_revision_is_remarked() -> None:
    told = story([visit(SECOND), visit(replace(THIRD, revision=4))], NOW).visits[1]
    assert told.remarks == ("sequence revision 3 then, 4 now: steps may ask for other things",)


def test_each_block_says_what_touched_it_at_each_visit() -> None:
    smoke = touch(SECOND, "GAUGE", 1, kind="incident", line=30)
    opened = touch(SECOND, "", 0, kind="case opened", line=31)
    told = story(
        [
            visit(FIRST, touched=(touch(FIRST, "PWR", 1), touch(FIRST, "PWR", 3))),
            visit(SECOND, touched=(touch(SECOND, "GAUGE", 2), smoke, opened)),
        ],
        NOW,
    )
    assert [(one.block, one.done) for one in told.blocks] == [
        ("PWR", ("rework 1, 3", "")),
        ("GAUGE", ("", "rework 2; incident 1")),
    ]


def test_a_drift_carries_the_uncertainty_of_both_readings() -> None:
    # 4.93 - 5.01 = -0.08 V; u = 0.02 √2 = 0.0283 V, and 1.96 times that is 0.0554 V
    told = drifted(left(SECOND, value=5.01), found(THIRD, value=4.93))
    assert told.change is not None
    assert told.change.value == Decimal("-0.08")
    assert told.change.u == pytest.approx(0.0282843, rel=1e-5)
    assert told.change.within == pytest.approx(0.0554362, rel=1e-4)
    assert told.words == "changed by -0.08 V ± 0.06 V"
    assert told.remarks == ()


def test_a_difference_inside_both_uncertainties_is_no_change() -> None:
    told = drifted(left(SECOND, value=5.01), found(THIRD, value=4.98))
    assert told.words == f"{NO_CHANGE} (± 0.06 V)"
    assert not told.changed


def test_a_difference_of_temperatures_is_in_kelvins() -> None:
    hot: dict[str, Any] = {"unit": "°C", "u": 0.5, "low": None, "high": 70.0}
    told = drifted(left(SECOND, value=40.0, **hot), found(THIRD, value=55.0, **hot))
    assert told.words == "changed by +15.0 K ± 1.4 K"


@given(VALUES, UNCERTAINTIES, UNCERTAINTIES)
def test_equal_readings_are_never_a_change(value: float, before: float, after: float) -> None:
    assert not drifted(left(SECOND, value=value, u=before), found(THIRD, value=value, u=after)).changed


@given(VALUES, VALUES, UNCERTAINTIES, UNCERTAINTIES)
def test_the_other_way_round_a_change_has_the_other_sign_and_the_same_uncertainty(
    one: float, other: float, u_one: float, u_other: float
) -> None:
    there = drifted(left(SECOND, value=one, u=u_one), found(THIRD, value=other, u=u_other)).change
    back = drifted(left(SECOND, value=other, u=u_other), found(THIRD, value=one, u=u_one)).change
    assert there is not None
    assert back is not None
    assert there.value == -back.value
    assert (there.u, there.within, there.changed) == (back.u, back.within, back.changed)
    assert there.u >= max(u_one, u_other) * (1 - 1e-5)


@pytest.mark.parametrize(
    ("members", "words"),
    [
        ({"value": None, "verdict": "not measured"}, "no number to compare: pass as left, not measured as found"),
        ({"value": 5.0, "unit": "A"}, "nothing to compare: V as left, A as found"),
        ({"value": 4.0, "u": None}, "5.00 V as left, 4.00 V as found; no uncertainty is on record"),
        ({"value": 5.0, "u": None}, "the same: 5.00 V"),
    ],
)
def test_what_can_not_be_compared_says_why(members: dict[str, Any], words: str) -> None:
    told = drifted(left(SECOND), found(THIRD, **members))
    assert told.change is None
    assert told.short == told.words == words
    assert not told.changed


def test_a_step_without_numbers_has_no_drift() -> None:
    assert drift(left(SECOND, "look-in", None), found(THIRD, "look-in", None)) is None


def test_whatever_else_may_be_the_reason_is_remarked() -> None:
    other = found(THIRD, value=5.1, low=4.9, high=5.1, instrument="M4", conditions="warm")
    assert drifted(left(SECOND), other).remarks == (
        "the limits were 4.85 V .. 5.15 V, now 4.9 V .. 5.1 V",
        "read with M1, now with M4",
        "tried under no condition, now under warm",
    )
    slowest: dict[str, Any] = {"kind": "presses", "unit": "s", "low": None, "high": 0.3}
    assert drifted(left(SECOND, "sw1", 0.1, **slowest), found(THIRD, "sw1", 0.2, **slowest)).remarks == (
        "each is the worst of several numbers, which need not be the same one",
    )
    one_mark: dict[str, Any] = {"kind": "marks", "unit": "%", "low": -6.0, "high": 6.0}
    assert drifted(left(SECOND, "warm", 1.0, **one_mark), found(THIRD, "warm", 4.0, **one_mark)).remarks == ()


def test_limits_are_told_as_they_are() -> None:
    row = left(SECOND)
    assert limits_words(replace(row, low=None, high=0.06)) == "at most 60 mV"
    assert limits_words(replace(row, low=4.85, high=None)) == "at least 4.85 V"
    assert limits_words(replace(row, low=10e3, high=None, unit="Ω")) == "at least 10 kΩ"
    assert limits_words(replace(row, low=None, high=None)) == "no limits"


def test_each_visit_is_compared_with_how_the_unit_left_at_the_one_before() -> None:
    step = rail_of(three_visits(5.01, 5.00, 5.02, 4.93))
    assert [cell.since is None for cell in step.visits] == [True, False, False]
    last = step.visits[2].since
    assert last is not None
    assert (last.left.value, last.found.value) == (5.02, 4.93)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        (
            (5.01, 4.93, 5.00, 4.91),
            "lower at each of 2 returns that can be compared, each time by more than these readings can tell",
        ),
        (
            (5.00, 5.10, 5.00, 5.01),
            "higher at each of 2 returns that can be compared, at 1 of them by more than these readings can tell",
        ),
        ((5.00, 4.99, 5.00, 4.99), ""),  # the readings can't tell any of it
        ((5.00, 5.10, 5.00, 4.90), ""),
        ((5.00, 4.90, 5.00, 5.00), ""),
    ],
)
def test_moves_are_counted_where_all_go_the_same_way(values: tuple[float, float, float, float], words: str) -> None:
    assert rail_of(three_visits(*values)).moves == words


def test_one_return_is_no_series_of_moves() -> None:
    told = story([visit(SECOND, left(SECOND, value=5.1)), visit(THIRD, found(THIRD, value=4.6))], NOW)
    assert rail_of(told).moves == ""


def test_the_points_of_a_step_run_from_found_to_left_with_their_reach() -> None:
    history = three_visits(5.01, 5.00, 5.02, 4.93)
    points = series(history, rail_of(history))
    assert [point.y for point in points] == [4.62, 5.01, 5.00, 5.02, 4.93]
    # 20 January 15:00 is 15 days and 7 hours after the first arrival
    assert points[1].x == pytest.approx(15 + 7 / 24)
    assert [point.x for point in points] == sorted(point.x for point in points)
    assert points[1].low == pytest.approx(5.01 - 1.95996 * 0.02)
    drawn = course(history, rail_of(history))
    assert (drawn.points, drawn.y, drawn.line) == (points, "V", None)
    assert drawn.x_labels == ((0.0, "2031-01-05"), (46.0, "2031-02-20"), (97.0, "2031-04-12"))


def test_points_in_another_unit_are_on_no_common_axis() -> None:
    history = story(
        [visit(SECOND, left(SECOND, value=5.0, unit="A")), visit(THIRD, found(THIRD, value=4.9, u=None))], NOW
    )
    (point,) = series(history, rail_of(history))
    assert point == Point(pytest.approx(51.0), 4.9, None, None)  # type: ignore[arg-type]


def test_a_newcomer_reads_the_story_in_one_glance() -> None:
    told = story(
        [
            visit(FIRST, left(FIRST), touched=(touch(FIRST, "LAMP"),)),
            visit(SECOND, left(SECOND, value=5.02), touched=(touch(SECOND, "PWR"), touch(SECOND, "GAUGE", 2))),
            visit(THIRD, found(THIRD, value=4.81, verdict="fail")),
        ],
        NOW,
    )
    assert headline(told) == (
        "3rd visit, here for 3 days. Last released 2031-03-02 (A31-0392), back after 41 days. "
        "Touched then: PWR, GAUGE. 1 of 1 reading changed since it left, 5 V logic rail: -0.21 V ± 0.06 V. "
        "Same complaint words: Fuel, needle, drops, warm."
    )


def test_a_unit_that_is_out_of_the_shop_is_told_as_gone() -> None:
    told = story([visit(FIRST), visit(SECOND, touched=(touch(SECOND, "PWR"),))], NOW)
    assert headline(told) == (
        "2 visits. A31-0392: signed off 44 days ago, not back since (2031-03-02). Touched then: PWR."
    )


def test_the_headline_says_what_can_not_be_said() -> None:
    unfinished = visit(replace(SECOND, ended="", ended_at=""))
    assert headline(story([], NOW)) == NONE_ON_RECORD
    assert headline(story([visit(THIRD)], NOW)) == "1st visit, here for 3 days."
    assert "A31-0392, the visit before, has no ending on record. Nothing was reworked then." in headline(
        story([unfinished, visit(THIRD)], NOW)
    )
    assert f"1 reading compared with how it left: {NO_CHANGE}." in headline(
        story([visit(SECOND, left(SECOND)), visit(THIRD, found(THIRD))], NOW)
    )


def test_a_moment_does_as_well_as_its_text() -> None:
    moment = Moment(datetime(2031, 4, 15, 9, tzinfo=UTC), 120, 1, "boot")
    assert story([visit(THIRD)], moment) == story([visit(THIRD)], NOW)
    behind = story([visit(THIRD)], "2031-04-01T00:00:00Z")
    assert behind.now_words == "taken in on 2031-04-12, which is still to come by this clock"


def test_words_that_any_two_complaints_share_are_not_named() -> None:
    first, second = (replace(job, complaint="it does that when it stands") for job in (FIRST, SECOND))
    assert same_words(story([visit(first), visit(second)], NOW)) == ("stands",)


def test_ordinals() -> None:
    assert [ordinal(number) for number in (1, 2, 3, 4, 11, 12, 13, 21, 112)] == [
        *("1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "112th")
    ]


def test_what_people_wrote_rides_along_unchanged() -> None:
    words = said(THIRD, "[red]\x1b warm")
    (told,) = story([Visit(THIRD, (), (), (words,))], NOW).visits
    assert told.visit.said == (words,)
