"""What can stand on a paper?

A paper is a list of parts from this one vocabulary. Whoever writes a paper chooses parts and words; how a part looks is
decided once for all papers, in `paper.typ` for a page and in `plain.py` for a text. Texts are as the record has them:
both of those clean them, and neither reads them as markup.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

Kind = Literal["findings", "test-record", "release-note", "returned-unrepaired", "returned-in-part", "blank-sheet"]
"""The papers, by the word that the command line and file names use."""
Style = Literal["plain", "quote", "small", "strong", "notice"]
"""`quote` is somebody's own words; `notice` is a caution or a sentence that must not be overlooked, in a frame."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; `level` is 1 for a section of the paper, 2 for a group in it."""

    text: str
    level: int = 1


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph."""

    text: str
    style: Style = "plain"


@dataclass(frozen=True, slots=True)
class Facts:
    """Names and values in two columns, or in two pairs of columns where `wide`."""

    rows: tuple[tuple[str, str], ...]
    wide: bool = False


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the paper says in one word, large, with the sentence below it.

    `good` chooses the frame: True for a release, False for what is none, None where neither is meant. The word carries
    the meaning; no colour does.
    """

    word: str
    sentence: str
    good: bool | None = None


@dataclass(frozen=True, slots=True)
class Cell:
    """A box of a table; `struck` is a stamp that lost its worth, `strong` one that matters."""

    text: str
    struck: bool = False
    strong: bool = False


@dataclass(frozen=True, slots=True)
class NumberLine:
    """A reading between its limits, drawn to scale; all in the base unit.

    Attributes:
        value: the reading.
        within: how far off it may be, at 95 %.
        low, high: the limits; None where there is none on that side.
        words: the same as a text, for a reader without the picture: `5.01 V, 4.85 V .. 5.15 V`.
        before: the reading as found, drawn lighter on the same scale, or None.
    """

    value: float
    within: float
    low: float | None
    high: float | None
    words: str
    before: float | None = None


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its head, the share of the width it takes, and on which side its texts stand."""

    head: str
    share: float = 1.0
    right: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under heads; heads are said again on each page, a row is never cut in two.

    A row that is a single text is a group's name across all columns.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell | NumberLine | str, ...] | str, ...]


@dataclass(frozen=True, slots=True)
class Series:
    """Points of a plot in the units of its axes; `joined` draws a line through them, else each is a mark."""

    name: str
    points: tuple[tuple[float, float], ...]
    joined: bool = True


@dataclass(frozen=True, slots=True)
class Plot:
    """Readings over time or trials, with the limits as lines.

    Attributes:
        title: what is shown.
        x, y: what the axes are, with the unit.
        series: at least one, with at least one point in all.
        low, high: limits in the unit of `y`, or None.
        words: what the plot shows, as a text for a reader without it.
    """

    title: str
    x: str
    y: str
    series: tuple[Series, ...]
    low: float | None
    high: float | None
    words: str


@dataclass(frozen=True, slots=True)
class Code:
    """A QR code of `text`, with the same text beside it for eyes, in the lines of `caption`."""

    text: str
    caption: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ToWrite:
    """Lines for a pen: each has a name and the share of the width it takes, set side by side until a line is full."""

    fields: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Said:
    """Words that stand in a row of boxes and say what the boxes after them are of; `share` is of the row's width."""

    text: str
    share: float


@dataclass(frozen=True, slots=True)
class Box:
    """A box for a pen with its name in a corner; `share` is of the row's width."""

    name: str
    share: float


@dataclass(frozen=True, slots=True)
class Boxes:
    """Words and boxes side by side until a row is full: what a form has where it must be short."""

    items: tuple[Said | Box, ...]


@dataclass(frozen=True, slots=True)
class Together:
    """Parts that stand close and on one page, but where no page has room for all of them."""

    parts: "tuple[Part, ...]"


@dataclass(frozen=True, slots=True)
class PageBreak:
    """What follows begins on a page of its own."""


Part = Heading | Words | Facts | Outcome | Table | Plot | Code | ToWrite | Boxes | Together | PageBreak


@dataclass(frozen=True, slots=True)
class Attached:
    """A file that a page carries inside itself: its name, what it is, and its bytes."""

    name: str
    says: str
    media: str
    data: bytes


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper.

    Attributes:
        kind: which of them.
        title: `Test record`, `Release note`, …
        shop: the shop's name and place, in the head of each page.
        job, serial: in the head of each page, beside page x of y.
        made: UTC, ISO 8601 with seconds: the moment of the job's last line, which is also the document's date.
        parts: in order.
        footer: the fixed sentence at the foot of each page.
        attached: at most the sealed journal.
        practice: a paper of a simulated unit says so on each page.
    """

    kind: Kind
    title: str
    shop: str
    job: str
    serial: str
    made: str
    parts: tuple[Part, ...]
    footer: str
    attached: tuple[Attached, ...] = ()
    practice: bool = False


Size = Literal["a4", "letter"]


def flat(parts: Sequence[Part]) -> tuple[Part, ...]:
    """The same parts in the same order, none of them inside another."""
    return tuple(one for part in parts for one in (flat(part.parts) if isinstance(part, Together) else (part,)))


def texts(parts: Sequence[Part]) -> tuple[str, ...]:
    """Every text that somebody reads on these parts, in order; for a search, and for the tests of what is said."""
    found: list[str] = []
    for part in flat(parts):
        match part:
            case Heading(text) | Words(text):
                found.append(text)
            case Facts(rows):
                found += [text for row in rows for text in row]
            case Outcome(word, sentence):
                found += [word, sentence]
            case Table(columns, rows):
                found += [column.head for column in columns]
                found += [text for row in rows for text in _row(row)]
            case Plot(title=title, words=words):
                found += [title, words]
            case Code(caption=caption):
                found += caption
            case ToWrite(fields):
                found += [name for name, _share in fields]
            case Boxes(items):
                found += [item.text if isinstance(item, Said) else item.name for item in items]
            case PageBreak() | Together():
                pass
    return tuple(found)


def _row(row: tuple[Cell | NumberLine | str, ...] | str) -> tuple[str, ...]:
    if isinstance(row, str):
        return (row,)
    return tuple(cell if isinstance(cell, str) else cell.text if isinstance(cell, Cell) else cell.words for cell in row)
