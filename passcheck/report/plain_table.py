"""How does a table stand in lines of plain text?"""

from collections.abc import Callable, Iterator, Sequence
from itertools import zip_longest

from passcheck.report.document import Cell, Column, NumberLine, Table
from passcheck.report.fill import filled, padded
from passcheck.sequence.faults import cells

GAP = 2
NARROWEST = 4
LONG_WORD = 14
"""Words up to this stay whole where there is any way."""
Clean = Callable[[str], str]
Row = tuple[Cell | NumberLine | str, ...]


def table_lines(table: Table, width: int, clean: Clean) -> tuple[str, ...]:
    """Heads, a line under them, and the rows, each cell broken into lines below one another."""
    table = _without_said_again(table)
    heads = [clean(column.head) for column in table.columns]
    rows = [clean(row) if isinstance(row, str) else [_said(cell, clean) for cell in row] for row in table.rows]
    widths = _widths(table.columns, [heads, *(row for row in rows if not isinstance(row, str))], width)
    rights = [column.right for column in table.columns]
    lines = [*_row(heads, widths, rights), (" " * GAP).join("-" * one for one in widths)]
    for row in rows:
        lines += filled(row.upper(), width) if isinstance(row, str) else _row(row, widths, rights)
    return tuple(lines)


def _said(cell: Cell | NumberLine | str, clean: Clean) -> str:
    if isinstance(cell, str):
        return clean(cell)
    if isinstance(cell, NumberLine):
        return clean(cell.words)
    return f"({clean(cell.text)})" if cell.struck and cell.text else clean(cell.text)


def _row(texts: Sequence[str], widths: Sequence[int], rights: Sequence[bool]) -> Iterator[str]:
    columns = [filled(text, width) for text, width in zip(texts, widths, strict=True)]
    for line in zip_longest(*columns, fillvalue=""):
        yield (" " * GAP).join(
            padded(text, width, right=right) for text, width, right in zip(line, widths, rights, strict=True)
        )


def _widths(columns: Sequence[Column], rows: Sequence[Sequence[str]], width: int) -> list[int]:
    """As wide as each column needs; where that is too much, the room is shared out as the columns ask for it.

    A column that needs less than its share leaves the rest to the others, one whose words are longer takes it.
    """
    needs = [max(NARROWEST, *(_widest(row[number].split("\n")) for row in rows)) for number in range(len(columns))]
    words = [max(NARROWEST, *(_widest(row[number].split()) for row in rows)) for number in range(len(columns))]
    room = width - GAP * (len(columns) - 1)
    if sum(needs) <= room:
        return needs
    least = _least([min(one, LONG_WORD) for one in words], room)
    widths = [0] * len(columns)
    unsettled = list(range(len(columns)))
    while unsettled:
        rest, whole = room - sum(widths), sum(columns[number].share for number in unsettled) or 1.0
        shares = {number: int(rest * columns[number].share / whole) for number in unsettled}
        floors = {number: least[number] for number in unsettled}
        # Long words first: what a column leaves over is given away only when each has its least.
        settled = (
            {number: floor for number, floor in floors.items() if shares[number] < floor}
            or {number: needs[number] for number in unsettled if needs[number] <= shares[number]}
            or shares
        )
        for number, wide in settled.items():
            widths[number] = wide
        unsettled = [number for number in unsettled if number not in settled]
    return widths


def _least(words: Sequence[int], room: int) -> list[int]:
    """Room for each column's longest word; where not all have it, the shorter words stay whole."""
    even = max(NARROWEST, room // len(words))
    least = [min(one, even) for one in words]
    for number in sorted(range(len(words)), key=lambda number: words[number]):
        if words[number] - least[number] <= room - sum(least):
            least[number] = words[number]
    return least


def _without_said_again(table: Table) -> Table:
    """The table without the columns of drawings whose every number stands in the other boxes of its row."""
    rows = [row for row in table.rows if not isinstance(row, str)]
    drawn = [
        number
        for number in range(len(table.columns))
        if any(isinstance(row[number], NumberLine) for row in rows) and all(_said_again(row, number) for row in rows)
    ]

    def kept(row: Row) -> Row:
        return tuple(box for number, box in enumerate(row) if number not in drawn)

    columns = tuple(column for number, column in enumerate(table.columns) if number not in drawn)
    return Table(columns, tuple(row if isinstance(row, str) else kept(row) for row in table.rows))


def _said_again(row: Row, number: int) -> bool:
    box = row[number]
    if not isinstance(box, NumberLine):
        return not _said(box, str)
    others = "\n".join(_said(one, str) for place, one in enumerate(row) if place != number)
    return all(one.removeprefix("as found ") in others for part in box.words.split("; ") for one in part.split(", "))


def _widest(texts: Sequence[str]) -> int:
    return max(map(cells, texts), default=0)
