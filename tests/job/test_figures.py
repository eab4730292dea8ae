"""Do the figures say what was counted, with what they don't know?"""

from dataclasses import fields, replace

import pytest
from counted import COUNTED, NOTHING, PANEL, THERMOSTAT, UNTIL, of
from hypothesis import given
from hypothesis import strategies as st

from passcheck.job.counts import Counts, FirstTries, PartMonth, StepSeconds, StepVerdicts
from passcheck.job.figure import Bars, Figure
from passcheck.job.figure_words import few_words, percents, rest_words, share_words
from passcheck.job.figures import NAMES, boards_of, figures


def figure(name: str, counts: Counts = COUNTED, board: str | None = None, most: int | None = 15) -> Figure:
    return next(one for one in figures(counts, UNTIL, board, most) if one.name == name)


def words(name: str, counts: Counts = COUNTED, board: str | None = None) -> str:
    return " ".join(figure(name, counts, board).words)


def test_every_figure_is_there_under_its_name_and_its_rows_fit_its_heads() -> None:
    made = figures(COUNTED, UNTIL, None)
    assert tuple(one.name for one in made) == NAMES
    for one in made:
        assert one.rows, one.name
        assert {len(row) for row in one.rows} == {len(one.heads)} == {len(one.numbers)}, one.name


def test_on_the_first_day_every_figure_says_that_there_is_nothing_yet() -> None:
    for one in figures(NOTHING, UNTIL, None):
        assert one.rows == ()
        assert one.plots == ()
        assert len(one.words) == 1
        assert one.words[0].startswith("No"), one.words
        assert "%" not in one.words[0], "a share of nothing"


def test_a_chosen_board_isn_t_named_in_each_row_again() -> None:
    assert figure("failing").heads[0] == "BOARD"
    assert figure("failing", of(COUNTED, PANEL), PANEL).heads[0] == "STEP"
    bars = figure("failing", of(COUNTED, PANEL), PANEL).plots[0]
    assert isinstance(bars, Bars)
    assert bars.bars[0].label == "Fuel marks"
    assert figure("first-try", of(COUNTED, PANEL), PANEL).rows == ((PANEL, "7 of 9 (45 to 94 %)"),)


def test_a_share_names_its_counts_and_its_interval() -> None:
    # Wilson's interval, worked by hand: 7 of 9 gives 0.4526 .. 0.9368, 2 of 3 gives 0.2077 .. 0.9385.
    assert share_words(7, 9) == "7 of 9 (45 to 94 %)"
    assert share_words(2, 3) == "2 of 3 (21 to 94 %)"
    assert share_words(0, 0) == "none yet"
    assert share_words(300, 100_000) == "300 of 100000 (0.27 to 0.34 %)", "no coarser than it is known"
    assert percents(-0.0001, 0.4) == "0 to 40 %"


def test_what_few_judgements_are_worth_is_said_by_an_example() -> None:
    assert few_words([(20, 40), (2, 3), (1, 1)], "attempts") == (
        "Shares from fewer than 10 attempts say little: 2 of 3 is anything between 21 and 94 %.",
    )
    assert few_words([(20, 40), (0, 0)], "attempts") == ()
    assert rest_words(0, 0, "Steps") == ()
    assert rest_words(3, 1, "Steps") == ("Steps not shown: 3 more with fewer of them, 1 with none.",)


@given(st.integers(0, 400), st.integers(1, 400))
def test_the_interval_of_a_bar_holds_its_share(k: int, more: int) -> None:
    counts = Counts(1, 1, first_tries=(FirstTries(PANEL, k, k + more),))
    plot = figure("first-try", counts).plots[0]
    assert isinstance(plot, Bars)
    (bar,) = plot.bars
    assert bar.low is not None
    assert bar.high is not None
    assert 0 <= bar.low <= bar.value == k / (k + more) <= bar.high <= plot.most


@pytest.mark.parametrize("name", NAMES)
def test_the_order_of_the_counts_changes_no_figure(name: str) -> None:
    tables = (getattr(COUNTED, one.name) for one in fields(COUNTED)[2:])
    turned = Counts(COUNTED.jobs, COUNTED.attempts, *(tuple(reversed(table)) for table in tables))
    assert figure(name, turned) == figure(name)


def test_all_boards_together_are_one_share_only_while_none_stands_out() -> None:
    assert figure("first-try").rows[-1] == ("all boards", "9 of 12 (47 to 91 %)")
    assert "mixes boards" in words("first-try")
    apart = replace(COUNTED, first_tries=(FirstTries(PANEL, 90, 100), FirstTries(THERMOSTAT, 2, 40)))
    assert [row[0] for row in figure("first-try", apart).rows] == [PANEL, THERMOSTAT]
    assert f"{PANEL}, {THERMOSTAT}" in words("first-try", apart)
    assert "mixes" not in words("first-try", of(COUNTED, PANEL), PANEL)


