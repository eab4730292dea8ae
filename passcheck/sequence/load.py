"""Which sequence does a file hold, and what is wrong with it?

All faults of a file come in one report, each at its place: what can't be read, names that lead nowhere, and the trade's
rules. A file that a journal kept is read without the rules: what was good enough to work by then is read as it was.
"""

import hashlib
import os
import stat
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from passcheck.sequence.faults import Fault, SequenceFaults, Severity
from passcheck.sequence.finding import Finding, Loc, Place, error
from passcheck.sequence.model import Sequence
from passcheck.sequence.nodes import FAST_LOADER, LARGEST_FILE, Nodes, Refused, decode, read_nodes
from passcheck.sequence.references import references
from passcheck.sequence.rules import findings
from passcheck.sequence.shape import KINDS, shape_at
from passcheck.sequence.sheet import Sheet, salvage, whole
from passcheck.sequence.words import complaint

MOST_COMPLAINTS = 200  # of one kind; a file with more has one cause that makes the rest


@dataclass(frozen=True, slots=True)
class Checked:
    """What checking a file gave: every fault in order, and the sequence (None where an error refuses it)."""

    sequence: Sequence | None
    faults: tuple[Fault, ...]
    name: str = ""

    @property
    def errors(self) -> tuple[Fault, ...]:
        """The faults that keep the file from being used."""
        return tuple(fault for fault in self.faults if fault.severity == "error")


def check_text(text: str | bytes, name: str, *, loader: Any = FAST_LOADER) -> Checked:
    """Everything that is wrong with a file's text, sorted by place; `name` is what reports call the file."""
    return _checked(text, name, loader, with_rules=True)


def read_sequence(text: str, name: str) -> Sequence:
    """The sequence of a text that a journal kept: its structure and its references, not the trade's rules.

    Raises:
        SequenceFaults: it isn't a sequence.
    """
    return _sequence_of(_checked(text, name, FAST_LOADER, with_rules=False))


def load_sequence(path: Path) -> tuple[Sequence, str]:
    """The sequence of a file, and its text exactly as it stands there; warnings alone don't refuse it.

    Raises:
        SequenceFaults: it can't be read, or it has errors; all faults are in the exception.
    """
    text = read_text(path)
    return _sequence_of(check_text(text, str(path))), text


