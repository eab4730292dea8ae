"""What does the page layout get of a paper?

Values for JSON, drawn by `paper.typ`: every text cleaned, every picture worked out as shares of its width. Nothing of
it is ever read as markup there.
"""

from collections.abc import Callable, Mapping
from dataclasses import asdict
from itertools import zip_longest

from passcheck.report.axes import Axis, axis
from passcheck.report.document import (
    Box,
    Boxes,
    Cell,
    Code,
    Column,
    Facts,
    Heading,
    NumberLine,
    Outcome,
    PageBreak,
    Paper,
    Part,
    Plot,
    Said,
    Series,
    Size,
    Table,
    Together,
    ToWrite,
    Words,
)
from passcheck.report.full_rows import full_rows
from passcheck.report.number_scale import scaled
from passcheck.report.shown import shown
from passcheck.sequence.faults import cells
from passcheck.sequence.show_text import show_text

PAPERS: Mapping[Size, str] = {"a4": "a4", "letter": "us-letter"}
Data = dict[str, object]
Row = tuple[Cell | NumberLine | str, ...] | str
Clean = Callable[[str], str]


def page_data(paper: Paper, size: Size, codes: Mapping[str, str], clean: Clean = shown) -> Data:
    """Everything that `paper.typ` draws.

    Args:
        paper: what stands on it.
        size: of the sheets.
        codes: by its cleaned text, the picture of each QR code, as SVG; a code without one is said in words only.
        clean: what each text passes through.
    """
    return {
        "size": PAPERS[size],
        "kind": paper.kind,
        "title": clean(paper.title),
        "shop": clean(paper.shop),
        "job": clean(paper.job),
        "serial": clean(paper.serial),
        "made": paper.made,
        "footer": clean(paper.footer),
        "practice": paper.practice,
        "parts": [_part(part, codes, clean) for part in paper.parts],
        "attached": [
            {"name": show_text(one.name), "says": show_text(one.says), "media": one.media} for one in paper.attached
        ],
    }


def _part(part: Part, codes: Mapping[str, str], clean: Clean) -> Data:
    match part:
        case Heading(text, level):
            return {"part": "heading", "text": clean(text), "level": level}
        case Words(text, style):
            return {"part": "words", "text": clean(text), "style": style}
        case Facts(rows, wide):
            return {"part": "facts", "rows": [[clean(text) for text in row] for row in rows], "wide": wide}
        case Outcome(word, sentence, good):
            return {"part": "outcome", "word": clean(word), "sentence": clean(sentence), "good": good}
        case Table():
            return _table(part, clean)
        case Plot():
            return _plot(part, clean)
        case Code(text, caption):
            return {"part": "code", "picture": codes.get(shown(text)), "caption": [clean(line) for line in caption]}
        case ToWrite(fields):
            return {"part": "to-write", "lines": _lines(fields, clean)}
        case Boxes(items):
            return {"part": "boxes", "rows": _box_rows(items, clean)}
        case Together(parts):
            return {"part": "together", "parts": [_part(one, codes, clean) for one in parts]}
        case PageBreak():
            return {"part": "page-break"}


def _table(table: Table, clean: Clean) -> Data:
    return {
        "part": "table",
        "columns": [_column(one, number, table, clean) for number, one in enumerate(table.columns)],
        "rows": [_row(row, below, clean) for row, below in zip_longest(table.rows, table.rows[1:])],
    }


def _column(column: Column, number: int, table: Table, clean: Clean) -> Data:
    """A column, with the longest words of its head and of its cells, which it should be wide enough for."""
    boxes = (row[number] for row in table.rows if not isinstance(row, str))
    texts = (cell.text if isinstance(cell, Cell) else cell for cell in boxes if not isinstance(cell, NumberLine))
    return {
        "head": clean(column.head),
        "share": column.share,
        "right": column.right,
        "head-word": _longest(clean(column.head)),
        "word": _longest(*map(clean, texts)),
    }


def _longest(*texts: str) -> str:
    return max((word for text in texts for word in text.split()), key=cells, default="")


def _row(row: Row, below: Row | None, clean: Clean) -> object:
    """A row's cells; a group's name, with whether it is a head of what follows, which an empty group is not."""
    if isinstance(row, str):
        return {"group": clean(row), "heads": below is not None and not isinstance(below, str)}
    return [_cell(one, clean) for one in row]


def _cell(cell: Cell | NumberLine | str, clean: Clean) -> Data:
    if isinstance(cell, NumberLine):
        return {"line": asdict(scaled(cell)), "words": clean(cell.words)}
    if isinstance(cell, Cell):
        return {"text": clean(cell.text), "struck": cell.struck, "strong": cell.strong}
    return {"text": clean(cell), "struck": False, "strong": False}


def _plot(plot: Plot, clean: Clean) -> Data:
    points = [point for one in plot.series for point in one.points]
    limits = [limit for limit in (plot.low, plot.high) if limit is not None]
    x, y = axis([point[0] for point in points]), axis([*(point[1] for point in points), *limits])
    return {
        "part": "plot",
        "title": clean(plot.title),
        "words": clean(plot.words),
        "x": {"name": clean(plot.x), "ticks": [asdict(tick) for tick in x.ticks]},
        "y": {"name": clean(plot.y), "ticks": [asdict(tick) for tick in y.ticks]},
        "series": [_series(one, x, y, clean) for one in plot.series],
        "limits": [y.share(limit) for limit in limits],
    }


def _series(series: Series, x: Axis, y: Axis, clean: Clean) -> Data:
    places = [[x.share(across), y.share(up)] for across, up in series.points]
    return {"name": clean(series.name), "joined": series.joined, "points": places}


def _lines(fields: tuple[tuple[str, float], ...], clean: Clean) -> list[list[Data]]:
    """The fields line by line: a line is full when the shares make a whole."""
    rows = full_rows([share for _name, share in fields])
    return [[{"name": clean(fields[at][0]), "share": room} for at, room in row] for row in rows]


def _box_rows(items: tuple[Said | Box, ...], clean: Clean) -> list[list[Data]]:
    """The same of a form's words and boxes."""
    rows = full_rows([item.share for item in items])
    return [[{**_item(items[at], clean), "share": room} for at, room in row] for row in rows]


def _item(item: Said | Box, clean: Clean) -> Data:
    return {"said": clean(item.text)} if isinstance(item, Said) else {"name": clean(item.name)}
