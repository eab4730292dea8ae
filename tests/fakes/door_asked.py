"""What does one computation of the door answer, before it becomes a line?"""

from collections.abc import Mapping
from typing import Any

from passcheck.cli.door.compute import Compute


def ask(computes: Mapping[str, Compute], name: str, given: Mapping[str, object]) -> dict[str, Any]:
    """Read the fields as their kinds say and compute; ValueError for a field that isn't right, missing or not known."""
    compute = computes[name]
    unknown = set(given) - {field.name for field in compute.fields}
    if unknown:
        raise ValueError(f"{name} has no field {sorted(unknown)[0]}")
    fields: dict[str, Any] = {}
    for field in compute.fields:
        if given.get(field.name) is None:
            if field.required:
                raise ValueError(f"{field.name} is missing")
            fields[field.name] = None
            continue
        try:
            fields[field.name] = field.kind.read(given[field.name])
        except ValueError as fault:
            raise ValueError(f"{field.name} {fault}") from None
    return compute.answer(fields)
