"""Which entries may stand at a given place of a sequence file?

Walks the models of `model.py` along a path of the file, so that a misspelt entry is compared with the right names.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel

from passcheck.sequence import model

KINDS: dict[str, type[model.BaseStep]] = {
    get_args(step.model_fields["kind"].annotation)[0]: step for step in get_args(model.Step)
}

_CALLED: dict[type[BaseModel], str] = {
    model.Sequence: "a sequence",
    model.BaseStep: "a step",
    model.Supply: "a supply",
    model.StoredEnergy: "a place that stores energy",
    model.Caution: "a caution",
    model.Confirm: "a fact to confirm",
    model.InstrumentNeed: "an instrument",
    model.Block: "a block",
    model.Symptom: "a symptom",
    model.Lamp: "a lamp",
    model.Mark: "a mark",
    model.Row: "a row of the table",
    model.Provoke: "a provoked fault",
    model.Derive: "a derived reading",
    model.Component: "a component",
    model.Node: "a node",
}


@dataclass(frozen=True, slots=True)
class Shape:
    """A model and what an author calls it."""

    model: type[BaseModel]

    @property
    def called(self) -> str:
        """The thing's name in a sentence: `a caution`, `a reading step`."""
        for kind, step in KINDS.items():
            if step is self.model:
                return f"a {kind} step"
        return _CALLED.get(self.model, "this")


def entries_of(shape: Shape | None) -> tuple[str, ...]:
    """The names of the entries as files write them."""
    return tuple(field.alias or name for name, field in shape.model.model_fields.items()) if shape else ()


def shape_at(data: Any, loc: Iterable[str | int]) -> Shape | None:
    """What a place of the file may hold, or None where that is no model (a text, a list of names)."""
    found: Any = model.Sequence
    for part in loc:
        data = _inside(data, part)
        found = _next(found, part, data)
        if found is None:
            return None
    return Shape(found) if isinstance(found, type) and issubclass(found, BaseModel) else None


def _inside(data: Any, part: str | int) -> Any:
    if isinstance(data, dict):
        return data.get(part)
    if isinstance(data, list) and isinstance(part, int) and part < len(data):
        return data[part]
    return data


def _next(found: Any, part: str | int, data: Any) -> Any:
    """The type one step further along the path."""
    if isinstance(found, type) and issubclass(found, BaseModel):
        for name, field in found.model_fields.items():
            if part == (field.alias or name):
                return _bare(field.annotation, data)
        return None
    origin, args = get_origin(found), get_args(found)
    if origin is tuple and isinstance(part, int):
        return _bare(args[0], data)
    if isinstance(origin, type) and issubclass(origin, Mapping) and isinstance(part, str):
        return _bare(args[1], data)
    return None


def _bare(annotation: Any, data: Any) -> Any:
    """The type inside Annotated and Optional; of the steps, the one whose kind is written."""
    while get_origin(annotation) is Annotated:
        annotation = get_args(annotation)[0]
    if get_origin(annotation) in (Union, UnionType):
        members = [member for member in get_args(annotation) if member is not type(None)]
        if members and isinstance(members[0], type) and issubclass(members[0], model.BaseStep):
            kind = data.get("kind") if isinstance(data, dict) else None
            return KINDS.get(kind) if isinstance(kind, str) else model.BaseStep
        return _bare(members[0], data) if members else None
    return annotation
