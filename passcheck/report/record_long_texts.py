"""Where does a text stand that is too long for its box of a table?

A row of a table is never cut in two, so a note of two thousand characters in a narrow column would be longer than a
page. Such a text stands below its table in full, and its box says so. Nothing is shortened.
"""

from collections.abc import Iterable

from passcheck.report.document import Cell, Column, NumberLine, Part, Table, Words

IN_A_BOX = 300
"""Characters of one note, reason or answer that still stand beside others in a box."""
IN_A_ROW = 3000
"""Characters across a whole row: some twenty-five lines of it."""
BELOW = "stands below the table"
Box = Cell | NumberLine | str


def one_line(text: str) -> str:
    """A text of several lines as one, for a box."""
    return " / ".join(line for line in text.splitlines() if line.strip())


def boxed(name: str, text: str) -> tuple[str, tuple[Part, ...]]:
    """What stands in a box, and what stands below the table because the text is too long for the box."""
    short = one_line(text)
    if len(short) <= IN_A_BOX:
        return short, ()
    return f"{name} {BELOW}", below(name, text)


def below(name: str, text: str) -> tuple[Part, ...]:
    """A text in full under its name."""
    return Words(f"{name}:", "small"), Words(text, "quote")


def with_rows_that_fit(parts: Iterable[Part]) -> tuple[Part, ...]:
    """The same parts, with what would make a row longer than a page below its table."""
    found: list[Part] = []
    for part in parts:
        found += _fitting(part) if isinstance(part, Table) else (part,)
    return tuple(found)


def _fitting(table: Table) -> tuple[Part, ...]:
    every = sum(column.share for column in table.columns)
    long: list[Part] = []
    rows = tuple(
        row
        if isinstance(row, str)
        else tuple(
            _box(column, box, _text(row[0]), every, long) for column, box in zip(table.columns, row, strict=True)
        )
        for row in table.rows
    )
    return Table(table.columns, rows), *long


def _box(column: Column, box: Box, name: str, every: float, long: list[Part]) -> Box:
    """The box, or the word that its text stands below; that is then put on the list."""
    text = _text(box)
    if isinstance(box, NumberLine) or len(text) <= IN_A_ROW * column.share / every:
        return box
    long += below(f"{column.head} ({name[:IN_A_BOX]})", text)
    return BELOW if isinstance(box, str) else Cell(BELOW, box.struck, box.strong)


def _text(box: Box) -> str:
    return box if isinstance(box, str) else box.text if isinstance(box, Cell) else box.words
