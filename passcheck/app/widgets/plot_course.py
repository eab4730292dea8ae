"""How do courses look on axes: curves over their intervals, with a line that means something?"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from passcheck.app.widgets.plot_canvas import ACROSS, DOWN, Canvas, Ink, Row, joined_runs
from passcheck.app.widgets.plot_scale import Scale, label_row, line_scale, round_scale, spread, tick_text
from passcheck.job.figure import Course, Point

NARROWEST, LOWEST = 24, 6
"""Cells, with axes; in less there is no plot."""
BESIDE: Final = 3
"""Lines of a plot that aren't its field: what is drawn, the axis, its labels."""
MARKED: Final = 60
"""Points at most that get a mark each; more would run together."""
SCATTERED: Final = frozenset({(0, 1), (2, 3)})
"""One dot in eight, so that a field of them is lighter than any curve."""
MIDDLE: Final = 1
"""Which dot of a line, from its top, stands for the number at the line."""

LONGEST_BARE: Final = 0.1
"""Of an axis, behind the last label: where more would stand without one, its end is told too."""

Dots = tuple[int, int]


def course_rows(courses: Sequence[Course], width: int, height: int) -> tuple[Row, ...]:
    """Courses that share axes, in at most so many cells; nothing where there is no room or no point.

    The first is a line, further ones are dotted; an interval is a field of scattered dots between two edges. Lines are
    left over where the curves don't reach into them.
    """
    points = [point for course in courses for point in course.points]
    if not points or width < NARROWEST or height < LOWEST:
        return ()
    rows, vertical = _vertical(courses, height - BESIDE)
    margin = max(len(tick_text(tick)) for tick in vertical.ticks) + 1
    canvas = Canvas(width - margin - 1, rows)
    horizontal = _horizontal(courses)
    drawn = [_Drawn(canvas, horizontal, vertical, course) for course in courses]
    for place, one in enumerate(drawn):
        one.draw("curve" if place == 0 else "other")
    for one in drawn:
        one.fill()
    labels = _x_labels(courses[0], horizontal, canvas.width)
    return (
        ((_head(courses)[:width], "text"),),
        *_with_axis(canvas, vertical, margin),
        _x_axis(labels, margin, canvas.width),
        ((" " * (margin + 1) + label_row(labels, canvas.width), "text"),),
    )


def _horizontal(courses: Sequence[Course]) -> Scale:
    """From the first point to the last; months stand in the middle of theirs, so half of one lies beside either end."""
    xs = [point.x for course in courses for point in course.points]
    beside = 0.0 if courses[0].stepped else 0.5
    return Scale(min(xs) - beside, max(*xs, min(xs) + 1 - 2 * beside) + beside, ())


def _vertical(courses: Sequence[Course], most_lines: int) -> tuple[int, Scale]:
    """The lines of an axis that holds all values, 0 and the line; of an interval as much as the values are apart.

    The mean of two units is known so badly that its whole interval would press every curve flat.
    """
    ys = [0.0, *(course.line for course in courses if course.line is not None)]
    ys += [point.y for course in courses for point in course.points]
    points = [point for course in courses for point in course.points]
    span = (max(ys) - min(ys)) or 1.0
    low = max(min(ys) - span, min([*ys, *(one.low for one in points if one.low is not None)]))
    high = min(max(ys) + span, max([*ys, *(one.high for one in points if one.high is not None)]))
    return line_scale(low, high, most_lines, whole=all(float(y).is_integer() for y in ys))


