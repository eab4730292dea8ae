"""Do courses stand on their axes, with intervals and with the line that means something?"""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.app.widgets.plot_canvas import Row
from passcheck.app.widgets.plot_course import LOWEST, NARROWEST, course_rows
from passcheck.job.figure import Course, Point

RISING = Course("back", "days", "back, %", (Point(0, 0), Point(50, 40, 20, 60), Point(100, 40, 20, 60)), stepped=True)
MONTHS = ((1.0, "2031-01"), (2.0, "2031-02"))
MARGIN = Course("rail", "month", "margin, %", (Point(1, 60), Point(2, 40)), x_labels=MONTHS, line=0.0)


def text(rows: tuple[Row, ...]) -> list[str]:
    return ["".join(sign for sign, _ink in row) for row in rows]


def inked(rows: tuple[Row, ...], ink: str) -> str:
    return "".join(sign for row in rows for sign, of in row if of == ink)


def test_a_step_holds_until_the_next() -> None:
    drawn = text(course_rows([RISING], 40, 10))
    assert drawn[0] == "back, % by days   ⠂⡀ 95 % interval"
    assert drawn[1].startswith("60 ┤")
    # 40 of 60 on 28 dots lies on dot 18 from the foot, in the third line from the top; it rises in the middle.
    level = drawn[3][4:]
    assert level.strip()[0] in "⡇⢸⡏⢹⠋⠉⣸⡀⢀⠒⡖⢲⡤⢠⠤⣄⣀⡠"
    assert abs(level.index(level.strip()[0]) - len(level) // 2) <= 2
    assert drawn[-2].startswith("   └┬")


def test_the_axes_carry_round_numbers_and_months() -> None:
    drawn = text(course_rows([MARGIN], 60, 12))
    assert [line.split("┤")[0].strip() for line in drawn if "┤" in line] == ["60", "40", "20", "0"]
    assert drawn[-1].split() == ["2031-01", "2031-02"]
    assert "the limit, at 0" in drawn[0]


def test_without_colour_line_curve_and_interval_differ() -> None:
    rows = course_rows([RISING], 60, 12)
    assert "⣀" not in inked(rows, "band")
    assert "⠒" not in inked(rows, "band")
    limit = next(line for line in text(course_rows([MARGIN], 60, 12)) if line.startswith(" 0 ┤"))
    assert limit.endswith("⠒ ⠒ " * 5)


def test_an_axis_that_goes_on_behind_its_last_label_tells_its_end() -> None:
    long = Course(
        "back", "days", "back, %", (Point(0, 0), Point(570, 9)), stepped=True, x_labels=((0, "0"), (365, "365"))
    )
    assert text(course_rows([long], 60, 12))[-1].split() == ["0", "365", "570"]
    short = Course(
        "back", "days", "back, %", (Point(0, 0), Point(380, 9)), stepped=True, x_labels=((0, "0"), (365, "365"))
    )
    assert text(course_rows([short], 60, 12))[-1].split() == ["0", "365"]


def test_two_courses_are_told_apart_by_their_dots_and_named() -> None:
    other = Course("released", "month", "jobs", (Point(1, 2), Point(2, 4)))
    rows = course_rows([Course("opened", "month", "jobs", (Point(1, 3), Point(2, 5))), other], 60, 12)
    assert "⠉⠉ opened   ⠁⠁ released" in text(rows)[0]
    assert inked(rows, "other").strip()
    assert inked(rows, "curve").strip()


def test_a_mean_of_two_units_doesn_t_press_the_curve_flat() -> None:
    wide = Course("rail", "month", "margin, %", (Point(1, 60, -1200, 1300), Point(2, 40, 38, 42)), line=0.0)
    numbers = [line.split("┤")[0].strip() for line in text(course_rows([wide], 60, 16)) if "┤" in line]
    assert float(numbers[0]) <= 150
    assert float(numbers[-1]) >= -100


@pytest.mark.parametrize(("width", "height"), [(NARROWEST - 1, 20), (80, LOWEST - 1)])
def test_without_room_there_is_no_plot(width: int, height: int) -> None:
    assert course_rows([RISING], width, height) == ()
    assert course_rows([Course("none", "x", "y", ())], 80, 20) == ()


YS = st.lists(st.floats(-1e4, 1e4, allow_subnormal=False), min_size=1, max_size=20)


@given(YS, st.integers(NARROWEST, 120), st.integers(LOWEST, 40), st.booleans())
def test_in_every_size_each_line_has_the_same_width(ys: list[float], width: int, height: int, stepped: bool) -> None:
    points = tuple(Point(at, round(y, 2), y - 1, y + 1) for at, y in enumerate(ys))
    drawn = text(course_rows([Course("any", "x", "y", points, stepped)], width, height))
    assert LOWEST <= len(drawn) <= height
    assert len(course_rows([Course("any", "x", "y", points, stepped)], width, len(drawn))) == len(drawn)
    at = [place for place, line in enumerate(drawn) if "┤" in line]
    assert len({after - before for before, after in pairwise(at)}) == 1, "numbers stand equally far apart"
    assert {len(line) for line in drawn[1:]} == {width}
    assert len(drawn[0]) <= width
