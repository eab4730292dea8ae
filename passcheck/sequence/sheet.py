"""What can still be read of a file in which something is wrong?

The trade's rules look at a whole sequence. So that an author sees *all* faults at once, what can't be read is left out,
and a step that can't be read is replaced by a stand-in with the same id, power and references: a rule about the order
of steps must not complain about a step only because another line of it is misspelt.
"""

import copy
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import ValidationError

from passcheck.sequence.finding import Loc
from passcheck.sequence.model import LookStep, Sequence, Step
from passcheck.sequence.shape import KINDS

_MAPPINGS = ("supplies", "instruments", "cautions", "variants", "blocks", "symptoms")
_REQUIRED: dict[str, Any] = {
    "sequence": "unnamed",
    "revision": 1,
    "title": "untitled",
    "supplies": {},
    "blocks": {},
    "steps": [],
}
_KEPT = (
    "title",
    "power",
    "proves",
    "needs",
    "cautions",
    "role",
    "variant",
    "depends_on",
    "heading",
    "photo",
    "restore",
)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sequence as far as it could be read, and what was left out."""

    sequence: Sequence
    order: tuple[int, ...]  # for each step its number in the file
    stand_ins: Mapping[str, str] = field(
        default_factory=dict
    )  # id of a step that couldn't be read: its kind as written
    lost: frozenset[str] = frozenset()  # sections of the file of which something couldn't be read

    def steps(self) -> Iterable[tuple[int, Step]]:
        """The steps that could be read, each with its number in the file."""
        for number, step in self.every_step():
            if step.id not in self.stand_ins:
                yield number, step

    def every_step(self) -> Iterable[tuple[int, Step]]:
        """The steps with their stand-ins, each with its number in the file."""
        return zip(self.order, self.sequence.steps, strict=True)


def whole(sequence: Sequence) -> Sheet:
    """The sheet of a sequence without faults."""
    return Sheet(sequence, tuple(range(len(sequence.steps))))


def salvage(data: Mapping[str, Any], faults: Iterable[tuple[str, Loc]]) -> Sheet | None:
    """The sheet of a file with structural faults (type and path of each); None where too little of it is left."""
    left: dict[str, Any] = {**_REQUIRED, **copy.deepcopy(dict(data))}
    broken: set[int] = set()
    lost: set[str] = set()
    # What has no place here is taken out first: its path ends where its holder is taken out.
    for kind, loc in sorted(faults, key=lambda fault: fault[0] != "extra_forbidden"):
        if loc:
            _leave_out(left, kind, loc, broken, lost)
    if not isinstance(left["steps"], list):
        return None
    rows, order, stand_ins = [], [], {}
    for number, row in enumerate(left["steps"]):
        if number in broken:
            stand_in = _stand_in(row)
            if stand_in is None:
                lost.add("steps")
                continue
            stand_ins[stand_in["id"]] = _kind(row)
            row = stand_in  # noqa: PLW2901 - the row that is read in place of the one that can't be
        rows.append(row)
        order.append(number)
    left["steps"] = rows
    left["stored_energy"] = [it for it in left.get("stored_energy", []) if it is not None]
    try:
        sequence = Sequence.model_validate(left)
    except ValidationError:
        return None
    return Sheet(sequence, tuple(order), stand_ins, frozenset(lost))


def _leave_out(left: dict[str, Any], kind: str, loc: Loc, broken: set[int], lost: set[str]) -> None:
    """Take out the smallest part that makes the rest readable."""
    section = str(loc[0])
    if kind == "extra_forbidden":
        holder: Any = left
        for part in loc[:-1]:
            holder = holder[part] if holder is not None else None
        if isinstance(holder, dict):
            holder.pop(str(loc[-1]), None)
        return
    if section == "steps" and len(loc) > 1 and isinstance(loc[1], int):
        broken.add(loc[1])
        return
    lost.add(section)
    held = left.get(section)
    if section in _MAPPINGS and len(loc) > 1 and isinstance(held, dict):
        held.pop(str(loc[1]), None)
    elif section == "stored_energy" and len(loc) > 1 and isinstance(held, list) and isinstance(loc[1], int):
        held[loc[1]] = None
    elif section in _REQUIRED:
        left[section] = copy.deepcopy(_REQUIRED[section])
    else:
        left.pop(section, None)


def _kind(row: Mapping[str, Any]) -> str:
    """The kind as written, or nothing where that is no kind."""
    kind = row.get("kind")
    return kind if isinstance(kind, str) and kind in KINDS else ""


def _stand_in(row: Any) -> dict[str, Any] | None:
    """A look with the id and the references of a step that can't be read, or None where even the id is wrong."""
    if not isinstance(row, dict) or not isinstance(row.get("id"), str):
        return None
    stand_in = {name: row[name] for name in _KEPT if name in row}
    stand_in |= {"kind": "look", "id": row["id"], "title": row.get("title", "untitled"), "points": ["as written"]}
    try:
        LookStep.model_validate(stand_in)
    except ValidationError as wrong:
        for complaint in wrong.errors(include_url=False, include_context=False):
            stand_in.pop(str(complaint["loc"][0]), None)
    stand_in.setdefault("title", "untitled")
    try:
        LookStep.model_validate(stand_in)
    except ValidationError:
        return None
    return stand_in
