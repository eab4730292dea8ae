"""Editors complete a sequence file from the same models that read it."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from passcheck.sequence.nodes import read_nodes
from passcheck.sequence.schema import schema_text
from passcheck.sequence.shape import KINDS

ROOT = Path(__file__).parents[2]
TYPES: dict[str, type | tuple[type, ...]] = {
    "string": str,
    "object": dict,
    "array": list,
    "integer": int,
    "boolean": bool,
    "number": (int, float),
}

KEPT = Path(__file__).parents[2] / "sequences" / ".schema.json"


def every_entry(part: Any) -> Iterator[tuple[str, dict[str, Any]]]:
    """Each entry of each thing in the schema."""
    if isinstance(part, dict):
        entries = part.get("properties")
        if isinstance(entries, dict) and "type" in part:
            yield from entries.items()
        for member in part.values():
            yield from every_entry(member)
    elif isinstance(part, list):
        for member in part:
            yield from every_entry(member)


def test_the_kept_schema_is_the_models_own() -> None:
    assert KEPT.read_text(encoding="utf-8") == schema_text(), "run `passcheck schema > sequences/.schema.json`"


def test_every_entry_is_described_and_none_may_be_null() -> None:
    schema = json.loads(schema_text())
    entries = list(every_entry(schema))
    assert len(entries) > 200
    assert [name for name, entry in entries if not entry.get("description")] == []
    assert "null" not in schema_text()


def test_a_step_begins_with_its_kind_and_asks_for_few_entries() -> None:
    schema = json.loads(schema_text())
    steps = schema["properties"]["steps"]["items"]
    assert set(steps["discriminator"]["mapping"]) == set(KINDS)
    for place in steps["discriminator"]["mapping"].values():
        step = schema["$defs"][place.rsplit("/", 1)[1]]
        assert next(iter(step["properties"])) == "kind"
        assert step["required"][0] == "kind"
        assert {"needs", "cautions", "photo", "minutes"}.isdisjoint(step["required"])
        assert step["additionalProperties"] is False


def test_a_list_of_one_may_be_written_without_brackets() -> None:
    reading = json.loads(schema_text())["$defs"]["ReadingStep"]["properties"]
    for name in ("do", "needs", "cautions", "proves"):
        assert {choice["type"] for choice in reading[name]["anyOf"]} == {"string", "array"}


def test_files_write_class_and_try_as_the_schema_does() -> None:
    schema = json.loads(schema_text())
    assert "class" in schema["$defs"]["Supply"]["properties"]
    assert "supply_class" not in schema_text()
    assert "try" in schema["$defs"]["Symptom"]["properties"]


def misfits(value: Any, part: dict[str, Any], whole: dict[str, Any], place: str = "") -> Iterator[str]:
    """Where a value doesn't fit the part of JSON Schema that our schema uses."""
    if "$ref" in part:
        yield from misfits(value, whole["$defs"][part["$ref"].rsplit("/", 1)[1]], whole, place)
        return
    for choice in ("anyOf", "oneOf"):
        if choice in part and not any(not list(misfits(value, each, whole, place)) for each in part[choice]):
            yield f"{place} fits none of {choice}"
    kind = TYPES.get(part.get("type", ""), object)
    if not isinstance(value, kind) or (isinstance(value, bool) and part.get("type") in {"integer", "number"}):
        yield f"{place} is no {part['type']}"
    elif isinstance(value, str) and not re.search(part.get("pattern", ""), value):
        yield f"{place} doesn't match {part['pattern']}"
    if ("enum" in part and value not in part["enum"]) or ("const" in part and value != part["const"]):
        yield f"{place} is another word"
    if isinstance(value, list) and isinstance(part.get("items"), dict):
        for number, member in enumerate(value):
            yield from misfits(member, part["items"], whole, f"{place}/{number}")
    if isinstance(value, dict) and part.get("type") == "object":
        yield from (f"{place} lacks {name}" for name in part.get("required", ()) if name not in value)
        for name, member in value.items():
            fits = part.get("properties", {}).get(name, part.get("additionalProperties", True))
            patterns = part.get("patternProperties", {})
            fits = next((each for pattern, each in patterns.items() if re.search(pattern, name)), fits)
            if fits is False:
                yield f"{place}/{name} has no place"
            elif isinstance(fits, dict):
                yield from misfits(member, fits, whole, f"{place}/{name}")


BOARDS = [
    *sorted((ROOT / "sequences").glob("*.yaml")),
    *(ROOT / "tests" / "samples" / n for n in ("small-board.yaml", "twenty-steps.yaml")),
]


@pytest.mark.parametrize("path", BOARDS, ids=lambda path: path.name)
def test_an_editor_draws_no_red_line_under_a_board_of_ours(path: Path) -> None:
    schema = json.loads(schema_text())
    assert list(misfits(read_nodes(path.read_text(encoding="utf-8")).data, schema, schema)) == []


def test_an_editor_draws_a_red_line_under_each_misspelt_entry() -> None:
    schema = json.loads(schema_text())
    data = read_nodes((ROOT / "tests" / "samples" / "eight-mistakes.yaml").read_text(encoding="utf-8")).data
    found = list(misfits(data, schema, schema))
    assert "/revision is no integer" in found
    assert "/steps/4 fits none of oneOf" in found
    assert "/steps/5 fits none of oneOf" in found
