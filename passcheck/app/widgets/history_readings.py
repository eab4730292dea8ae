"""How does one step of one visit look: its stamps, what changed since the unit left, its readings on one scale?"""

from collections.abc import Iterable
from decimal import Decimal
from typing import Final

from rich.cells import cell_len
from textual.content import Content

from passcheck.app.plain import joined
from passcheck.app.widgets.number_line import LEFT, READING, RIGHT, Scale, scale_of, signs_on
from passcheck.app.widgets.stamp import fit
from passcheck.job.archive_rows import AttemptRow
from passcheck.job.traveller import BLANK, WORDS
from passcheck.job.visits import StepAtVisit, StepHistory
from passcheck.judge.quantity import six

FOUND, BOTH = "○", "◉"
NARROWEST_LINE: Final = 9
WIDEST_LINE: Final = 44
COUNTED: Final = "look"
"""Its number is how many things were looked at, which says nothing of the unit."""
STYLES: Final = {"pass": "bold", "fail": "bold reverse", "in doubt": "bold underline", "not measured": "bold"}


def stamp_cell(cell: StepAtVisit, found_w: int, left_w: int) -> Content:
    """As found and as left, each a word and its figure."""
    return joined(*_stamp(cell.found, found_w), *_stamp(cell.left, left_w))


def _stamp(row: AttemptRow | None, width: int) -> tuple[str | tuple[str, str], ...]:
    if row is None:
        return (fit(BLANK, width),)
    figure = "" if row.kind == COUNTED else row.figure
    words = fit(f"{WORDS.get(row.verdict, row.verdict)} {figure}".rstrip(), max(width - 1, 1)).rstrip()
    return (words, STYLES.get(row.verdict, "")), fit("", width - cell_len(words))


def drift_cell(cell: StepAtVisit) -> str:
    """What changed since the unit left at the visit before, and what else was different; "" without a number."""
    if cell.since is None or cell.since.found.kind == COUNTED:
        return ""
    return "; ".join((f"since: {cell.since.short}", *cell.since.remarks))


def has_scale(step: StepHistory) -> bool:
    """Are there limits that its readings can be drawn between?"""
    return _scale(step) is not None


def readings_line(step: StepHistory, cell: StepAtVisit, room: int) -> str:
    """Both readings of a visit on the scale of all visits; "" where there is none or no room."""
    scale, width = _scale(step), min(room, WIDEST_LINE)
    rows = [row for row in (cell.found, cell.left) if row is not None and row.value is not None]
    if scale is None or width < NARROWEST_LINE or not rows or any(row.unit != _unit(step) for row in rows):
        return ""
    main = rows[-1]  # as left where there is one
    low, high, u = _number(main.low), _number(main.high), _number(main.u) or Decimal(0)
    drawn = signs_on(scale, width, low, high, _value(main), u)
    if main is not cell.left:
        return drawn.replace(READING, FOUND)
    return _with_found(drawn, scale, _value(cell.found)) if cell.found in rows else drawn


def _with_found(drawn: str, scale: Scale, value: Decimal | None) -> str:
    """The line with the reading as found laid over it; one that is far off is an arrow at the edge."""
    alone = signs_on(scale, len(drawn), None, None, value, Decimal(0))
    at = next((place for place, sign in enumerate(alone) if sign in (READING, LEFT, RIGHT)), None)
    if at is None:
        return drawn
    sign = BOTH if drawn[at] == READING else FOUND if alone[at] == READING else alone[at]
    return drawn[:at] + sign + drawn[at + 1 :]


def _scale(step: StepHistory) -> Scale | None:
    """One scale for all visits, so that a move is seen."""
    scales = [
        scale_of(_number(row.low), _number(row.high), _value(row), _number(row.u) or Decimal(0)) for row in _rows(step)
    ]
    known = [one for one in scales if one is not None]
    return (min(start for start, _ in known), max(end for _, end in known)) if known else None


def _rows(step: StepHistory) -> Iterable[AttemptRow]:
    both = (row for cell in step.visits for row in (cell.found, cell.left))
    return [row for row in both if row is not None and row.value is not None and row.unit == _unit(step)]


def _unit(step: StepHistory) -> str:
    """That of the latest number; readings in another one have no place on its scale."""
    both = (row for cell in reversed(step.visits) for row in (cell.left, cell.found))
    return next((row.unit for row in both if row is not None and row.value is not None), "")


def _value(row: AttemptRow | None) -> Decimal | None:
    return None if row is None else _number(row.value)


def _number(value: float | None) -> Decimal | None:
    return None if value is None else Decimal(six(value))
