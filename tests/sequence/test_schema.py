"""Editors complete a sequence file from the same models that read it."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from passcheck.sequence.schema import schema_text
from passcheck.sequence.shape import KINDS

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
