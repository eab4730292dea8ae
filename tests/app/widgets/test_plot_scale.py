"""Do round numbers stand on an axis that holds everything?"""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.app.widgets.plot_scale import Scale, label_row, line_scale, round_scale, spread, tick_text

VALUES = st.floats(-1e6, 1e6, allow_subnormal=False).map(lambda value: round(value, 3))


@pytest.mark.parametrize(
    ("low", "high", "ticks"),
    [
        (0, 85, ["0", "20", "40", "60", "80", "100"]),
        (0, 0.3, ["0", "0.1", "0.2", "0.3"]),
        (-12, 61, ["-20", "0", "20", "40", "60", "80"]),
    ],
)
def test_ticks_are_numbers_that_people_count_in(low: float, high: float, ticks: list[str]) -> None:
    assert [tick_text(one) for one in round_scale(low, high, 6).ticks] == ticks


def test_jobs_are_counted_in_whole_ones() -> None:
    assert round_scale(0, 2, 9, whole=True).ticks == (0, 1, 2)


def test_a_scale_of_one_value_has_room() -> None:
    assert round_scale(0, 0, 4).end > 0
    assert round_scale(-5, -5, 4).start < -5 <= round_scale(-5, -5, 4).end


@given(VALUES, VALUES, st.integers(2, 9))
def test_the_axis_holds_both_values_and_has_few_ticks(one: float, other: float, most: int) -> None:
    low, high = sorted((one, other))
    scale = round_scale(low, high, most)
    assert scale.start - 1e-9 * abs(low) <= low
    assert high <= scale.end + 1e-9 * abs(high)
    assert len(scale.ticks) <= most + 2
    assert scale.place(scale.start, 50) == 0
    assert scale.place(scale.end, 50) == 49


@pytest.mark.parametrize(
    ("high", "lines", "ticks"),
    [
        (16.2, 8, ["0", "5", "10", "15"]),
        (85, 8, ["0", "50", "100"]),
        (69, 15, ["0", "10", "20", "30", "40", "50", "60", "70"]),
    ],
)
def test_in_lines_the_ticks_stand_equally_far_apart(high: float, lines: int, ticks: list[str]) -> None:
    assert [tick_text(one) for one in line_scale(0, high, lines)[1].ticks] == ticks


@given(VALUES, VALUES, st.integers(3, 20), st.booleans())
def test_an_axis_in_lines_holds_both_values_and_each_tick_has_its_line(
    one: float, other: float, most: int, whole: bool
) -> None:
    low, high = sorted((one, other))
    lines, scale = line_scale(low, high, most, whole=whole)
    beside = 1e-6 * max(abs(low), abs(high))
    assert scale.start - beside <= low
    assert high <= scale.end + beside
    assert lines <= most
    at = [scale.place(tick, lines) for tick in scale.ticks]
    assert len({after - before for before, after in pairwise(at)}) == 1
    assert 0 not in {after - before for before, after in pairwise(at)}
    assert line_scale(low, high, lines, whole=whole) == (lines, scale)


def test_what_lies_beside_the_axis_stands_at_its_end() -> None:
    assert Scale(0, 10, ()).place(12, 11) == 10
    assert Scale(0, 10, ()).place(-3, 11) == 0


MONTHS = [(at * 6, f"2031-{at + 1:02d}") for at in range(12)]


def test_labels_that_would_touch_are_thinned_evenly() -> None:
    assert [text for _column, text in spread(MONTHS, 72)] == [f"2031-{month:02d}" for month in (1, 3, 5, 7, 9, 11)]
    assert label_row(spread(MONTHS, 72), 72).split() == [
        "2031-01",
        "2031-03",
        "2031-05",
        "2031-07",
        "2031-09",
        "2031-11",
    ]
    assert spread([], 40) == ()


def test_a_label_at_the_edge_stays_on_the_line() -> None:
    assert label_row(((0, "2031-01"), (19, "2031-02")), 20) == "2031-01      2031-02"
