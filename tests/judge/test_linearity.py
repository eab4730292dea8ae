"""How far off and how straight is a scale?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.linearity import half_width_of_a_division, hysteresis, linearity, scale_reading_u

MARKS = [0.0, 25.0, 50.0, 75.0, 100.0]
readings = st.lists(st.floats(-20, 120), min_size=5, max_size=5)


def test_d04_every_kind_of_linearity() -> None:
    inputs, expected, tolerance = reference_case("D04")
    found = linearity(inputs["expected"], inputs["reading"])
    assert found.errors == pytest.approx(expected["error_percent_span"], abs=tolerance["abs"])
    sizes = (found.max_error, found.terminal_based, found.least_squares, found.independent)
    names = ("max_error", "terminal_based", "least_squares", "independent")
    assert sizes == pytest.approx([expected[name] for name in names], abs=tolerance["abs"])
    assert (found.end_low, found.end_high) == (0.5, -1.0)
    assert [found.hysteresis, found.errors_down] == [None, None]


def test_a_scale_that_is_off_at_its_ends_is_straight_all_the_same() -> None:
    found = linearity(MARKS, [5 + 1.1 * mark for mark in MARKS])
    assert (found.terminal_based, found.least_squares, found.independent) == pytest.approx((0, 0, 0), abs=1e-9)
    assert (found.end_low, found.end_high) == pytest.approx((5, 15))


def test_both_directions_count_for_the_error_and_their_difference_is_the_hysteresis() -> None:
    found = linearity(MARKS, MARKS, [0, 25, 50, 78, 100])
    assert list(found.errors_down or ()) == [0, 0, 0, 3, 0]
    assert (found.max_error, found.hysteresis) == (3, 3)
    assert hysteresis([1, 2], [2, 1.5]) == 1


def test_a_wider_span_makes_every_percent_smaller() -> None:
    assert linearity(MARKS, [0.5, 26, 51.5, 76, 99], span=200).max_error == pytest.approx(0.75)


def test_ends_are_found_in_any_order_of_marks() -> None:
    found = linearity([50, 0, 100], [51.5, 0.5, 99])
    assert (found.end_low, found.end_high, found.terminal_based) == pytest.approx((0.5, -1.0, 1.75))


def test_an_eye_reads_a_fifth_of_a_division() -> None:
    assert scale_reading_u(half_width_of_a_division(2.0)) == pytest.approx(0.4 / math.sqrt(3))


@given(readings, st.floats(0.1, 10))
def test_another_unit_changes_no_percent(up: list[float], factor: float) -> None:
    plain = linearity(MARKS, up)
    other = linearity([factor * mark for mark in MARKS], [factor * read for read in up])
    assert other.errors == pytest.approx(plain.errors, abs=1e-6)
    assert other.independent == pytest.approx(plain.independent, abs=1e-6)


@given(readings)
def test_the_best_line_is_never_worse_than_the_others(up: list[float]) -> None:
    found = linearity(MARKS, up)
    assert found.independent <= found.least_squares + 1e-9
    assert found.independent <= found.terminal_based + 1e-9
    mirrored = linearity(MARKS[::-1], up[::-1])
    assert mirrored.independent == pytest.approx(found.independent, abs=1e-9)


@pytest.mark.parametrize(
    ("expected", "up", "down", "span"),
    [(MARKS, MARKS[:4], None, None), (MARKS, MARKS, MARKS[:4], None),
     ([0, 1], [0, 1], None, None),
     ([5] * 3, [5] * 3, None, None), (MARKS, MARKS, None, -1.0)],
)  # fmt: skip
def test_rows_that_make_no_scale_are_refused(
    expected: list[float], up: list[float], down: list[float] | None, span: float | None
) -> None:
    with pytest.raises(ValueError, match=r"marks|span"):
        linearity(expected, up, down, span)


def test_a_scale_may_begin_anywhere_and_be_small() -> None:
    far = linearity([mark + 300 for mark in MARKS], [read + 300 for read in (0.5, 26, 51.5, 76, 99)])
    assert (far.terminal_based, far.independent) == pytest.approx((1.75, 0.875))
    small = linearity([0.0, 0.25, 0.5], [0.0, 0.3, 0.5])
    assert small.errors == pytest.approx((0, 10, 0))
    with pytest.raises(ValueError, match="span"):
        linearity(MARKS, MARKS, span=math.inf)
    with pytest.raises(ValueError, match="not 201"):
        linearity(list(range(201)), list(range(201)))
