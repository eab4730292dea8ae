"""How do values with their intervals look as bars below each other?"""

from typing import Final

from passcheck.app.widgets.plot_canvas import Ink, Row, joined_runs
from passcheck.app.widgets.plot_scale import Scale, label_row, round_scale, spread, tick_text
from passcheck.job.figure import Bar, Bars
from passcheck.job.figure_table import cut
from passcheck.sequence.faults import cells
from passcheck.sequence.show_text import show_text

NARROWEST: Final = 30
CELLS_A_TICK: Final = 9
VALUE: Final = 8
"""Cells kept free behind a bar without an interval, for its number."""


def bars_rows(bars: Bars, width: int) -> tuple[Row, ...]:
    """What is drawn, a line a bar, and the axis; `|--o--|` is a value with its interval. Nothing without room."""
    if width < NARROWEST or not bars.bars:
        return ()
    labels = [show_text(bar.label, 200) for bar in bars.bars]
    margin = min(max(map(cells, labels)), width // 3)
    room = width - margin - 2
    times = 100.0 if bars.unit == "share" else 1.0
    has_intervals = any(bar.low is not None for bar in bars.bars)
    field = room if has_intervals else room - VALUE
    scale = round_scale(0.0, times * bars.most, field // CELLS_A_TICK + 1, whole=not has_intervals)
    drawn = [
        (*_label(label, margin), *_bar(bar, scale, field, times))
        for label, bar in zip(labels, bars.bars, strict=True)
    ]  # fmt: skip
    ticks = spread([(scale.place(tick, field), tick_text(tick)) for tick in scale.ticks], field)
    return (((_head(bars), "text"),), *drawn, _axis(ticks, margin, field), _ticks(ticks, margin, field))


def _head(bars: Bars) -> str:
    """What is drawn, and by which signs."""
    if bars.unit == "share":
        return f"{bars.name}, %   |--o--| the share and its 95 % interval"
    if any(bar.low is not None for bar in bars.bars):
        return f"{bars.name}, {bars.unit}   |--o--|"
    return bars.name or bars.unit


def _label(label: str, margin: int) -> Row:
    shown = cut(label, margin)
    return (shown + " " * (margin - cells(shown)), "text"), (" │", "axis")


def _bar(bar: Bar, scale: Scale, field: int, times: float) -> Row:
    at = scale.place(times * bar.value, field)
    if bar.low is None or bar.high is None:
        return ("━" * at, "curve"), (f" {tick_text(times * bar.value)}", "text")
    low, high = (scale.place(times * end, field) for end in (bar.low, bar.high))
    return joined_runs(_sign(column, low, at, high) for column in range(high + 1))


def _sign(column: int, low: int, at: int, high: int) -> tuple[str, Ink]:
    if column == at:
        return "o", "curve"
    if column in (low, high):
        return "|", "other"
    return ("-", "other") if column > low else ("·", "axis")


def _axis(ticks: tuple[tuple[int, str], ...], margin: int, field: int) -> Row:
    marked = {column for column, _text in ticks}
    line = "".join("┬" if column in marked else "─" for column in range(field))
    return ((" " * (margin + 1) + "└" + line, "axis"),)


def _ticks(ticks: tuple[tuple[int, str], ...], margin: int, field: int) -> Row:
    return ((" " * (margin + 2) + label_row(ticks, field), "text"),)