class _Drawn:
    """One course on its way onto the canvas."""

    def __init__(self, canvas: Canvas, horizontal: Scale, vertical: Scale, course: Course) -> None:
        self._canvas, self._course = canvas, course
        self._horizontal, self._vertical = horizontal, vertical

    def draw(self, ink: Ink) -> None:
        course = self._course
        self._canvas.way(self._corners(), ink, dotted=ink == "other")
        if not course.stepped and len(course.points) <= MARKED:
            for point in course.points:
                self._mark(point, ink)
        if course.line is not None:
            level = self._y(course.line)
            self._canvas.way([(0, level), (self._canvas.size[0] - 1, level)], "line", dotted=True)

    def fill(self) -> None:
        """The intervals, in what the curves left free."""
        for one, other in pairwise(self._course.points):
            self._band(one, other)

    def _corners(self) -> list[Dots]:
        """The points, and where a step holds, the corner before the next."""
        corners: list[Dots] = []
        for point in self._course.points:
            x, y = self._x(point.x), self._y(point.y)
            if self._course.stepped and corners:
                corners.append((x, corners[-1][1]))
            corners.append((x, y))
        return corners

    def _band(self, one: Point, other: Point) -> None:
        """Scattered dots between the ends of two intervals; none where either has none."""
        if one.low is None or one.high is None or other.low is None or other.high is None:
            return
        begin, end = self._x(one.x), self._x(other.x)
        for x in range(begin, end + 1):
            share = 0.0 if self._course.stepped or begin == end else (x - begin) / (end - begin)
            top = self._y(one.high + (other.high - one.high) * share)
            bottom = self._y(one.low + (other.low - one.low) * share)
            for y in range(top, bottom + 1):
                if (x % 4, y % 4) in SCATTERED or (y in (top, bottom) and x % ACROSS == 0):
                    self._canvas.scatter(x, y, "band")

    def _mark(self, point: Point, ink: Ink) -> None:
        x, y = self._x(point.x), self._y(point.y)
        for across, down in ((0, 0), (-1, 0), (1, 0), (0, -1), (0, 1)):
            self._canvas.dot(x + across, y + down, ink)

    def _x(self, value: float) -> int:
        return self._horizontal.place(value, self._canvas.size[0])

    def _y(self, value: float) -> int:
        """The dot from the top; the ends of the scale lie in the middle of the first and the last line."""
        between = DOWN * (self._canvas.height - 1)
        return MIDDLE + between - self._vertical.place(value, between + 1)


def _head(courses: Sequence[Course]) -> str:
    """What is drawn, by which signs."""
    first = courses[0]
    parts = [f"{first.y} by {first.x}"]
    if len(courses) > 1:
        parts += [f"{'⠉⠉' if at == 0 else '⠁⠁'} {course.name}" for at, course in enumerate(courses)]
    if any(point.low is not None for point in first.points):
        parts.append("⠂⡀ 95 % interval")
    if first.line is not None:
        parts.append(f"⠒ ⠒ the limit, at {tick_text(first.line)}")
    return "   ".join(parts)


def _with_axis(canvas: Canvas, vertical: Scale, margin: int) -> list[Row]:
    """The field with the numbers of the vertical axis on its left."""
    last = canvas.height - 1
    at_row = {last - vertical.place(tick, canvas.height): tick_text(tick) for tick in vertical.ticks}
    return [
        ((f"{at_row.get(y, ''):>{margin - 1}} ", "text"), ("┤" if y in at_row else "│", "axis"), *row)
        for y, row in enumerate(canvas.rows())
    ]


def _x_labels(course: Course, horizontal: Scale, width: int) -> tuple[tuple[int, str], ...]:
    """The course's own labels, or round numbers, as far as there is room."""
    wanted = course.x_labels
    if not wanted:
        ticks = round_scale(horizontal.start, horizontal.end, max(width // 10, 2)).ticks
        wanted = tuple((tick, tick_text(tick)) for tick in ticks if horizontal.start <= tick <= horizontal.end)
    elif course.stepped and wanted[-1][0] < horizontal.end - LONGEST_BARE * (horizontal.end - horizontal.start):
        wanted = (*wanted, (horizontal.end, tick_text(horizontal.end)))
    dots = width * ACROSS
    return spread([(horizontal.place(x, dots) // ACROSS, text) for x, text in wanted], width)


def _x_axis(labels: Sequence[tuple[int, str]], margin: int, width: int) -> Row:
    marked = {column for column, _text in labels}
    line = "".join("┬" if column in marked else "─" for column in range(width))
    return joined_runs([(" " * margin, "axis"), ("└", "axis"), (line, "axis")])
