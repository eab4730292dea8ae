"""How do a step's readings as found, at each retest and as left compare at a glance, beside a good unit's?

One row an attempt: word, figure, instrument, who, when, what struck it, and its number line on a scale that all rows
share. A step with several numbers (marks, sweeps, tables) has one row of lines a number instead, before and after side
by side. Every sign is the number line's; a struck row says by what, so nothing rests on colour.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from rich.cells import cell_len
from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from passcheck.app.plain import joined
from passcheck.app.widgets.number_line import Scale, figures_on, limit_figures, scale_of, signs_on
from passcheck.app.widgets.stamp import fit
from passcheck.job.answers import TapPairsAnswer, TapRowsAnswer
from passcheck.job.before_after import BeforeAfter, Shift, before_after, stamped
from passcheck.job.held_numbers import HeldNumber, held_numbers
from passcheck.job.staleness import call, stale_by
from passcheck.job.standing import withdrawn
from passcheck.job.state import Attempt, Job
from passcheck.job.traveller import BLANK
from passcheck.sequence.model import Step
from passcheck.sequence.show_text import show_text

HEADING: Final = "BEFORE AND AFTER"
STYLES: Final = {"PASS": "bold", "FAIL": "bold reverse", "DOUBT": "bold underline", "NOT": "bold"}
WIDEST: Final = (12, 20, 8, 6, 12, 14)
"""The most cells of name, stamp, instrument, who, when and what struck it."""
NARROWEST_LINE: Final = 9
WIDEST_LINE: Final = 48
WIDEST_NAME: Final = 16


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its cells, whether it is struck, and the attempt behind it."""

    cells: tuple[str, ...]
    struck: bool
    attempt: Attempt | None


class BeforeAfterView(Widget):
    """The comparison of one step; it takes no room while there is only one attempt to look at."""

    DEFAULT_CSS = "BeforeAfterView { height: auto; width: 1fr; }"

    def __init__(self) -> None:
        """Nothing is compared yet."""
        super().__init__()
        self._subject: tuple[Job, Step] | None = None

    def put(self, job: Job, step: Step) -> None:
        """Compare the attempts of a step."""
        self._subject = (job, step)
        self.display = is_comparison(before_after(job, step))
        self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:  # noqa: ARG002 - as Widget asks
        """As many lines as are drawn at that width."""
        return len(self._lines(width))

    def render(self) -> Content:
        """The lines for the width there is."""
        return Content("\n").join(self._lines(self.size.width))

    def _lines(self, width: int) -> list[Content]:
        return comparison(*self._subject, width) if self._subject is not None and width else []


def is_comparison(found: BeforeAfter) -> bool:
    """Are there two attempts to set beside each other?"""
    return len({one.number for _, one in found.rows if one is not None}) > 1


def comparison(job: Job, step: Step, width: int) -> list[Content]:
    """All lines, none wider than `width` cells."""
    found = before_after(job, step)
    numbers = {one.number: held_numbers(job, step, one) for _, one in found.rows if one is not None}
    single = all(len(held) <= 1 for held in numbers.values())
    told = found.shift.words if found.shift else "" if found.as_left else "nothing counts as left yet"
    head = f"{HEADING}   {told}"
    lines = [joined((fit(head, width).rstrip(), "bold"))]
    lines += _rows(_named_rows(job, found), numbers if single else {}, width)
    return lines if single else [*lines, *_side_by_side(found, numbers, width)]


def _named_rows(job: Job, found: BeforeAfter) -> list[Row]:
    again = {one.number: name for name, one in found.rows if one is not None and name.startswith("retest")}
    rows = []
    for name, one in found.rows:
        if one is None:
            rows.append(Row((name, BLANK, "", "", "", found.open if name == "as left" else ""), False, None))
        elif name == "as left" and one.number in again:
            rows.append(Row((name, f"is {again[one.number]}", "", "", "", ""), False, None))
        else:
            rows.append(_row(job, name, one))
    return rows


def _row(job: Job, name: str, one: Attempt) -> Row:
    change = stale_by(job, one)
    why = "void" if withdrawn(one) else call(change) if change is not None else ""
    tapped = isinstance(one.answer, TapPairsAnswer | TapRowsAnswer)
    by = one.instrument.instrument if one.instrument else "taps" if tapped else ""
    when = f"{one.moment.local():%d.%m. %H:%M}"
    return Row((name, stamped(one), by, one.by, when, why), bool(why), one)


