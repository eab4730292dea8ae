"""Small sequences for tests, built as model objects: one invented lamp board and its variants.

The board has three steps unless a test adds some: an unpowered guard, a powered rail reading under a caution that asks
for a fact, and a powered walk along the lamps.
"""

from collections.abc import Mapping
from collections.abc import Sequence as Many
from typing import Any

from passcheck.sequence.model import Sequence

GUARD, RAIL, LAMPS = "short-5v", "rail-5v", "telltales"

FAULT_CURRENT: Mapping[str, Any] = {
    "signal": "WARNING",
    "hazard": "The supply can push 0.30 A into a fault.",
    "harm": "Tracks and fingers burn.",
    "avoid": ["Set the limit with the output off, then connect, then on."],
    "stop_if": "the limit light stays on",
    "confirm": [
        {"ask": "Current limit on the display", "limits": "0.30 A ± 5 %"},
        {"ask": "Volts on the display", "limits": "23.5 V .. 24.5 V"},
    ],
}
BATTERY: Mapping[str, Any] = {
    "nominal": "24 V",
    "range": "16 V .. 32 V",
    "current_limit": "0.30 A",
    "class": "extra-low",
    "connect": "J1 pins 1 and 2",
}
MAINS: Mapping[str, Any] = {
    "nominal": "230 V",
    "range": "207 V .. 253 V",
    "current_limit": "0.50 A",
    "class": "hazardous-live",
    "connect": "J9 through the isolating transformer",
    "cautions": ["mains"],
}
MAINS_CAUTION: Mapping[str, Any] = {
    "signal": "DANGER",
    "hazard": "Parts left of the marked line are at mains potential.",
    "harm": "Contact kills.",
    "avoid": ["Strap off.", "One hand."],
    "stop_if": "the series lamp stays bright",
    "confirm": {"ask": "Volts on the transformer's meter", "limits": "225 V .. 235 V"},
}
LITTLE_ENERGY: Mapping[str, Any] = {
    "at": "TP9 to TP0",
    "capacitance": "470 µF",
    "voltage": "24 V",  # 0.14 J
    "discharged_below": "2 V",
    "wait": "10 s",
}
MUCH_ENERGY: Mapping[str, Any] = {**LITTLE_ENERGY, "capacitance": "10 mF", "voltage": "32 V"}  # 5.1 J

GUARD_STEP: Mapping[str, Any] = {
    "id": GUARD,
    "kind": "reading",
    "title": "5 V rail to 0 V, unpowered",
    "proves": ["PWR"],
    "do": "Probe TP3 against TP0 after 10 s.",
    "at": "TP3 to TP0",
    "limits": "at least 150 Ω",
    "seen": "1 Ω .. 100 kΩ",
    "instrument": "ohmmeter",
    "role": "before-power",
}
RAIL_STEP: Mapping[str, Any] = {
    "id": RAIL,
    "kind": "reading",
    "title": "5 V logic rail",
    "power": "battery",
    "proves": ["PWR"],
    "needs": [GUARD],
    "cautions": ["fault-current"],
    "do": "Probe TP3 against TP0 with the backlight full.",
    "at": "TP3 to TP0",
    "limits": "4.85 V .. 5.15 V",
    "instrument": "voltmeter",
}
LAMPS_STEP: Mapping[str, Any] = {
    "id": LAMPS,
    "kind": "lamps",
    "title": "Telltales, each alone",
    "power": "battery",
    "proves": ["LAMP"],
    "needs": [GUARD],
    "lamps": [{"ref": "DS1", "colour": "red"}, {"ref": "DS2", "colour": "amber"}],
    "check": "alone",
}
LOOK_STEP: Mapping[str, Any] = {
    "id": "arrival",
    "kind": "look",
    "title": "Look on arrival",
    "role": "arrival",
    "proves": ["all"],
    "points": ["Connector pins straight", "No burnt parts"],
    "touches": False,
}
FINAL_STEP: Mapping[str, Any] = {
    **LOOK_STEP,
    "id": "final",
    "title": "Last look",
    "role": "final",
    "points": ["Cover screwed down", "Label on"],
}
SOAK_STEP: Mapping[str, Any] = {
    "id": "soak",
    "kind": "soak",
    "title": "Four hours at power",
    "power": "battery",
    "proves": ["all"],
    "needs": [GUARD],
    "hours": "4 h",
    "check": [RAIL],
    "every": "1 h",
    "continuity": "the hour meter",
}
BASE: Mapping[str, Any] = {
    "sequence": "LB-3",
    "revision": 1,
    "title": "Lamp board, three steps",
    "supplies": {"battery": BATTERY},
    "instruments": {"voltmeter": {"accuracy": "0.5 % + 3 digits"}, "ohmmeter": {"accuracy": "1 % + 3 digits"}},
    "cautions": {"fault-current": FAULT_CURRENT},
    "blocks": {
        "PWR": {"title": "Supply", "parts": ["F1", "C1", "C2"], "feeds": ["LAMP"], "renew_together": [["C1", "C2"]]},
        "LAMP": {"title": "Lamps", "parts": ["DS1", "DS2", "RN3"]},
    },
    "symptoms": {"rail-low": {"says": "Everything dim", "steps": [RAIL], "try": ["warm"]}},
    "steps": [GUARD_STEP, RAIL_STEP, LAMPS_STEP],
}


