"""How is the front of a practice unit drawn as a small face plate in characters?

Letters say what is lit, moved or pressed; colour only adds to them.
"""

from collections.abc import Iterator, Sequence
from typing import Final, TypeVar

from textual.content import Content

from passcheck.app.plain import joined
from passcheck.app.widgets.unit_lines import LIT, POINTER, column
from passcheck.practice.front import Front, Key
from passcheck.practice.seen import Dial, LampSeen

PLATE: Final = "#d8cfbc on #14110e"
UNPOWERED: Final = "#8c8272 on #14110e"
EDGE: Final = "#8c8272"
DISPLAY: Final = "bold #14110e on #a9b27c"
NEEDLE: Final = "bold #ff8a50"
SIDES: Final = 3  # the frame and a space before what stands in it
SCALE, TICK, ENDS = "─", "┴", "└┘"
LONGEST_NAME: Final = 12
SHORTEST_TRACK: Final = 6
DARK_CELL: Final = "·"
LEAST_WIDTH: Final = 24

T = TypeVar("T")


def front_content(front: Front, width: int, *, roomy: bool) -> Content:
    """The plate, `width` columns wide; `roomy` with a pointer over each scale and air between the groups."""
    width = max(LEAST_WIDTH, width)
    inner = width - SIDES
    groups = [
        [*_dials(front.dials, inner, roomy=roomy), *_figures(front, inner)],
        list(_lamps(front.lamps, inner)),
        list(_keys(front.keys, inner, roomy=roomy)),
    ]
    lines: list[Content] = []
    for group in filter(None, groups):
        if lines and roomy:
            lines.append(Content(""))
        lines += group
    framed = [joined(("│ ", EDGE), line.truncate(inner, pad=True), ("│", EDGE)) for line in lines]
    title = joined((f" {_cut(front.name, width - 6)} ", "bold"))
    plate = [_edge("╭╮", title, width), *framed, _edge("╰╯", _codes(front, width - 6), width)]
    look = PLATE if front.powered else UNPOWERED
    return Content("\n").join(line.stylize_before(look) for line in plate)


def _edge(corners: str, words: Content, width: int) -> Content:
    """The upper or the lower side of the plate, with the words that stand in it."""
    rest = "─" * (width - 3 - words.cell_length)
    return joined((corners[0] + "─", EDGE), words, (rest + corners[1], EDGE))


def _dials(dials: Sequence[Dial], inner: int, *, roomy: bool) -> Iterator[Content]:
    """A line a gauge: its name, the ends of its scale, its pointer between them."""
    if not dials:
        return
    names = _short([dial.name for dial in dials])
    longest = min(LONGEST_NAME, max(map(len, names)))
    low, high = (max(len(_end_text(dial, end)) for dial in dials) for end in (0, -1))
    track = max(SHORTEST_TRACK, inner - longest - low - high - 4)
    for dial, name in zip(dials, names, strict=True):
        ends = _end_text(dial, 0), _end_text(dial, -1)
        place = column(dial.pointer, track - 1)
        scale = [SCALE] * track
        for share, text in dial.marks:
            scale[column(share, track - 1)] = text if len(text) == 1 else TICK
        scale[0], scale[-1] = ENDS[0], ENDS[1]
        before, after = f"{_cut(name, longest):<{longest}} {ends[0]:>{low}} ", f" {ends[1]:<{high}}"
        if roomy:
            yield joined(" " * (len(before) + place), (POINTER, NEEDLE))
            yield joined(before, "".join(scale), after)
        else:
            yield joined(before, "".join(scale[:place]), (POINTER, NEEDLE), "".join(scale[place + 1 :]), after)


def _end_text(dial: Dial, end: int) -> str:
    """What stands at an end of the scale; nothing where no mark does, as with a lone one in its middle."""
    share, text = dial.marks[end]
    return text if share in (0.0, 1.0) else ""


def _figures(front: Front, inner: int) -> Iterator[Content]:
    names = _short([name for name, _value in front.figures])
    for name, (_name, value) in zip(names, front.figures, strict=True):
        shown = _cut(name, inner - len(value) - 4)
        yield joined(shown, " " * (inner - 3 - len(shown) - len(value)), _shown(value, front))


def _lamps(lamps: Sequence[LampSeen], inner: int) -> Iterator[Content]:
    """Rows of names, a cell under each: the letter of its colour when lit, between waves while it flickers."""
    cell = max((len(lamp.ref) for lamp in lamps), default=0)
    cell = min(max(cell, 4), inner)
    for row in _rows(lamps, (inner + 1) // (cell + 1)):
        yield joined(" ".join(f"{_cut(lamp.ref, cell):^{cell}}" for lamp in row))
        yield Content(" ").join(_cell(lamp, cell) for lamp in row)


def _cell(lamp: LampSeen, width: int) -> Content:
    if lamp.state == "dark":
        return joined(f"{DARK_CELL:^{width}}")
    letter = lamp.colour[:1].upper()
    face = f" {letter} " if lamp.state == "LIT" else f"~{letter}~"
    left = (width - len(face)) // 2
    return joined(" " * left, (face, LIT[lamp.colour]), " " * (width - left - len(face)))


def _keys(keys: Sequence[Key], inner: int, *, roomy: bool) -> Iterator[Content]:
    """Rows of buttons; an arrow points at the one that the hand presses, and a pressed one turns its brackets."""
    names = [key.name for key in keys]
    cell = min(inner, max(map(len, names), default=0) + 3)
    letters = _common_letters(names)
    if cell * len(keys) > inner and letters and not roomy:
        short = max(map(len, names)) - len(letters) + 3
        if len(letters) + short * len(keys) <= inner:
            yield joined(letters, *(_key(key, key.name.removeprefix(letters), short) for key in keys))
            return
    for row in _rows(keys, inner // cell):
        yield Content("").join(_key(key, key.name, cell) for key in row)


def _key(key: Key, name: str, width: int) -> Content:
    name = _cut(name, width - 3)
    face = f"]{name}[" if key.down else f"[{name}]"
    style = "bold reverse" if key.down else "bold" if key.wanted else ""
    return joined(">" if key.wanted else " ", (face, style), " " * (width - 1 - len(face)))


def _common_letters(names: Sequence[str]) -> str:
    """The class letters that all designators begin with; "" where they don't."""
    letters = {name.rstrip("0123456789") for name in names}
    return letters.pop() if len(letters) == 1 and all(name[-1].isdigit() for name in names) else ""


def _codes(front: Front, width: int) -> Content:
    if front.codes is None:
        return Content("")
    return joined(" codes ", _shown(_cut(front.codes, width - 8), front), " ")


def _shown(text: str, front: Front) -> Content:
    """Text on a display of the unit."""
    return joined((f" {text} ", DISPLAY if front.powered else ""))


def _rows(many: Sequence[T], across: int) -> Iterator[Sequence[T]]:
    """As few rows as fit, all about equally long."""
    rows = -(-len(many) // max(1, across))
    each = -(-len(many) // rows) if rows else 1
    for first in range(0, len(many), each):
        yield many[first : first + each]


def _short(names: Sequence[str]) -> list[str]:
    """Names without designator and what they are told in, as far as they still differ so."""
    short = [name.partition(" (")[0].partition(" in ")[0] for name in names]
    return [cut if short.count(cut) == 1 else name for cut, name in zip(short, names, strict=True)]


def _cut(text: str, width: int) -> str:
    return text if len(text) <= width else text[: max(0, width - 1)] + "…"
