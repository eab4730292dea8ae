"""What does an editor need to know to complete and check a sequence file while it is written?

The JSON Schema of the models, made fit for completion: `kind` first, so that a step's snippet begins with it; nothing
optional may be null, so that no editor inserts `null`; every entry has its description.
"""

import json
from typing import Any

from passcheck.sequence.model import Sequence
from passcheck.sequence.schema_words import DESCRIPTIONS

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema_text() -> str:
    """The JSON Schema of a sequence file, as indented JSON that ends with a newline."""
    schema = Sequence.model_json_schema(by_alias=True, mode="validation")
    whole = {"$schema": DIALECT, "title": "passcheck sequence", **_fit(schema)}
    return json.dumps(whole, ensure_ascii=False, indent=2) + "\n"


def _fit(part: Any) -> Any:
    """A part of the schema with everything below it, made fit for editors."""
    if isinstance(part, list):
        return [_fit(member) for member in part]
    if not isinstance(part, dict):
        return part
    fitted = {name: _fit(member) for name, member in part.items() if not _is_left_out(name, member)}
    fitted = _without_null(fitted)
    if "required" in fitted:
        fitted["required"] = sorted(fitted["required"], key=lambda name: bool(name != "kind"))
    if isinstance(fitted.get("properties"), dict):
        fitted["properties"] = _entries(fitted["properties"])
    return fitted


def _is_left_out(name: str, member: Any) -> bool:
    """Titles say the name again; a default of nothing, or of a number as text, would be written into the file."""
    return (name == "title" and isinstance(member, str)) or (name == "default" and (member in (None, "1", [], {})))


def _without_null(part: dict[str, Any]) -> dict[str, Any]:
    """A choice between something and null is just the something: an optional entry is left out, not null."""
    choices = part.get("anyOf")
    if not isinstance(choices, list):
        return part
    left = [choice for choice in choices if choice != {"type": "null"}]
    rest = {name: member for name, member in part.items() if name != "anyOf"}
    return {**rest, "anyOf": left} if len(left) > 1 else {**left[0], **rest}


def _entries(properties: dict[str, Any]) -> dict[str, Any]:
    """The entries of one thing, `kind` first, each with its description."""
    names = sorted(properties, key=lambda name: name != "kind")  # stable: the rest keeps the order of the model
    return {name: {**properties[name], "description": _description(name, properties[name])} for name in names}


def _description(name: str, entry: dict[str, Any]) -> str:
    said = DESCRIPTIONS.get(name, "")
    form = entry.get("description", "")
    return f"{said} {form}".strip() if "$ref" not in entry else said