def sequence(**members: Any) -> Sequence:
    """The three-step board with these members of the file in place of its own."""
    return Sequence.model_validate({**BASE, **members})


def with_steps(*more: Mapping[str, Any], **members: Any) -> Sequence:
    """The board with these steps after its own."""
    return sequence(steps=[*BASE["steps"], *more], **members)


def changed_step(step_id: str, **members: Any) -> Sequence:
    """The board with one step's members changed."""
    steps: Many[Mapping[str, Any]] = BASE["steps"]
    return sequence(steps=[{**step, **members} if step["id"] == step_id else step for step in steps])


def with_signal(signal: str, *, confirm: bool = True) -> Sequence:
    """The board whose rail reading stands under this signal word."""
    caution = {**FAULT_CURRENT, "signal": signal}
    return sequence(cautions={"fault-current": caution if confirm else {**caution, "confirm": []}})


def little_energy() -> Sequence:
    """Under 0.25 J on extra-low voltage: power opens unknown, one reading at the supply proves it dead."""
    return sequence(stored_energy=[LITTLE_ENERGY])


def much_energy(**place: Any) -> Sequence:
    """Over 0.25 J: every point is measured, with the wait and the known source."""
    return sequence(stored_energy=[{**MUCH_ENERGY, **place}])


def hazardous_live() -> Sequence:
    """A second supply at mains potential under a DANGER, and one step on it."""
    inlet = {
        "id": "inlet",
        "kind": "reading",
        "title": "Filtered mains",
        "power": "mains",
        "proves": ["PWR"],
        "needs": [GUARD],
        "unplugged": ["battery"],
        "at": "L2 output",
        "limits": "207 V .. 253 V",
        "instrument": "voltmeter",
    }
    return with_steps(
        inlet,
        supplies={"battery": BATTERY, "mains": MAINS},
        cautions={"fault-current": FAULT_CURRENT, "mains": MAINS_CAUTION},
        stored_energy=[MUCH_ENERGY],
    )


def with_arrival_and_final() -> Sequence:
    """The board with a look on arrival before its steps and a last look after them."""
    return sequence(steps=[LOOK_STEP, *BASE["steps"], FINAL_STEP])


def with_restore() -> Sequence:
    """The rail is read with a dummy plug that has to come out again."""
    return changed_step(RAIL, restore="dummy plug out of J5")


def with_witness() -> Sequence:
    """Somebody else has to see the lamps."""
    return changed_step(LAMPS, witness=True)


def with_soak() -> Sequence:
    """The board with four hours of burn-in."""
    return with_steps(SOAK_STEP)


def with_variant() -> Sequence:
    """The board with an optional beeper, walked only on the variant that has one."""
    beeps = {
        "id": "beeps",
        "kind": "count",
        "title": "Beeps at power-up",
        "power": "battery",
        "proves": ["LAMP"],
        "needs": [GUARD],
        "of": "beeps",
        "wanted": 2,
        "variant": "beeper",
    }
    return with_steps(beeps, variants={"beeper": "Board with the optional beeper"})
