"""One board with a step of every kind, each at its simplest: the lamp board with more steps after its own."""

from collections.abc import Mapping
from typing import Any

import sequences

NODE, GAUGE = "TP3 to TP0", "fuel (M1)"
POWERED: Mapping[str, Any] = {"power": "battery", "proves": ["PWR"], "needs": [sequences.GUARD]}
MORE: tuple[Mapping[str, Any], ...] = (
    {"id": "idle", "kind": "power-up", "title": "First power", "limits": "0.10 A .. 0.22 A", "after": "2 s",
     "instrument": "ammeter"},
    {"id": "ripple", "kind": "reading", "title": "Ripple", "at": NODE, "limits": "at most 60 mVpp",
     "seen": "1 mVpp .. 5 Vpp", "instrument": "scope"},
    {"id": "check", "kind": "lamps", "title": "Lamp check", "on_within": "at most 1.0 s", "off_after": "2.0 s .. 4.0 s",
     "lamps": [{"ref": "DS1", "colour": "red"}, {"ref": "DS2", "colour": "amber"}]},
    {"id": "blink", "kind": "lamps", "title": "Blink", "check": "rate", "limits": "1.0 Hz .. 2.0 Hz",
     "instrument": "scope", "lamps": [{"ref": "DS3", "colour": "red"}]},
    {"id": "answer", "kind": "response", "title": "Once", "press": "press SW1", "watch": "x", "limits": "at most 2 s"},
    {"id": "presses", "kind": "presses", "title": "SW1", "press": "SW1", "watch": "x", "limits": "at most 2 s"},
    {"id": "others", "kind": "presses", "title": "SW2", "press": "SW2", "watch": "x"},
    {"id": "sweep", "kind": "sweep", "title": "Sweep", "gauge": GAUGE, "up": "1 s .. 3 s", "down": "1 s .. 3 s"},
    {"id": "marks", "kind": "marks", "title": "Marks", "gauge": GAUGE, "tolerance": "3 %", "readability": "1 %",
     "marks": [{"feed": "10 Ω", "mark": "E", "value": "0 %"}, {"feed": "46 Ω", "mark": "½", "value": "50 %"}]},
    {"id": "codes", "kind": "codes", "title": "Codes", "expected": ["F31"], "absent": ["F35"], "clear": "clear them",
     "provoke": [{"do": "short it", "code": "F35"}]},
    {"id": "dip", "kind": "grade", "title": "Dip", "disturbance": "to 9 V", "worst": "C", "limits": "at most 3.0 s"},
    {"id": "look", "kind": "look", "title": "Look", "points": ["Even", "Clean"]},
    {"id": "beeps", "kind": "count", "title": "Beeps", "of": "beeps", "wanted": 3},
    {"id": "inputs", "kind": "table", "title": "Inputs", "instrument": "voltmeter",
     "rows": [{"put": "1 V", "limits": "0.9 V .. 1.1 V"}, {"put": "2 V", "limits": "1.9 V .. 2.1 V"}]},
    sequences.SOAK_STEP,
)  # fmt: skip
PLACE: Mapping[str, Any] = {"at": "TP9 to TP0", "capacitance": "1.41 mF", "discharged_below": "2 V", "wait": "10 s"}
EVERY_KIND = sequences.with_steps(*({**POWERED, **step} for step in MORE), stored_energy=[PLACE])
