"""How is one entry put into bench.yaml so that everything a person wrote there stays?

The text is changed, not written anew: comments, order and blank lines survive. What comes out is read again before it
may replace the file, and has to hold exactly the settings of before with that one entry changed.
"""

import json
import re
from collections.abc import Mapping
from datetime import date
from typing import Literal

from passcheck.errors import FileFault
from passcheck.records.bench_text import nodes_of
from passcheck.sequence.nodes import Nodes

Section = Literal["people", "instruments"]
_WRITTEN_DAY = re.compile(r"""(["']?)[^\s"'#,}]+\1""")


def with_entry(text: str, section: Section, key: str, members: Mapping[str, object]) -> str:
    """The text with an entry added at the end of a section.

    Raises:
        FileFault: the entry is there already, or the section isn't written line by line.
    """
    nodes = nodes_of(text)
    if key in nodes.data.get(section, {}):
        raise FileFault(f"bench.yaml: '{key}' is already among the {section}. Edit it there, or choose another id.")
    lines = text.splitlines(keepends=True)
    last, indent = _end_of(nodes, section, key, members)
    if not lines[last - 1].endswith("\n"):
        lines[last - 1] += "\n"
    written = [f"{indent}{line}\n" for line in _written(key, members)]
    return "".join([*lines[:last], *written, *lines[last:]])


def with_due(text: str, instrument: str, due: date) -> str:
    """The text with another calibration due date for an instrument.

    Raises:
        FileFault: there is no such instrument.
    """
    place = nodes_of(text).values.get(("instruments", instrument, "due"))
    if place is None:
        raise FileFault(f"bench.yaml has no instrument '{instrument}'. 'passcheck bench show' lists them.")
    lines = text.splitlines(keepends=True)
    line, start = lines[place[0] - 1], place[1] - 1
    lines[place[0] - 1] = line[:start] + _WRITTEN_DAY.sub(due.isoformat(), line[start:], count=1)
    return "".join(lines)


def _end_of(nodes: Nodes, section: Section, key: str, members: Mapping[str, object]) -> tuple[int, str]:
    """The last line of a section's entries (from 1), and the indentation of its ids."""
    ids = [place for loc, place in nodes.keys.items() if len(loc) == 2 and loc[0] == section]
    head = nodes.keys[(section,)][0]
    columns = {column for line, column in ids if line > head}
    if len(ids) != len({line for line, _ in ids}) or len(columns) != 1:
        by_hand = "\n".join(_written(key, members))
        raise FileFault(f"bench.yaml: the {section} aren't written one to a line. Add the entry by hand:\n{by_hand}")
    last = max(line for loc, (line, _) in nodes.values.items() if loc[:1] == (section,))
    return last, " " * (columns.pop() - 1)


def _written(key: str, members: Mapping[str, object]) -> list[str]:
    """An entry as lines: its id, then its members."""
    lines = [f"{key}:"]
    for name, member in members.items():
        if isinstance(member, Mapping):
            lines += [f"  {name}:", *(f"    {_scalar(part)}: {_scalar(value)}" for part, value in member.items())]
        else:
            lines.append(f"  {name}: {_scalar(member)}")
    return lines


def _scalar(value: object) -> str:
    """A value as YAML; text in the double quotes of JSON, where nothing in it can be taken for an entry."""
    if isinstance(value, date):
        return value.isoformat()
    plain = isinstance(value, str) and re.fullmatch(r"[A-Za-z][A-Za-z -]*[A-Za-z]", value) and value not in _WORDS
    return str(value) if plain else json.dumps(value, ensure_ascii=False)


_WORDS = frozenset({"true", "false"})
