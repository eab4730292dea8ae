"""Which settings does the text of bench.yaml hold, and what is wrong with it?

Read like a sequence file: no tags, no aliases, no surprises, and every fault of the file at its place in one report.
"""

import difflib
import json
from collections.abc import Iterable, Mapping
from typing import Any

from pydantic import BaseModel, ValidationError

from passcheck.errors import FileFault
from passcheck.job.settings import BenchInstrument, BenchSettings, KnownSource, Person
from passcheck.sequence.faults import Fault, show_faults
from passcheck.sequence.finding import Loc
from passcheck.sequence.nodes import LARGEST_FILE, Nodes, Refused, decode, read_nodes
from passcheck.sequence.words import complaint

REMEDY = "Mend it by hand; nothing was changed or overwritten."

_PATTERNS = {
    "letter": "the bench's letter is one of A to Z",
    "people": "a person's id is up to 12 small letters and digits and begins with a letter",
    "instruments": "an instrument's id is up to 20 letters, digits and hyphens",
}
_INSIDE: Mapping[str, type[BaseModel]] = {"people": Person, "instruments": BenchInstrument, "known_source": KnownSource}


def settings_of(text: str | bytes, name: str) -> BenchSettings:
    """The settings of bench.yaml's text; `name` is what reports call the file.

    Raises:
        FileFault: it can't be used; the text has every fault with its place.
    """
    try:
        shown = decode(text)
        nodes = nodes_of(shown)
    except Refused as refused:
        raise FileFault(_report(name, (_refusal(refused, text),))) from refused
    faults = list(_twice(nodes, shown))
    try:
        # By way of JSON: there a day is text, as it is in the file, and everything else stays strict.
        settings = BenchSettings.model_validate_json(json.dumps(nodes.data))
    except ValidationError as wrong:
        faults += [_fault(dict(error), nodes, shown) for error in wrong.errors(include_url=False)]
    else:
        faults += _of_secrets(nodes, shown)
        if not faults:
            return settings
    raise FileFault(_report(name, sorted(set(faults), key=lambda fault: (fault.line, fault.column))))


def nodes_of(text: str) -> Nodes:
    """The entries of bench.yaml with their places.

    Raises:
        Refused: it isn't YAML, or not made of entries.
    """
    nodes = read_nodes(text)
    if not isinstance(nodes.data, dict):
        raise Refused("bench.yaml begins with entries such as 'letter: A'; this is something else")
    return nodes


def _report(name: str, faults: Iterable[Fault]) -> str:
    return f"{show_faults(name, faults)}\n{REMEDY}"


def _refusal(refused: Refused, text: str | bytes) -> Fault:
    shown = text if isinstance(text, str) else text[: LARGEST_FILE + 1].decode("utf-8", "replace")
    return Fault(*refused.place, "error", refused.why, _line(shown, refused.place[0]))


def _fault(error: dict[str, Any], nodes: Nodes, text: str) -> Fault:
    loc = tuple(part for part in error["loc"] if part != "[key]")
    kind = error["type"]
    of_key = kind == "extra_forbidden" or "[key]" in error["loc"]
    line, column = nodes.place(loc[:-1] if kind == "missing" else loc, of_key=of_key)
    return Fault(line, column, "error", _sentence(error | {"loc": loc}), _line(text, line))


def _sentence(error: dict[str, Any]) -> str:
    loc: Loc = error["loc"]
    match error["type"]:
        case "missing":
            return f"'{loc[-1]}' is missing here"
        case "extra_forbidden":
            return f"'{loc[-1]}' is not an entry here{_near(loc)}"
        case "string_pattern_mismatch":
            return f"{_PATTERNS.get(str(loc[0]), 'this name')}; '{str(error['input'])[:40]}' won't do"
        case kind if str(kind).startswith("date"):
            return f"'{str(error['input'])[:40]}' is not a day; write year-month-day, such as 2031-04-02"
        case _:
            return complaint(error, None)


def _near(loc: Loc) -> str:
    model: type[BaseModel] = BenchSettings if len(loc) == 1 else _INSIDE.get(str(loc[0]), BenchSettings)
    known = [name for name in model.model_fields if name != "pin_hashes"]
    near = difflib.get_close_matches(str(loc[-1])[:80], known, n=1, cutoff=0.6)
    return f"; did you mean '{near[0]}'?" if near else f"; the entries here are {', '.join(known)}"


def _twice(nodes: Nodes, text: str) -> Iterable[Fault]:
    for loc, (line, column), first in nodes.twice:
        sentence = f"'{loc[-1]}' is already given on line {first}; only one of the two can hold"
        yield Fault(line, column, "error", sentence, _line(text, line))


def _of_secrets(nodes: Nodes, text: str) -> Iterable[Fault]:
    """PIN hashes have a file of their own: bench.yaml is made to be read and copied."""
    if "pin_hashes" in nodes.data:
        line, column = nodes.place(("pin_hashes",), of_key=True)
        yield Fault(line, column, "error", "PINs don't stand here; use 'passcheck bench pin PERSON'", _line(text, line))


def _line(text: str, number: int) -> str:
    lines = text.splitlines()
    return lines[number - 1] if number <= len(lines) else ""
