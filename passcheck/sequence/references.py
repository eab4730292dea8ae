"""Does every name that a file mentions exist in it?

Works on the plain data, so that a reference is checked even where the step around it has another fault.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from passcheck.sequence.finding import Finding, Loc, error
from passcheck.sequence.model import ALL_BLOCKS, NO_SUPPLY
from passcheck.sequence.words import did_you_mean

MOST_GUESSES = 20  # misspelt names that are compared with all others; a file with more has one cause

_SECTIONS = {
    "supply": "supplies",
    "instrument": "instruments",
    "caution": "cautions",
    "variant": "variants",
    "block": "blocks",
}
_OF_A_STEP = {
    "needs": "step",
    "depends_on": "step",
    "check": "step",
    "cautions": "caution",
    "proves": "block",
    "unplugged": "supply",
    "power": "supply",
    "instrument": "instrument",
    "variant": "variant",
}
_ALWAYS_KNOWN = {"supply": {NO_SUPPLY}, "block": {ALL_BLOCKS}}


def references(data: Mapping[str, Any]) -> Iterator[Finding]:
    """Every name that leads nowhere, every id given twice, and reserved words used as names."""
    known = _known(data)
    lost = 0
    for loc, kind, name in _mentioned(data):
        if name in known[kind] or (loc[0] == "steps" and name in _ALWAYS_KNOWN.get(kind, ())):
            continue
        lost += 1
        yield error(_nowhere(kind, name, known[kind] if lost <= MOST_GUESSES else set()), *loc)
    yield from _twice(data)
    for section, word in (("supplies", NO_SUPPLY), ("blocks", ALL_BLOCKS)):
        if word in _mapping(data, section):
            yield Finding(
                (section, word), f"'{word}' has a meaning of its own in steps; name this otherwise", of_key=True
            )


def _nowhere(kind: str, name: str, known: set[str]) -> str:
    called = "has the id" if kind == "step" else "is called"
    return f"no {kind} {called} '{name}'{did_you_mean(name, sorted(known))}"


def _known(data: Mapping[str, Any]) -> dict[str, set[str]]:
    known = {kind: set(_mapping(data, section)) for kind, section in _SECTIONS.items()}
    known["step"] = {str(row["id"]) for _, row in _rows(data, "steps") if "id" in row}
    return known


def _mentioned(data: Mapping[str, Any]) -> Iterator[tuple[Loc, str, str]]:
    """Each mention of a name: where, of what, the name."""
    for number, row in _rows(data, "steps"):
        for entry, kind in _OF_A_STEP.items():
            if entry == "check" and row.get("kind") == "lamps":
                continue  # lamps have a `check` of their own: which way they are looked at
            yield from _names(("steps", number, entry), kind, row.get(entry))
        yield from _keys(("steps", number, "fails_when"), "block", row.get("fails_when"))
        derive = row.get("derive")
        if isinstance(derive, dict):
            yield from _names(("steps", number, "derive", "of"), "step", derive.get("of"))
    yield from _names(("short_round",), "step", data.get("short_round"))
    for section, entry, kind in (
        ("symptoms", "steps", "step"),
        ("blocks", "feeds", "block"),
        ("supplies", "cautions", "caution"),
    ):
        for name, held in _mapping(data, section).items():
            if isinstance(held, dict):
                yield from _names((section, name, entry), kind, held.get(entry))
    for number, row in _rows(data, "stored_energy"):
        yield from _names(("stored_energy", number, "cautions"), "caution", row.get("cautions"))


def _names(loc: Loc, kind: str, written: Any) -> Iterator[tuple[Loc, str, str]]:
    if isinstance(written, str) and written:
        yield loc, kind, written
    elif isinstance(written, list):
        for number, name in enumerate(written):
            if isinstance(name, str) and name:
                yield (*loc, number), kind, name


def _keys(loc: Loc, kind: str, written: Any) -> Iterator[tuple[Loc, str, str]]:
    for name in written if isinstance(written, dict) else ():
        yield (*loc, name), kind, name


def _twice(data: Mapping[str, Any]) -> Iterator[Finding]:
    seen: dict[str, int] = {}
    for number, row in _rows(data, "steps"):
        step_id = row.get("id")
        if not isinstance(step_id, str):
            continue
        if step_id in seen:
            why = f"step {seen[step_id] + 1} of the list already has the id '{step_id}'; results are kept by id"
            yield error(f"{why}, so give this one another", "steps", number, "id")
        else:
            seen[step_id] = number


def _mapping(data: Mapping[str, Any], section: str) -> dict[str, Any]:
    held = data.get(section)
    return held if isinstance(held, dict) else {}


def _rows(data: Mapping[str, Any], section: str) -> Iterator[tuple[int, dict[str, Any]]]:
    held = data.get(section)
    if isinstance(held, list):
        for number, row in enumerate(held):
            if isinstance(row, dict):
                yield number, row
