"""How does the text of a file from anybody become plain data with a place for every entry?

PyYAML only tokenises. The data is built here, in one pass over the parser's events, so that nothing a stranger writes
is constructed, expanded or recursed into: no tags, no anchors, no aliases, limits on size, depth, entries and text.
Only `true`, `false` and decimal numbers are more than text, so that `no`, `12:30`, `010` and `1e3` stay as written.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from passcheck.sequence.finding import Loc, Place
from passcheck.sequence.words import yaml_problem

LARGEST_FILE = 1024 * 1024  # bytes
LONGEST_TEXT = 64 * 1024  # characters of one entry, and of one line
DEEPEST = 24
MOST_LINES = 20_000
MOST_EVENTS = 50_000
# The parser in pure Python, used where there is no libyaml, needs its time for every event and character.
MOST_EVENTS_PURE = 20_000
MOST_CHARACTERS_PURE = 512 * 1024

FAST_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

_UNREADABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_INT = re.compile(r"[-+]?(0|[1-9][0-9]{0,14})")
_FLOAT = re.compile(r"[-+]?(0|[1-9][0-9]{0,14})\.[0-9]{1,15}")


class Refused(Exception):
    """Why a text is not read at all, and the place of it."""

    def __init__(self, why: str, place: Place = (1, 1)) -> None:
        super().__init__(why)
        self.why = why
        self.place = place


@dataclass(slots=True)
class Nodes:
    """A file as plain data: dicts, lists, text, numbers, true and false.

    `values` gives the place of every value and `keys` that of every key by its path; `twice` lists keys given again
    (path, place, line of the first), whose later value is left out.
    """

    data: Any = None
    values: dict[Loc, Place] = field(default_factory=dict)
    keys: dict[Loc, Place] = field(default_factory=dict)
    twice: list[tuple[Loc, Place, int]] = field(default_factory=list)

    def place(self, loc: Loc, *, of_key: bool = False) -> Place:
        """Where an entry stands, or else the nearest entry around it."""
        if of_key and loc in self.keys:
            return self.keys[loc]
        while loc and loc not in self.values:
            loc = loc[:-1]
        return self.values.get(loc, (1, 1))


def decode(text: str | bytes) -> str:
    """The text of a file's bytes.

    Raises:
        Refused: it is too large, not UTF-8, or holds characters that no sequence needs.
    """
    if len(text) > LARGEST_FILE or (isinstance(text, str) and len(text.encode("utf-8", "replace")) > LARGEST_FILE):
        raise Refused("the file is larger than 1 MiB; a sequence is a few thousand lines at most, so it is not read")
    if isinstance(text, bytes):
        if text.startswith((b"\xff\xfe", b"\xfe\xff")):
            raise Refused("the file is in UTF-16; save it as UTF-8")
        text = _from_utf8(text)
    found = _UNREADABLE.search(text)
    if found:
        what = f"the character U+{ord(found.group()):04X}"
        raise Refused(
            f"{what} can't stand in a text file; remove it (or save as UTF-8)", _place_of(text[: found.start()])
        )
    return text


def _from_utf8(raw: bytes) -> str:
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        place = _place_of(raw[: error.start].decode("utf-8", "replace"))
        raise Refused("the file is not in UTF-8 from here on; save it as UTF-8", place) from error


def _place_of(before: str) -> Place:
    lines = before.split("\n")
    return len(lines), len(lines[-1]) + 1


def read_nodes(text: str, loader: Any = FAST_LOADER) -> Nodes:
    """The data of a text with its places.

    Raises:
        Refused: the text isn't YAML, or it asks for more than a sequence may.
    """
    _guard_size(text, pure=_is_pure(loader))
    building = _Building()
    try:
        for event in _events(text, loader):
            building.take(event)
    except yaml.MarkedYAMLError as error:
        raise Refused(yaml_problem(str(error.problem)), _place(error.problem_mark or error.context_mark)) from error
    except yaml.YAMLError as error:
        raise Refused(yaml_problem(str(error))) from error
    except RecursionError as error:
        raise Refused("the entries are nested too deeply to be read") from error
    if building.documents == 0:
        raise Refused("the file is empty; it should begin with 'sequence:' and the board's name")
    return building.nodes


def _is_pure(loader: Any) -> bool:
    return issubclass(loader, yaml.SafeLoader)


def _guard_size(text: str, *, pure: bool) -> None:
    """Too many or too long lines are refused before the parser walks through them character by character."""
    if pure and len(text) > MOST_CHARACTERS_PURE:
        raise Refused("the file is larger than 512 KiB, the most that is read on a machine without libyaml")
    lines = text.split("\n")
    if len(lines) > MOST_LINES:
        raise Refused(f"more than {MOST_LINES} lines; a sequence has fewer, so it is not read", (MOST_LINES + 1, 1))
    for number, line in enumerate(lines, start=1):
        if len(line) > LONGEST_TEXT:
            raise Refused(
                f"a line of {len(line)} characters is more than the {LONGEST_TEXT} a file may hold", (number, 1)
            )


def _events(text: str, loader: Any) -> Iterator[Any]:
    """The parser's events, counted."""
    most = MOST_EVENTS_PURE if _is_pure(loader) else MOST_EVENTS
    parser = loader(text)
    try:
        count = 0
        while parser.check_event():
            event = parser.get_event()
            count += 1
            if count > most:
                raise Refused(
                    f"more than {most} entries; a sequence has fewer, so it is not read", _place(event.start_mark)
                )
            yield event
    finally:
        parser.dispose()