def _rows(rows: Sequence[Row], numbers: Mapping[int, tuple[HeldNumber, ...]], width: int) -> Iterator[Content]:
    """The rows as a table with a number line at the end of each, and the limits' figures under the last."""
    widths = [min(most, max(cell_len(row.cells[n]) for row in rows)) for n, most in enumerate(WIDEST)]
    room = min(WIDEST_LINE, width - sum(widths) - sum(each > 0 for each in widths))
    scale = _common(held for several in numbers.values() for held in several) if room >= NARROWEST_LINE else None
    last: HeldNumber | None = None
    for row in rows:
        held = numbers.get(row.attempt.number, ()) if row.attempt is not None else ()
        line = _line(scale, room, held[0]) if scale is not None and held else ""
        last = held[0] if held else last
        yield _written(row, widths, line, width)
    if scale is not None and last is not None:
        figures = figures_on(scale, room, limit_figures(last.low, last.high, last.unit))
        if figures.strip():
            yield joined(" " * (sum(widths) + sum(each > 0 for each in widths)), figures)


def _written(row: Row, widths: Sequence[int], line: str, width: int) -> Content:
    if row.attempt is None:  # a blank's reason may take the room of what isn't there
        name, stamp, *_, why = row.cells
        return joined(fit(f"{fit(name, widths[0])} {f'{stamp}  {why}'.rstrip()}", width).rstrip())
    ink = "strike" if row.struck else STYLES.get(row.cells[1].split(" ")[0], "")
    parts: list[str | tuple[str, str]] = []
    for place, (cell, room) in enumerate(zip(row.cells, widths, strict=True)):
        if room:
            text = fit(cell, min(room, cell_len(cell)))
            parts += [(text, ink if place == 1 else ""), " " * (room - cell_len(text) + 1)]
    return joined(*parts, line).rstrip()


def _line(scale: Scale, room: int, held: HeldNumber) -> str:
    return signs_on(scale, room, held.low, held.high, held.value, Decimal(repr(held.u)))


def _common(numbers: Iterable[HeldNumber]) -> Scale | None:
    """One scale for all: every reading that isn't far off its limits has its place. Two units share none."""
    held = tuple(numbers)
    scales = [scale_of(one.low, one.high, one.value, Decimal(repr(one.u))) for one in held]
    known = [one for one in scales if one is not None]
    if not known or len({one.unit for one in held}) > 1:
        return None
    return min(start for start, _ in known), max(end for _, end in known)


def _side_by_side(found: BeforeAfter, numbers: Mapping[int, tuple[HeldNumber, ...]], width: int) -> Iterator[Content]:
    """One row a number: its line as found, as left (else at the latest retest) and on a good unit, and the change."""
    after = ("as left", found.as_left) if found.as_left else ("retest", found.retests[-1] if found.retests else None)
    shown = [("as found", found.as_found), after, ("good unit", found.good_units[-1] if found.good_units else None)]
    columns = [(name, {held.name: held for held in numbers[one.number]}) for name, one in shown if one is not None]
    names = list(dict.fromkeys(name for _, by_name in columns for name in by_name))
    if not names:
        return
    shorts = _shorts(found.shift)
    name_w = min(WIDEST_NAME, max(cell_len(show_text(name)) for name in names))
    short_w = max(map(cell_len, shorts.values()), default=0)
    room = min(WIDEST_LINE, (width - name_w - short_w - 1) // len(columns) - 1)
    if room < NARROWEST_LINE:
        return
    yield joined(" " * (name_w + 1), (" ".join(fit(name, room) for name, _ in columns), "underline"))
    every = [one for _, by_name in columns for one in by_name.values()]
    alike = len({(one.low, one.high, one.unit) for one in every}) == 1
    for name in names:
        held = [by_name.get(name) for _, by_name in columns]
        scale = _common(every if alike else (one for one in held if one is not None))
        drawn = (_line(scale, room, one) if scale is not None and one is not None else " " * room for one in held)
        yield joined(f"{fit(name, name_w)} {' '.join(drawn)} {shorts.get(name, '')}".rstrip())
    if alike and (scale := _common(every)) is not None:
        figures = figures_on(scale, room, limit_figures(every[0].low, every[0].high, every[0].unit))
        yield joined(" " * (name_w + 1), " ".join(figures for _ in columns).rstrip())


def _shorts(shift: Shift | None) -> dict[str, str]:
    return {} if shift is None else {part.name: part.short for part in shift.parts}