def digest(text: str) -> str:
    """SHA-256 of the text in UTF-8, as hexadecimal digits; it names the very text that a run was made by."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def read_text(path: Path) -> str:
    """The text of a regular file; pipes and devices are never opened.

    Raises:
        SequenceFaults: no such file, not a regular one, not readable, or not a text.
    """
    try:
        return decode(_bytes_of(path))
    except OSError as wrong:
        raise SequenceFaults(str(path), (_fault(Refused(wrong.strerror or "it can't be read"), ""),)) from wrong
    except Refused as refused:
        raise SequenceFaults(str(path), (_fault(refused, ""),)) from refused


def _bytes_of(path: Path) -> bytes:
    _demand_regular(path.stat().st_mode)
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(handle, "rb") as file:
        _demand_regular(os.fstat(file.fileno()).st_mode)  # it may have been swapped since
        return file.read(LARGEST_FILE + 1)


def _demand_regular(mode: int) -> None:
    if stat.S_ISDIR(mode):
        raise Refused("this is a folder; name the file in it")
    if not stat.S_ISREG(mode):
        raise Refused("this is a pipe or a device, not a file; it is not opened")


def _sequence_of(checked: Checked) -> Sequence:
    if checked.sequence is None:
        raise SequenceFaults(checked.name, checked.faults)
    return checked.sequence


def _checked(text: str | bytes, name: str, loader: Any, *, with_rules: bool) -> Checked:
    shown = text if isinstance(text, str) else text[: LARGEST_FILE + 1].decode("utf-8", "replace")
    try:
        decoded = decode(text)
        nodes = read_nodes(decoded, loader)
    except Refused as refused:
        return Checked(None, (_fault(refused, shown),), name)
    sequence, found = _found(nodes.data, with_rules=with_rules)
    faults = _placed(found, nodes, decoded)
    refuses = any(fault.severity == "error" for fault in faults)
    return Checked(None if refuses else sequence, faults, name)


def _found(data: Any, *, with_rules: bool) -> tuple[Sequence | None, list[Finding]]:
    """The sequence where its structure is whole, and every finding."""
    if not isinstance(data, dict):
        return None, [error("a sequence begins with entries such as 'sequence: OV-24P'; this is something else")]
    sequence, sheet, found = _modelled(data)
    nowhere = list(references(data))
    named = {it.loc for it in nowhere}  # a name that leads nowhere needs no second sentence on how it is spelt
    found = [it for it in found if it.loc not in named] + nowhere
    if with_rules and sheet is not None:
        found += findings(sheet)
    return sequence, found


def _modelled(data: dict[str, Any]) -> tuple[Sequence | None, Sheet | None, list[Finding]]:
    """The model of the data, or the part of it that can be read with a finding for each thing that can't."""
    try:
        # By alias only: a file has one spelling for each entry.
        sequence = Sequence.model_validate(data, by_alias=True, by_name=False)
    except ValidationError as wrong:
        errors = wrong.errors(include_url=False)[:MOST_COMPLAINTS]
        faults = [(str(it["type"]), _loc(it["loc"], data)) for it in errors]
        found = [_finding(dict(it), loc, data) for it, (_, loc) in zip(errors, faults, strict=True)]
        return None, salvage(data, faults), found
    return sequence, whole(sequence), []


def _loc(loc: tuple[str | int, ...], data: dict[str, Any]) -> Loc:
    """pydantic's path without what isn't in the file: the kind of a step, the mark of a mapping's key."""
    tagged = len(loc) > 2 and loc[0] == "steps" and loc[2] in KINDS
    parts = loc[:2] + loc[3:] if tagged else loc
    here: Any = data
    kept: list[str | int] = []
    for number, part in enumerate(parts):
        is_last = number == len(parts) - 1
        if isinstance(here, dict) and (part in here or (is_last and part != "[key]")):
            here = here.get(part)
        elif isinstance(here, list) and isinstance(part, int) and part < len(here):
            here = here[part]
        else:
            continue
        kept.append(part)
    return tuple(kept)


def _finding(wrong: dict[str, Any], loc: Loc, data: dict[str, Any]) -> Finding:
    kind = str(wrong["type"])
    about_an_entry = kind in {"missing", "extra_forbidden"}
    shape = shape_at(data, loc[:-1] if about_an_entry else loc)
    sentence = complaint({**wrong, "loc": loc}, shape)
    of_key = kind == "extra_forbidden" or "[key]" in wrong["loc"]
    return Finding(loc[:-1] if kind == "missing" else loc, sentence, of_key=of_key)


def _placed(found: Iterable[Finding], nodes: Nodes, text: str) -> tuple[Fault, ...]:
    """Findings and keys given twice as faults at their places, sorted, none twice."""
    placed: set[tuple[Place, Severity, str]] = {
        (place, "error", f"'{loc[-1]}' is already given on line {first}; only one of the two can hold")
        for loc, place, first in nodes.twice
    }
    placed |= {(nodes.place(it.loc, of_key=it.of_key), it.severity, it.sentence) for it in found}
    lines = text.splitlines()
    return tuple(
        Fault(line, column, severity, sentence, lines[line - 1] if line <= len(lines) else "")
        for (line, column), severity, sentence in sorted(placed)
    )


def _fault(refused: Refused, text: str) -> Fault:
    line, column = refused.place
    lines = text.splitlines()
    return Fault(line, column, "error", refused.why, lines[line - 1] if line <= len(lines) else "")