def test_steps_stand_by_what_their_counts_show_at_the_least() -> None:
    # Lower ends: 40 of 50 0.67, 2 of 3 0.21, 4 of 40 0.04; the share alone would do the same here, so 1 of 1 is added.
    once = StepVerdicts(PANEL, "beep", "Beeper", "as-found", 0, 1, 0, 0)
    rows = figure("failing", replace(COUNTED, verdicts=(once, *COUNTED.verdicts))).rows
    assert rows == (
        (PANEL, "Fuel marks", "40 of 50 (67 to 89 %)", "6 of 50 (6 to 24 %)"),
        (THERMOSTAT, "Sensor at 25 °C", "2 of 3 (21 to 94 %)", "none yet"),
        (PANEL, "Beeper", "1 of 1 (21 to 100 %)", "none yet"),
        (PANEL, "5 V logic rail", "4 of 40 (4 to 23 %)", "0 of 44 (0 to 8 %)"),
    )
    assert "Steps not shown: 1 with none." in words("failing")


def test_a_step_under_two_titles_is_one_step() -> None:
    renamed = StepVerdicts(PANEL, "rail-5v", "Logic rail", "as-found", 10, 0, 0, 0)
    rows = figure("failing", replace(COUNTED, verdicts=(*COUNTED.verdicts, renamed))).rows
    assert (PANEL, "Logic rail", "4 of 50 (3 to 19 %)", "0 of 44 (0 to 8 %)") in rows


def test_where_there_is_no_room_it_is_said_how_many_more_there_are() -> None:
    assert len(figure("failing", most=1).rows) == 1
    assert "Steps not shown: 2 more with fewer of them, 1 with none." in figure("failing", most=1).words
    assert len(figure("failing", most=None).rows) == 3


def test_a_block_is_confirmed_of_the_jobs_that_were_signed_off() -> None:
    assert figure("blocks").rows == (
        (PANEL, "GAUGES", "30", "21 of 28 (57 to 87 %)", "fuel-marks 20, sweep 6 and 2 more"),
        (PANEL, "PWR", "9", "7 of 7 (65 to 100 %)", "rail-5v 4, ripple-5v 3"),
        (THERMOSTAT, "SENSE", "2", "none yet", ""),
    )


def test_doubt_is_told_of_an_instrument_and_a_step() -> None:
    assert figure("doubt").rows == (
        (THERMOSTAT, "Sensor at 25 °C", "H1", "2 of 3 (21 to 94 %)"),
        (PANEL, "Ripple on 5 V", "M2", "5 of 38 (6 to 27 %)"),
        (PANEL, "Ripple on 5 V", "M1", "3 of 40 (3 to 20 %)"),
    )
    assert "too coarse for a limit" in words("doubt")
    assert "Pairs of instrument and step not shown: 1 with none." in words("doubt")
    sure = replace(COUNTED, instruments=COUNTED.instruments[2:3])
    assert figure("doubt", sure).words == ("No judgement stayed in doubt, of 84 with an instrument.",)


def test_half_of_the_attempts_took_the_median_or_less() -> None:
    # The rail: 4 x 20, 3 x 25, 2 x 30, 1 x 300 s. The fifth of ten took 25 s, the ninth 30 s.
    assert figure("time").rows == (
        (PANEL, "Fuel marks", "10", "95", "120"),
        (THERMOSTAT, "Sensor at 25 °C", "1", "60", "60"),
        (PANEL, "5 V logic rail", "10", "25", "30"),
    )
    assert f"{PANEL}: 2 steps once each, 2 min as the sum of medians." in words("time")
    assert "absence" in words("time")


def test_a_walk_of_hours_is_told_in_hours() -> None:
    steps = tuple(StepSeconds(PANEL, f"s{at}", f"Step {at}", 300, 1) for at in range(20))
    assert "20 steps once each, 1 h 40 min as" in words("time", Counts(1, 20, seconds=steps))


def test_parts_are_summed_over_the_months() -> None:
    assert figure("parts").rows == (
        (PANEL, "C11", "105 °C, 470 µF", "5", "5", "2031-04", "2031-06"),
        (PANEL, "M3", "", "4", "4", "2031-06", "2031-06"),
        (THERMOSTAT, "R7", "10 kΩ 1 %", "1", "1", "2031-09", "2031-09"),
    )
    # 10 parts; 15 jobs; April to September are 6 months.
    assert "10 parts in 15 jobs and 6 months: 0.67 a job, 1.7 a month on the average." in words("parts")
    lone = Counts(0, 0, parts=(PartMonth(PANEL, "2031-04", "F1", "", 1, 1),))
    assert "1 part in no job and 1 month: 1 a month" in words("parts", lone)


def test_a_month_without_a_job_is_a_month_too() -> None:
    assert [row[0] for row in figure("months").rows] == [f"2031-{month:02d}" for month in range(4, 10)]
    assert figure("months").rows[-1] == ("2031-09", "3", "5"), "both boards together"
    assert figure("months").rows[4] == ("2031-08", "0", "0")


def test_a_unit_that_has_left_is_reviewed_first_and_what_counted_of_it() -> None:
    assert [(row[1], row[4], row[7]) for row in figure("review").rows] == [
        ("A31-0041", "24 mV", "out, counts"),
        ("A31-0041", "4.99 V", "out"),
        ("A31-0044", "3.1 V", "returned"),
        ("A31-0050", "5.02 V", "here"),
    ]
    assert "4 readings of 3 units; 1 unit of them signed off since." in words("review")
    assert "Nothing is judged anew by itself" in words("review")


def test_the_boards_that_were_counted_are_known() -> None:
    assert boards_of(COUNTED) == (PANEL, THERMOSTAT)
    assert boards_of(NOTHING) == ()