def _place(mark: Any) -> Place:
    return (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)


@dataclass(slots=True)
class _Open:
    """A mapping or list that is still being read."""

    holder: dict[str, Any] | list[Any]
    loc: Loc
    key: str | None = None
    drop: bool = False  # the value that comes next belongs to a key given twice


class _Building:
    """Data in the making: takes one event after the other."""

    def __init__(self) -> None:
        self.nodes = Nodes()
        self.documents = 0
        self._open: list[_Open] = []

    def take(self, event: Any) -> None:
        """Add what the event brings.

        Raises:
            Refused: a tag, anchor, alias, a second document, too deep, too long, a key that isn't text.
        """
        place = _place(event.start_mark)
        match event:
            case yaml.DocumentStartEvent():
                self._document(event, place)
            case yaml.AliasEvent():
                raise Refused("aliases (*name) are not read; write the entry out", place)
            case yaml.ScalarEvent():
                self._guard(event, place)
                self._scalar(event, place)
            case yaml.MappingStartEvent():
                self._guard(event, place)
                self._begin({}, place)
            case yaml.SequenceStartEvent():
                self._guard(event, place)
                self._begin([], place)
            case yaml.MappingEndEvent() | yaml.SequenceEndEvent():
                self._open.pop()

    def _document(self, event: Any, place: Place) -> None:
        self.documents += 1
        if self.documents > 1:
            raise Refused("a second document begins here; one file holds one board", place)
        if event.version or event.tags:
            raise Refused("%YAML and %TAG lines are not read; remove them", place)

    @staticmethod
    def _guard(event: Any, place: Place) -> None:
        if event.anchor is not None:
            raise Refused("anchors (&name) are not read; write the entry out where it is needed", place)
        if event.tag is not None:
            raise Refused(f"tags such as {event.tag[:40]!r} are not read; write plain text", place)

    def _begin(self, holder: dict[str, Any] | list[Any], place: Place) -> None:
        if len(self._open) >= DEEPEST:
            raise Refused(f"entries are nested deeper than {DEEPEST}; a sequence needs six or so", place)
        loc = self._put(holder, place)
        self._open.append(_Open(holder, loc))

    def _scalar(self, event: Any, place: Place) -> None:
        if len(event.value) > LONGEST_TEXT:
            raise Refused(
                f"a text of {len(event.value)} characters is more than the {LONGEST_TEXT} an entry may hold", place
            )
        around = self._open[-1] if self._open else None
        if around is not None and isinstance(around.holder, dict) and around.key is None:
            self._key(around, event.value, place)
        else:
            self._put(_resolved(event.value) if event.implicit[0] else event.value, place)

    def _key(self, around: _Open, key: str, place: Place) -> None:
        loc = (*around.loc, key)
        if key == "":
            raise Refused("the word before this colon is missing", place)
        around.drop = key in around.holder
        if around.drop:
            self.nodes.twice.append((loc, place, self.nodes.keys[loc][0]))
        else:
            self.nodes.keys[loc] = place
        around.key = key

    def _put(self, value: Any, place: Place) -> Loc:
        """Hang a value into what is open; gives its path."""
        if not self._open:
            self.nodes.data = value
            self.nodes.values[()] = place
            return ()
        around = self._open[-1]
        if isinstance(around.holder, list):
            loc: Loc = (*around.loc, len(around.holder))
            around.holder.append(value)
        else:
            if around.key is None:
                raise Refused("a list or a mapping can't stand before a colon; only text can", place)
            loc = (*around.loc, around.key)
            if around.drop:
                loc = (*loc, "")  # an unreachable path, so that the first value keeps its places
            else:
                around.holder[around.key] = value
            around.key = None
        self.nodes.values[loc] = place
        return loc


def _resolved(written: str) -> str | int | float | bool:
    """What a plain text stands for."""
    if written in {"true", "false"}:
        return written == "true"
    if _INT.fullmatch(written):
        return int(written)
    return float(written) if _FLOAT.fullmatch(written) else written
