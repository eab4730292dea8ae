"""Is every quantity of a sequence in the unit that its entry needs?"""

from collections.abc import Iterator
from typing import Any

from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity
from passcheck.sequence.finding import Finding, error
from passcheck.sequence.sheet import Sheet

_SUPPLY = {"nominal": "V", "range": "V", "current_limit": "A", "working_current": "A"}
_STORED = {"capacitance": "F", "discharged_below": "V", "wait": "s", "voltage": "V"}
_STEP = {
    "power-up": {"limits": "A", "after": "s", "set": "V"},
    "response": {"limits": "s"},
    "presses": {"limits": "s"},
    "lamps": {"on_within": "s", "off_after": "s", "limits": "Hz"},
    "sweep": {"up": "s", "down": "s", "angle": "deg"},
    "grade": {"limits": "s"},
    "soak": {"hours": "s", "every": "s", "warm_up": "s", "ambient": "°C", "off": "s"},
}
_CALLED = {
    "V": "volts (V)",
    "A": "amperes (A)",
    "s": "a time (s, min or h)",
    "Hz": "a rate (Hz)",
    "F": "farads (F)",
    "Ω": "ohms (Ω)",
    "°C": "a temperature (°C)",
    "deg": "degrees (°)",
    "%": "percent (%)",
    "K": "a difference of temperatures (K)",
    "Vpp": "volts peak to peak (Vpp)",
}


def fixed_units(sheet: Sheet) -> Iterator[Finding]:
    """Entries whose unit their name fixes."""
    yield from _one(sheet.sequence.results_last, "s", "results_last")
    for name, supply in sheet.sequence.supplies.items():
        yield from _table(supply, _SUPPLY, "supplies", name)
    for number, stored in enumerate(sheet.sequence.stored_energy):
        yield from _table(stored, _STORED, "stored_energy", number)
    for number, step in sheet.steps():
        yield from _table(step, _STEP.get(step.kind, {}), "steps", number)
        if step.kind == "codes":
            for place, provoke in enumerate(step.provoke):
                yield from _one(provoke.within, "s", "steps", number, "provoke", place, "within")


def one_unit_a_reading(sheet: Sheet) -> Iterator[Finding]:
    """A reading's limits, band and typical value are compared, so they are in one unit."""
    for number, step in sheet.steps():
        if step.kind != "reading":
            continue
        if step.limits is not None:
            for entry in ("seen", "typical", "leads"):
                yield from _one(getattr(step, entry), step.limits.unit, "steps", number, entry)
        if step.component is not None:
            units = {"nominal": "Ω", "tolerance": "%", "parallel": "Ω", "parallel_tolerance": "%", "expected": "Ω"}
            yield from _table(step.component, units, "steps", number, "component")
        if step.node is not None:
            yield from _one(step.node.settle, "s", "steps", number, "node", "settle")
            unit = step.limits.unit if step.limits is not None else "Ω"
            yield from _one(step.node.known_good, unit, "steps", number, "node", "known_good")


def one_unit_a_scale(sheet: Sheet) -> Iterator[Finding]:
    """Marks, their tolerance and what the eye can tell apart are compared, so they are in one unit."""
    for number, step in sheet.steps():
        if step.kind == "marks":
            yield from _one(step.readability, step.tolerance.unit, "steps", number, "readability")
            for place, mark in enumerate(step.marks):
                yield from _one(mark.value, step.tolerance.unit, "steps", number, "marks", place, "value")


def _table(held: Any, units: dict[str, str], *loc: str | int) -> Iterator[Finding]:
    for entry, unit in units.items():
        yield from _one(getattr(held, entry), unit, *loc, entry)


def _one(value: Quantity | Limits | None, unit: str, *loc: str | int) -> Iterator[Finding]:
    if value is not None and value.unit != unit:
        wanted = _CALLED.get(unit, unit)
        yield error(
            f"'{value.text}' is in {value.unit}; '{loc[-1]}' is compared with {wanted}, so write it in that", *loc
        )


RULES = (fixed_units, one_unit_a_reading, one_unit_a_scale)
