"""Do dots become signs, and keep apart what was drawn?"""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from passcheck.app.widgets.plot_canvas import Canvas, dots_between

PLACES = st.tuples(st.integers(-3, 25), st.integers(-3, 25))


def text(canvas: Canvas) -> list[str]:
    return ["".join(sign for sign, _ink in row) for row in canvas.rows()]


def test_a_cell_holds_eight_dots() -> None:
    canvas = Canvas(2, 1)
    canvas.dot(0, 0, "curve")
    assert text(canvas) == ["⠁ "]
    for x in range(2):
        for y in range(4):
            canvas.dot(2 + x, y, "curve")
    assert text(canvas) == ["⠁⣿"]


def test_the_curve_s_colour_wins_in_a_cell_and_no_dot_is_lost() -> None:
    canvas = Canvas(1, 1)
    canvas.dot(0, 0, "curve")
    canvas.dot(1, 3, "line")
    assert canvas.rows() == ((("⢁", "curve"),),)


def test_a_field_of_dots_leaves_the_curves_alone() -> None:
    canvas = Canvas(2, 1)
    canvas.dot(0, 0, "curve")
    canvas.scatter(1, 1, "band")
    canvas.scatter(2, 1, "band")
    canvas.scatter(3, 3, "band")
    assert canvas.rows() == ((("⠁", "curve"), ("⢂", "band")),)


def test_a_level_way_is_a_line_and_a_dotted_one_has_gaps() -> None:
    canvas = Canvas(4, 1)
    canvas.way([(0, 0), (7, 0)], "curve")
    assert text(canvas) == ["⠉⠉⠉⠉"]
    dotted = Canvas(4, 1)
    dotted.way([(0, 0), (7, 0)], "other", dotted=True)
    assert text(dotted) == ["⠉ ⠉ "]


@given(st.lists(PLACES, min_size=1, max_size=6))
def test_a_way_has_no_gap_and_nothing_is_drawn_beside_the_field(points: list[tuple[int, int]]) -> None:
    way = list(dots_between(points))
    assert way[0] == points[0]
    assert way[-1] == points[-1]
    for (x, y), (after_x, after_y) in pairwise(way):
        assert max(abs(after_x - x), abs(after_y - y)) == 1
    canvas = Canvas(5, 3)
    canvas.way(points, "curve")
    assert [len(line) for line in text(canvas)] == [5] * 3
