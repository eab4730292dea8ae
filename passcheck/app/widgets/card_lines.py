"""How is the traveller card written, line by line, at a given width?"""

import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import zip_longest

from passcheck.app.widgets.stamp import Box, Piece, box, fit
from passcheck.job.traveller import COLUMNS, Card, Column, Row
from passcheck.sequence.show_text import show_text

MARK_W = 2
NARROW_W = 10  # burn-in: one box a soak, with room for a word
WIDEST_BOX = 19
NARROWEST_TITLE = 14


@dataclass(frozen=True, slots=True)
class CardLine:
    """One line of the card: its pieces, and the step it belongs to, if any."""

    pieces: tuple[Piece, ...]
    step: str | None = None
    first: bool = False  # the line of the step that carries the mark


@dataclass(frozen=True, slots=True)
class Ruling:
    """How the card is ruled: width of the titles, the columns shown, and a width for each."""

    title_w: int
    columns: tuple[Column, ...]
    widths: tuple[int, ...]


def ruling(card: Card, width: int) -> Ruling:
    """Columns that no step of this job uses yet (retest, burn-in) take no room until they do."""
    shown = tuple(column for column in COLUMNS if _used(card, column))
    wide = [column for column in shown if column != "burn-in"]
    room = width - MARK_W - len(shown) - (NARROW_W if "burn-in" in shown else 0)
    title_w = max(NARROWEST_TITLE, min(room // 3, 34))
    each = max(8, min(WIDEST_BOX, (room - title_w) // max(len(wide), 1)))
    title_w = max(1, room - each * len(wide))
    return Ruling(title_w, shown, tuple(NARROW_W if column == "burn-in" else each for column in shown))


def head_lines(title: str, revision: str, ruled: Ruling) -> tuple[tuple[Piece, ...], ...]:
    """The card's upper edge with the hole for its string, and the names of the columns."""
    width = MARK_W + ruled.title_w + sum(ruled.widths) + len(ruled.widths)
    left, right = f"╭─ TRAVELLER  {show_text(title)} ", f" {revision} ─╮"
    fill = width - len(right) - 9
    edge = fit(left, fill) if len(left) > fill else left + "─" * (fill - len(left))
    top: tuple[Piece, ...] = ((edge, "edge"), ("──( O )──", "edge"), (right, "edge"))
    names: list[Piece] = [(fit("  step", MARK_W + ruled.title_w), "head")]
    for column, column_w in zip(ruled.columns, ruled.widths, strict=True):
        names += [("│", "rule"), (fit(f" {column}", column_w), "head")]
    return (top, tuple(names))


def card_lines(card: Card, ruled: Ruling) -> tuple[CardLine, ...]:
    """Everything below the head: a heading a group, then its steps, each as many lines as its fullest box."""
    return tuple(_lines(card, ruled))


def _lines(card: Card, ruled: Ruling) -> Iterator[CardLine]:
    group = None
    width = MARK_W + ruled.title_w + sum(ruled.widths) + len(ruled.widths)
    for row in card.rows:
        if row.group != group:
            group = row.group
            name = f" {show_text(group).upper()} " if group else ""
            yield CardLine(((fit(name + "─" * (width - len(name)), width), "group"),))
        yield from _step_lines(row, ruled)


def _step_lines(row: Row, ruled: Ruling) -> Iterator[CardLine]:
    by_column = dict(zip(COLUMNS, row.boxes, strict=True))
    boxes = [box(by_column[column], column_w) for column, column_w in zip(ruled.columns, ruled.widths, strict=True)]
    height = max((len(one.lines) for one in boxes), default=1)
    title = textwrap.wrap(show_text(row.step.title), max(ruled.title_w - 1, 1)) or [""]
    if len(title) > max(height, 2):
        title = [*title[: max(height, 2) - 1], " ".join(title[max(height, 2) - 1 :])]
    for number, (words, line) in enumerate(zip_longest(title, range(height), fillvalue=None)):
        pieces: list[Piece] = [(fit(words or "", ruled.title_w), "title")]
        for one, column_w in zip(boxes, ruled.widths, strict=True):
            pieces.append(("│", "rule"))
            pieces.extend(_box_line(one, line, column_w))
        yield CardLine(tuple(pieces), row.step.id, number == 0)


def _box_line(one: Box, line: int | None, width: int) -> tuple[Piece, ...]:
    if line is None or line >= len(one.lines):
        return ((" " * width, "paper"),)
    return one.lines[line]


def _used(card: Card, column: Column) -> bool:
    place = COLUMNS.index(column)
    stamps = [row.boxes[place] for row in card.rows]
    if column == "retest":
        return any(stamp is not None and stamp.tries for stamp in stamps)
    return any(stamp is not None for stamp in stamps)
