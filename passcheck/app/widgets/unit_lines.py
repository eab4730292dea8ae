"""How is a practice unit drawn in characters, so that words carry everything and colour nothing alone?"""

from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import Final

from textual.content import Content

from passcheck.app.plain import joined
from passcheck.app.widgets.lamp import COLOURS, colour_in
from passcheck.app.widgets.letters import big, big_width
from passcheck.practice.seen import ButtonSeen, Dial, LampSeen, Panel, Row
from passcheck.sequence.show_text import show_text

LIT: Final = {
    "red": "bold white on #d02818",
    "amber": "bold black on #ffb000",
    "green": "bold black on #40c040",
    "blue": "bold black on #60a0ff",
    "white": "bold black on #f4f4f0",
    "yellow": "bold black on #f0e020",
}
POINTER, SCALE, MARK = "V", "-", "+"
SHORT_REF: Final = 8  # a designator; longer ones are sentences of what is watched
BESIDE: Final = 2
FACTS: Final = "ASKED BEFORE POWER AND TO MAKE SAFE"


def unit_content(panel: Panel, width: int, act: str, *, with_facts: bool) -> Content:
    """All of the panel, `width` columns wide; `act` is what a key does here, in words."""
    parts = [
        [joined(line) for one in panel.supply for line in _wrapped(one, width)],
        [line for one in panel.buttons for line in _button(one, width)],
        list(_lamps(panel.lamps, width)),
        list(dial_lines(panel.dial, width)),
        list(_meters(panel.meters, width)),
        list(_rows(panel.found, width)),
        [joined((line, "bold reverse")) for line in _wrapped(act, width)],
    ]
    if with_facts and panel.facts:
        heading = [joined((line, "bold")) for line in _wrapped(FACTS, width)]
        parts.append([*heading, *_rows(panel.facts, width)])
    shown = [Content("\n").join(lines) for lines in parts if lines]
    return Content("\n\n").join(shown)


def _meters(rows: Sequence[Row], width: int) -> Iterator[Content]:
    """One display is drawn large under its words; several are a list."""
    yield from _rows(rows, width)
    if len(rows) != 1:
        return
    figures, _, unit = rows[0][1].partition(" ")
    if set(figures) <= set("0123456789.-") and big_width(figures) + len(unit) + BESIDE <= width:
        *upper, last = big(figures)
        yield from (joined((line, "bold")) for line in upper)
        yield joined((last, "bold"), "  ", (unit, "bold"))


def _lamps(lamps: Sequence[LampSeen], width: int) -> Iterator[Content]:
    for lamp in lamps:
        if len(lamp.ref) > SHORT_REF:
            yield joined(_face(lamp), " watched for:")
            yield from (joined(line) for line in _wrapped(lamp.ref, width))
    short = [lamp for lamp in lamps if len(lamp.ref) <= SHORT_REF]
    if not short:
        return
    names = [f"{lamp.ref} {lamp.colour}" for lamp in short]
    longest, face = max(map(len, names)), max(len("dark"), *(len(lamp.state) for lamp in short))
    cells = [joined(_face(lamp, face), f" {name:<{longest}}") for lamp, name in zip(short, names, strict=True)]
    across = max(1, (width + BESIDE) // (cells[0].cell_length + BESIDE))
    for first in range(0, len(cells), across):
        yield Content("  ").join(cells[first : first + across])


def _face(lamp: LampSeen, width: int = len("dark")) -> tuple[str, str]:
    colour = lamp.colour if lamp.colour in COLOURS else colour_in(lamp.colour)
    return f"{lamp.state:<{width}}", "dim" if lamp.state == "dark" else LIT[colour]


def dial_lines(dial: Dial | None, width: int) -> Iterator[Content]:
    """The gauge's name, its pointer over its scale, the texts of its marks."""
    if dial is None:
        return
    columns = min(width - 1, 48)
    yield joined((dial.name, "bold"))
    pointer, scale, texts = [" "] * (columns + 1), [SCALE] * (columns + 1), [" "] * (columns + 1)
    for share, text in dial.marks:
        place = column(share, columns)
        scale[place] = MARK
        first = min(max(place - len(text) // 2, 0), columns + 1 - len(text))
        texts[first : first + len(text)] = text
    pointer[column(dial.pointer, columns)] = POINTER
    yield joined(("".join(pointer), "bold"))
    yield joined("".join(scale))
    yield joined("".join(texts))
    if dial.reads:
        yield joined("pointer reads ", (dial.reads, "bold"))


def dial_content(dial: Dial, width: int) -> Content:
    """A gauge alone."""
    return Content("\n").join(dial_lines(dial, width))


def column(share: float, columns: int) -> int:
    """The column of a share of an arc; beyond its ends at the stop."""
    return round(min(max(share, 0.0), 1.0) * columns)


def _button(one: ButtonSeen, width: int) -> Iterator[Content]:
    counts = "" if one.counted is None else f"  unit counted {one.counted}"
    yield from (joined((line, "bold")) for line in _wrapped(f"[{one.name}]  pressed {one.pressed}{counts}", width))


def _rows(rows: Sequence[Row], width: int) -> Iterator[Content]:
    """Name and value on a line, the value bold at its end; what is too long breaks before the value."""
    for name, value in rows:
        if len(name) + len(value) + 3 <= width:
            yield joined(f"{name}: ", (value, "bold"))
            continue
        *before, last = _wrapped(f"{name}:", width)
        yield from (joined(line) for line in before)
        if len(last) + len(value) < width:
            yield joined(f"{last} ", (value, "bold"))
            continue
        yield joined(last)
        yield from (joined(("  " + line, "bold")) for line in _wrapped(value, width - 2))


def _wrapped(text: str, width: int) -> list[str]:
    return wrap(show_text(text), max(10, width))
