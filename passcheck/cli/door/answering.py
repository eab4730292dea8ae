"""What does the door answer to one line?"""

import difflib
import json
import math
from collections.abc import Mapping, Sequence
from typing import Final

from passcheck.cli.door.compute import Answer, Compute
from passcheck.cli.door.table import TABLE
from passcheck.errors import OurBug

LONGEST_LINE: Final = 1_000_000
_SHOWN: Final = 40


def answer_line(line: str) -> tuple[str, bool]:
    """Return the answer to one line of JSON as a line of JSON, and False where it is an error.

    Only ASCII comes out, so that no byte of it can act on a terminal.
    """
    name: str | None = None
    try:
        asked = _object(line)
        given = asked.get("compute")
        name = given[:_SHOWN] if isinstance(given, str) else None
        answer: Answer = {"compute": name, **_computed(asked)}
        good = True
    except (ValueError, ArithmeticError, RecursionError, OurBug) as fault:
        answer, good = {"compute": name, "error": _sentence(fault)}, False
    return json.dumps(_sayable(answer), ensure_ascii=True, allow_nan=False).replace("\x7f", "\\u007f"), good


def _object(line: str) -> Mapping[str, object]:
    if len(line) > LONGEST_LINE:
        raise ValueError(f"the line is longer than {LONGEST_LINE} characters")
    try:
        asked = json.loads(line, object_pairs_hook=_each_once)
    except json.JSONDecodeError as fault:
        raise ValueError(f"this is no JSON: {fault.msg.lower()} at character {fault.pos + 1}") from None
    if not isinstance(asked, dict):
        raise ValueError(
            'an object is wanted, such as {"compute": "conformity", "value": 5.02, "u": 0.01, "high": 5.1}'
        )
    return asked


def _each_once(pairs: Sequence[tuple[str, object]]) -> dict[str, object]:
    fields: dict[str, object] = {}
    for name, value in pairs:
        if name in fields:
            raise ValueError(f"{name[:_SHOWN]} is given twice")
        fields[name] = value
    return fields


def _computed(asked: Mapping[str, object]) -> Answer:
    compute = _wanted(asked.get("compute"))
    known = {field.name: field for field in compute.fields}
    if strange := [name for name in asked if name != "compute" and name not in known]:
        raise ValueError(f"there is no field {strange[0][:_SHOWN]} here; the fields are {_marks(compute)}")
    fields: dict[str, object] = {}
    for name, field in known.items():
        given = asked.get(name)
        if name not in asked and field.required:
            raise ValueError(f"{name} is missing ({field.kind.words}; {field.says})")
        try:
            fields[name] = None if given is None and not field.required else field.kind.read(given)
        except ValueError as fault:
            raise ValueError(f"{name} {fault}") from None
    return compute.answer(fields)


def _wanted(name: object) -> Compute:
    if not isinstance(name, str):
        raise ValueError(f"compute names what is wanted: {', '.join(TABLE)}")
    if name not in TABLE:
        near = difflib.get_close_matches(name, TABLE, n=1, cutoff=0.5)
        hint = f"did you mean {near[0]}?" if near else f"there are {', '.join(TABLE)}"
        raise ValueError(f"there is nothing called {name[:_SHOWN]}; {hint}")
    return TABLE[name]


def _marks(compute: Compute) -> str:
    return ", ".join(field.mark for field in compute.fields)


def _sentence(fault: Exception) -> str:
    """One sentence for whatever stopped it."""
    if isinstance(fault, RecursionError):
        return "The object is nested too deep."
    if isinstance(fault, ArithmeticError):
        return "These numbers are too large, too small or zero where something is divided by them."
    text = str(fault)
    return text if text.endswith((".", "?")) else f"{text}."


def _sayable(value: object) -> object:
    """Infinite numbers become null: JSON has no word for them."""
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, Mapping):
        return {str(name): _sayable(each) for name, each in value.items()}
    if isinstance(value, list | tuple):
        return [_sayable(each) for each in value]
    return value
