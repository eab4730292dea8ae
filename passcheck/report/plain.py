"""How does a paper read as plain text?

The same parts in the same order as on the page, in eighty columns of any terminal or printer. What a page shows by a
line through a text stands in brackets, what it draws is said in words.
"""

from collections.abc import Iterator

from passcheck.report.document import (
    Boxes,
    Cell,
    Code,
    Facts,
    Heading,
    Outcome,
    PageBreak,
    Paper,
    Part,
    Plot,
    Style,
    Table,
    Together,
    ToWrite,
    Words,
)
from passcheck.report.fill import filled, padded
from passcheck.report.plain_form import box_lines, lines_to_write
from passcheck.report.plain_table import table_lines
from passcheck.report.shown import shown
from passcheck.sequence.faults import cells

WIDTH = 80
NAMES = 16
"""Beside it a SHA-256 has room on one line."""
BRACKETS = "(in brackets: struck, no longer counts)"


def plain_text(paper: Paper) -> str:
    """The paper as text, each line cleaned and ended by a line feed."""
    lines = [line for block in _blocks(paper) for line in (*block, "")]
    return "".join(f"{line.rstrip()}\n" for line in lines[:-1])


def _blocks(paper: Paper) -> Iterator[tuple[str, ...]]:
    """What is set apart by an empty line."""
    practice = ("PRACTICE: nothing here is evidence of a real unit.",) if paper.practice else ()
    yield (
        *practice,
        *filled(shown(paper.shop), WIDTH),
        *filled(shown(paper.title).upper(), WIDTH),
        *filled(f"job {shown(paper.job)}, unit {shown(paper.serial)}", WIDTH),
        "=" * WIDTH,
    )
    for part in paper.parts:
        if lines := _part(part):
            yield lines
    without = tuple(f"Inside the page, and not in this text: {one.name}. {one.says}." for one in paper.attached)
    for said in (paper.footer, *without):
        yield filled(shown(said), WIDTH)
    yield (*practice, f"end of this paper: {shown(paper.title)}, job {shown(paper.job)}")


def _part(part: Part) -> tuple[str, ...]:
    match part:
        case Heading(text, level):
            return _heading(shown(text), "=" if level <= 1 else "-")
        case Words(text, style):
            return _words(shown(text), style)
        case Facts(rows):
            return tuple(line for name, value in rows for line in _fact(shown(name), shown(value)))
        case Outcome(word, sentence):
            bar = "#" * WIDTH
            return (bar, *filled(shown(word).upper(), WIDTH), *filled(shown(sentence), WIDTH), bar)
        case Table():
            return (*table_lines(part, WIDTH, shown), *((BRACKETS,) if _has_struck(part) else ()))
        case Plot(title=title, words=words):
            return (*filled(shown(title), WIDTH), *_indented(shown(words)))
        case Code(caption=caption):
            return tuple(line for said in caption for line in filled(shown(said), WIDTH))
        case ToWrite(fields):
            return lines_to_write(fields, WIDTH)
        case Boxes(items):
            return box_lines(items, WIDTH)
        case Together(parts):
            return tuple(line for one in parts for line in _part(one))
        case PageBreak():
            return ()


def _heading(text: str, under: str) -> tuple[str, ...]:
    lines = filled(text, WIDTH)
    return (*lines, under * max(cells(line) for line in lines))


def _words(text: str, style: Style) -> tuple[str, ...]:
    if style == "quote":
        return tuple(f"> {line}" for line in filled(text, WIDTH - 2))
    if style == "notice":
        bar = f"+{'-' * (WIDTH - 2)}+"
        return (bar, *(f"| {padded(line, WIDTH - 4)} |" for line in filled(text, WIDTH - 4)), bar)
    return filled(text, WIDTH)


def _fact(name: str, value: str) -> Iterator[str]:
    names, values = filled(name, NAMES - 2), filled(value, WIDTH - NAMES)
    for number in range(max(len(names), len(values))):
        left = names[number] if number < len(names) else ""
        yield padded(left, NAMES) + (values[number] if number < len(values) else "")


def _indented(text: str) -> Iterator[str]:
    return (f"  {line}" for line in filled(text, WIDTH - 2))


def _has_struck(table: Table) -> bool:
    rows = (row for row in table.rows if not isinstance(row, str))
    return any(isinstance(cell, Cell) and cell.struck for row in rows for cell in row)
