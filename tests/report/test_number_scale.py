"""Does a reading stand where it belongs beside its limits?"""

from itertools import pairwise

from hypothesis import assume, given
from hypothesis import strategies as st

from passcheck.report.document import NumberLine
from passcheck.report.number_scale import Mark, scaled

numbers = st.floats(-1e9, 1e9).map(lambda value: float(f"{value:.6g}"))
maybe = st.none() | numbers
lines = st.builds(NumberLine, numbers, st.floats(0, 1e6), maybe, maybe, st.just(""), maybe)


def line(value: float, low: float | None, high: float | None, *, before: float | None = None) -> NumberLine:
    """A number line with an instrument that is off by nearly nothing."""
    return NumberLine(value, 0.0, low, high, "", before)


def test_a_reading_in_the_middle_of_its_limits_stands_in_the_middle_of_the_line() -> None:
    it = scaled(line(5.0, 4.85, 5.15))
    assert (it.value, it.before) == (Mark(0.5, ""), None)
    assert it.low is not None
    assert it.high is not None
    assert round(it.low + it.high, 4) == 1.0


def test_a_reading_far_outside_stands_at_the_end_and_is_marked() -> None:
    assert scaled(line(9.1, 4.85, 5.15)).value == Mark(1.0, "right")
    assert scaled(line(0.0, 4.85, 5.15)).value == Mark(0.0, "left")
    assert scaled(line(float("inf"), 4.85, 5.15)).value == Mark(1.0, "right")
    assert scaled(line(4.7e6, 150.0, None)).value == Mark(1.0, "right")


def test_a_reading_not_far_outside_is_drawn_in_its_place() -> None:
    value = scaled(line(5.3, 4.85, 5.15)).value
    assert value.beyond == ""
    assert 0.9 < value.at < 1.0


def test_a_line_with_one_limit_begins_at_nought() -> None:
    it = scaled(line(0.0, None, 0.06))
    assert it.value == Mark(0.0, "")
    assert it.low is None
    assert it.high is not None
    assert 0.5 < it.high < 0.8


def test_the_reading_as_found_is_on_the_same_scale() -> None:
    it = scaled(line(0.024, None, 0.06, before=0.142))
    assert it.before is not None
    assert it.high is not None
    assert it.value.at < it.high < it.before.at < 1.0


def test_a_limit_of_nought_and_limits_that_are_one_have_room_around_them() -> None:
    for it in (scaled(line(0.0, None, 0.0)), scaled(line(0.0, 0.0, None)), scaled(line(3.0, 3.0, 3.0))):
        for limit in (it.low, it.high):
            assert limit is None or 0.0 < limit < 1.0
    assert scaled(line(0.0, None, None)).value == Mark(0.5, "")


@given(lines)
def test_everything_stands_on_the_line_in_the_order_of_the_numbers(it: NumberLine) -> None:
    assume(it.low is None or it.high is None or it.low <= it.high)
    drawn = scaled(it)
    places = [(it.value, drawn.value.at), (it.value - it.within, drawn.bar[0]), (it.value + it.within, drawn.bar[1])]
    if it.low is not None and drawn.low is not None:
        places.append((it.low, drawn.low))
    if it.high is not None and drawn.high is not None:
        places.append((it.high, drawn.high))
    if it.before is not None and drawn.before is not None:
        places.append((it.before, drawn.before.at))
    assert all(0.0 <= place <= 1.0 for _, place in places)
    in_turn = sorted(places)
    assert all(left <= right for (_, left), (_, right) in pairwise(in_turn))


@given(lines)
def test_limits_are_always_on_the_line(it: NumberLine) -> None:
    assume(it.low is None or it.high is None or it.low <= it.high)
    drawn = scaled(it)
    assert drawn.low is None or 0.0 <= drawn.low < 1.0
    assert drawn.high is None or 0.0 < drawn.high <= 1.0
