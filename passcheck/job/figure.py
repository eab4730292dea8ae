"""What is a figure of the shop: a table, the words that keep it honest, and something to draw?

Made by `figures.py` from counts; the screen, the command line and a spreadsheet show the same rows and sentences.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Bar:
    """One value with its interval, on a scale that all bars of a plot share; None where no interval can be stated."""

    label: str
    value: float
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class Bars:
    """Bars below each other from 0 to `most`; `unit` is what a value is (`share`, `s`, `parts`), `name` of what."""

    bars: tuple[Bar, ...]
    most: float
    unit: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class Point:
    """One point of a course with its interval, or None."""

    x: float
    y: float
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Course:
    """Points over time, or the steps of a survival curve.

    Attributes:
        name: of what.
        x, y: what the axes are, with the unit.
        points: in order of x.
        stepped: each value holds until the next.
        x_labels: texts for some x, such as months.
        line: a y that means something (a limit), or None.
    """

    name: str
    x: str
    y: str
    points: tuple[Point, ...]
    stepped: bool = False
    x_labels: tuple[tuple[float, str], ...] = ()
    line: float | None = None


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure.

    Attributes:
        name: one word for the command line and for JSON, such as `first-try`.
        title: what it answers, as a question or a name.
        heads: of the table, with units; `numbers` says which columns are numbers.
        rows: as they are shown; an empty table says in `words` why.
        words: what keeps it honest: counts, intervals, what was left out, what it doesn't show.
        plots: nothing to draw, bars, or courses that may share axes.
        long: heads of the columns that are cut first where there is no room for all.
        apart: each course has axes of its own, and they stand in the order of the rows.
    """

    name: str
    title: str
    heads: tuple[str, ...]
    numbers: tuple[bool, ...]
    rows: tuple[tuple[str, ...], ...]
    words: tuple[str, ...]
    plots: tuple[Bars | Course, ...] = ()
    long: tuple[str, ...] = ()
    apart: bool = False
