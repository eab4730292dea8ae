"""Each rule of the trade: what breaks it, how loudly it complains, and about which line."""

import copy
from collections.abc import Callable
from typing import Any

import pytest

from passcheck.sequence.load import Checked
from passcheck.sequence.rules import RULES

Board = dict[str, Any]
Check = Callable[[Board], Checked]
Spoil = Callable[[Board], None]


def step(board: Board, step_id: str) -> Board:
    """The step of that id, to be spoilt."""
    found: Board = next(it for it in board["steps"] if it["id"] == step_id)
    return found


def sets(path: str, value: Any) -> Spoil:
    """Write a value at a dotted path; `steps.rail-5v` finds a step by its id; None takes the entry out."""

    def spoil(board: Board) -> None:
        *holders, last = path.split(".")
        here: Any = board
        for part in holders:
            here = step(board, part) if here is board["steps"] else here[int(part) if part.isdigit() else part]
        if value is None:
            del here[last]
        else:
            here[int(last) if last.isdigit() else last] = copy.deepcopy(value)

    return spoil


def adds(*steps: Board, before: str = "look-out") -> Spoil:
    """Put steps into the list, with what every step needs filled in."""

    def spoil(board: Board) -> None:
        place = board["steps"].index(step(board, before))
        whole = [{"title": "Added", "proves": ["LAMP"], **it} for it in steps]
        board["steps"][place:place] = whole

    return spoil


def both(*spoils: Spoil) -> Spoil:
    """One after the other."""

    def spoil(board: Board) -> None:
        for each in spoils:
            each(board)

    return spoil


POWERED = {"power": "battery", "needs": ["rail-5v"]}
SOAK = {
    **POWERED,
    "id": "soak",
    "kind": "soak",
    "hours": "4 h",
    "every": "60 min",
    "check": ["rail-5v"],
    "continuity": "hour meter",
}
BLIND_SOAK = {name: value for name, value in SOAK.items() if name != "continuity"}
CODES: Board = {**POWERED, "id": "codes", "kind": "codes", "expected": ["F31"], "absent": ["F35"], "provoke": []}
LIVE = {
    "nominal": "230 V",
    "range": "207 V .. 253 V",
    "current_limit": "0.30 A",
    "class": "hazardous-live",
    "connect": "isolating transformer",
}
DANGER = {
    "signal": "DANGER",
    "hazard": "325 V on the heatsink.",
    "harm": "Contact kills.",
    "avoid": "One hand, transformer for this unit only.",
    "stop_if": "the series lamp stays bright",
    "confirm": {"ask": "Volts on the tester", "limits": "207 V .. 253 V"},
}
SWEEP = {**POWERED, "id": "sweep", "kind": "sweep", "gauge": "M1", "up": "1.5 s .. 3.0 s", "down": "1.5 s .. 3.0 s"}
PRESS = {**POWERED, "id": "sw1", "kind": "response", "press": "SW1", "watch": "the SW1 lamp lights"}
MARKS = {
    **POWERED,
    "id": "marks",
    "kind": "marks",
    "gauge": "M1",
    "tolerance": "3 %",
    "readability": "1 %",
    "marks": [{"feed": "46 Ω", "mark": "½", "value": "50 %"}],
}
TABLE = {
    **POWERED,
    "id": "table",
    "kind": "table",
    "instrument": "voltmeter",
    "rows": [{"put": "10 kΩ", "limits": "1.0 V .. 2.0 V"}],
}

# rule, what to spoil, how loud, words of the complaint, the source line it points at
CASES: list[tuple[str, Spoil, str, str, str]] = [
    ("fixed_units", sets("supplies.battery.nominal", "24 A"), "error", "volts (V)", "nominal: 24 A"),
    ("fixed_units", sets("stored_energy.0.wait", "10 V"), "error", "a time", "wait: 10 V"),
    ("fixed_units", sets("steps.power-up.limits", "0.1 V .. 0.2 V"), "error", "amperes", "limits: 0.1 V .. 0.2 V"),
    (
        "fixed_units",
        adds({**CODES, "provoke": [{"do": "short it", "code": "F3", "within": "3 V .. 4 V"}], "clear": "clear it"}),
        "error",
        "a time",
        "within: 3 V .. 4 V",
    ),
    ("one_unit_a_reading", sets("steps.ripple-5v.typical", "24 mV"), "error", "peak to peak", "typical: 24 mV"),
    ("one_unit_a_reading", sets("steps.input.node.settle", "10 V"), "error", "a time", "settle: 10 V"),
    (
        "one_unit_a_reading",
        sets("steps.short-5v.component", {"nominal": "1 V", "tolerance": "5 %"}),
        "error",
        "ohms",
        "nominal: 1 V",
    ),
    (
        "one_unit_a_scale",
        adds({**MARKS, "marks": [{"feed": "46 Ω", "mark": "½", "value": "50 V"}]}),
        "error",
        "percent",
        "value: 50 V",
    ),
    ("something_to_judge_by", sets("steps.rail-5v.limits", None), "error", "no value could fail", "- id: rail-5v"),
    ("something_to_judge_by", sets("steps.rail-5v.at", None), "warning", "which two points", "- id: rail-5v"),
    ("one_sided_limits", sets("steps.rail-5v.limits", "at most 5.15 V"), "error", "reads 0", "limits: at most 5.15 V"),
    ("one_sided_limits", sets("steps.short-5v.seen", None), "error", "reads OL", "limits: at least 150 Ω"),
    ("one_sided_limits", sets("steps.ripple-5v.seen", "at most 5 Vpp"), "error", "zero lies inside", "seen: at most"),
    ("one_sided_limits", sets("steps.short-5v.seen", "at least 1 Ω"), "error", "OL lies inside", "seen: at least 1 Ω"),
    ("one_sided_limits", sets("steps.ripple-5v.seen", "at least 1 Vpp"), "error", "lies outside 'seen'", "seen: at"),
    (
        "one_sided_limits",
        both(sets("steps.short-5v.seen", None), sets("steps.short-5v.leads", "at most 0.3 Ω")),
        "error",
        "not that the probes touch",
        "leads: at most 0.3 Ω",
    ),
    (
        "one_sided_limits",
        sets("steps.power-up.limits", "at most 0.22 A"),
        "error",
        "draws 0 A",
        "limits: at most 0.22 A",
    ),
    (
        "one_sided_limits",
        adds({**TABLE, "rows": [{"put": "open", "limits": "at most 1 V"}]}),
        "error",
        "write both ends",
        "limits: at most 1 V",
    ),
    ("typical_inside", sets("steps.rail-5v.typical", "5.20 V"), "warning", "lies outside", "typical: 5.20 V"),
    (
        "decided_by_its_instrument",
        sets("instruments.voltmeter.accuracy", "5 % + 3 digits"),
        "error",
        "so 'voltmeter' won't do here",
        "limits: 4.85 V .. 5.15 V",
    ),
    (
        "decided_by_its_instrument",
        sets("instruments.voltmeter.accuracy", "1 % + 3 digits"),
        "warning",
        "4 is usual",
        "limits: 4.85 V .. 5.15 V",
    ),
    ("decided_by_its_instrument", sets("steps.rail-5v.instrument", None), "warning", "no 'instrument'", "limits: 4.85"),
    (
        "two_readings_for_a_derived_one",
        adds(
            {
                **POWERED,
                "id": "drop",
                "kind": "reading",
                "limits": "0 V .. 1 V",
                "derive": {"form": "drop", "of": ["rail-5v", "lamps"]},
            }
        ),
        "error",
        "'lamps' is not a reading",
        "- lamps",
    ),
    (
        "derived_in_its_unit",
        adds(
            {
                **POWERED,
                "id": "power",
                "kind": "reading",
                "limits": "0 W .. 1 W",
                "derive": {"form": "product", "of": ["rail-5v", "rail-5v"]},
            }
        ),
        "error",
        "the product of readings in V and V gives no unit known here, not W",
        "limits: 0 W .. 1 W",
    ),
    (
        "derived_in_its_unit",
        adds(
            {
                **POWERED,
                "id": "share",
                "kind": "reading",
                "limits": "0 V .. 1 V",
                "derive": {"form": "ratio", "of": ["rail-5v", "rail-5v"]},
            }
        ),
        "error",
        "gives %, not V",
        "limits: 0 V .. 1 V",
    ),
    ("something_to_look_at", sets("steps.lamps.lamps", []), "error", "this list is empty", "lamps: []"),
    ("something_to_look_at", sets("steps.lamps.check", "rate"), "error", "'limits' in Hz", "- id: lamps"),
    (
        "hand_timed",
        adds({**PRESS, "limits": "at most 0.15 s", "method": "taps"}),
        "error",
        "taps can't decide it",
        "limits: at most 0.15 s",
    ),
    (
        "hand_timed",
        adds({**PRESS, "limits": "at most 0.25 s", "method": "taps"}),
        "warning",
        "often end in doubt",
        "limits: at most 0.25 s",
    ),
    (
        "hand_timed",
        adds({**SWEEP, "up": "0.1 s .. 3.0 s"}),
        "warning",
        "write 'method: instrument'",
        "up: 0.1 s .. 3.0 s",
    ),
    ("guarded_power", sets("steps.power-up.needs", []), "error", "no unpowered check before it", "power: battery"),
    ("guarded_power", sets("steps.power-up.needs", ["look-in"]), "error", "no unpowered check", "power: battery"),
    (
        "first_power_is_limited",
        both(
            sets("supplies.second", {**LIVE, "class": "extra-low", "nominal": "12 V", "range": "9 V .. 15 V"}),
            sets("steps.lamps.power", "second"),
        ),
        "warning",
        "without a power-up step before it",
        "power: second",
    ),
    ("power_up_has_power", adds({**SOAK, "power": "none"}), "error", "needs 'power'", "- title: Added"),
    (
        "current_limit_fits",
        sets("supplies.battery.current_limit", "0.20 A"),
        "error",
        "would trip",
        "current_limit: 0.20 A",
    ),
    (
        "current_limit_fits",
        sets("supplies.battery.current_limit", "0.70 A"),
        "warning",
        "protects little",
        "current_limit: 0.70 A",
    ),
    (
        "supply_range_holds_nominal",
        sets("supplies.battery.nominal", "12 V"),
        "error",
        "outside the range",
        "nominal: 12",
    ),
    (
        "supply_range_holds_nominal",
        sets("supplies.battery.range", "at most 32 V"),
        "error",
        "two ends",
        "range: at most",
    ),
    (
        "supply_range_holds_nominal",
        sets("supplies.battery.range", "16 V .. 150 V"),
        "error",
        "where extra-low voltage ends",
        "class: extra-low",
    ),
    ("unplugged_is_another", sets("steps.lamps.unplugged", ["battery"]), "error", "be unplugged for it", "- battery"),
    ("set_inside_range", sets("steps.power-up.set", "40 V"), "error", "may not stand", "set: 40 V"),
    (
        "facts_for_the_worst",
        sets("cautions.hot-regulator.confirm", None),
        "error",
        "never by a key alone",
        "signal: WARNING",
    ),
    ("avoidance_is_said", sets("cautions.fault-current.avoid", []), "error", "how to avoid", "avoid: []"),
    (
        "avoidance_is_said",
        sets("cautions.fault-current.avoid", "Be careful here."),
        "warning",
        "tells nobody what to do",
        "avoid: Be careful here.",
    ),
    (
        "fact_is_not_given_away",
        sets("cautions.fault-current.hazard", "The output capacitor empties before the 0.30 A limit acts."),
        "warning",
        "can be answered without a look",
        "signal: CAUTION",
    ),
    (
        "danger_is_rare",
        both(sets("cautions.one", DANGER), sets("cautions.two", DANGER)),
        "warning",
        "2 of 5 cautions say DANGER",
        "fault-current:",
    ),
    (
        "hazardous_live_is_prepared",
        both(
            sets("supplies.mains", {**LIVE, "cautions": ["hot-regulator"]}),
            sets("stored_energy", []),
            sets("make_safe", []),
        ),
        "error",
        "a way back",
        "nominal: 230 V",
    ),
    (
        "hazardous_live_is_prepared",
        sets("supplies.mains", {**LIVE, "cautions": ["fault-current"]}),
        "error",
        "a DANGER or a WARNING",
        "nominal: 230 V",
    ),
    (
        "stored_energy_is_discharged",
        both(
            sets("stored_energy.0.capacitance", "12 mF"),
            sets("stored_energy.0.voltage", "58 V"),
            sets("stored_energy.0.discharge", None),
        ),
        "error",
        "20 J",
        "- at: TP9 to TP0",
    ),
    (
        "stored_energy_is_discharged",
        both(
            sets("stored_energy.0.capacitance", "0.33 µF"),
            sets("stored_energy.0.voltage", "325 V"),
            sets("stored_energy.0.discharge", None),
        ),
        "error",
        "µC",
        "- at: TP9 to TP0",
    ),
    (
        "stored_energy_is_discharged",
        sets("stored_energy.0.discharged_below", "40 V"),
        "error",
        "always counts as discharged",
        "discharged_below: 40 V",
    ),
    (
        "stored_energy_is_discharged",
        both(sets("stored_energy.0.discharged_below", "70 V"), sets("stored_energy.0.voltage", "100 V")),
        "error",
        "still bites",
        "discharged_below: 70 V",
    ),
    ("make_safe_is_written", sets("make_safe", []), "warning", "'make_safe' lines", "supplies:"),
    ("steps_prove_blocks", sets("steps.rail-5v.proves", []), "warning", "proves no block", "- id: rail-5v"),
    (
        "blocks_are_proved",
        both(
            sets("blocks.KEY", {"title": "Buttons", "feeds": []}),
            sets("steps.look-in.proves", ["PWR"]),
            sets("steps.look-out.proves", ["PWR"]),
        ),
        "error",
        "no step proves KEY",
        "KEY:",
    ),
    (
        "blocks_are_proved",
        sets("blocks.KEY", {"title": "Buttons", "feeds": []}),
        "warning",
        "only first and last looks",
        "KEY:",
    ),
    ("blocks_say_what_they_feed", sets("blocks.LAMP.feeds", None), "warning", "doesn't say what it feeds", "LAMP:"),
    ("groups_name_known_parts", sets("blocks.PWR.renew_together.0.0", "C99"), "warning", "C99", "- - C99"),
    ("symptoms_have_steps", sets("symptoms.restarts.steps", []), "error", "no step shows", "steps: []"),
    ("symptoms_have_steps", sets("symptoms.restarts.try", None), "warning", "no condition", "restarts:"),
    ("no_cycles", sets("steps.input.needs", ["rail-5v"]), "error", "runs in a circle", "- rail-5v"),
    ("no_cycles", sets("steps.lamps.depends_on", ["lamps"]), "error", "lamps > lamps", "- lamps"),
    ("no_cycles", sets("blocks.LAMP.feeds", ["PWR"]), "warning", "feed one another", "- LAMP"),
    ("needs_come_first", sets("steps.rail-5v.needs", ["power-up", "lamps"]), "warning", "move it up", "- power-up"),
    (
        "needs_are_always_walked",
        both(sets("variants", {"beeper": "With beeper"}), sets("steps.rail-5v.variant", "beeper")),
        "error",
        "walked only with the variant",
        "- rail-5v",
    ),
    (
        "photo_before_the_iron",
        both(sets("steps.look-in.photo", False), sets("steps.look-out.photo", True)),
        "warning",
        "none on arrival",
        "photo: true",
    ),
    (
        "short_groups",
        both(sets("steps.power-up.heading", None), sets("steps.look-out.heading", None)),
        "warning",
        "without a 'heading'",
        "- id: look-out",
    ),
    ("changes_are_restored", sets("steps.lamps.do", "Fit the dummy plug."), "warning", "come off again", "- id: lamps"),
    (
        "codes_are_cleared",
        adds({**CODES, "provoke": [{"do": "short it", "code": "F35"}]}),
        "error",
        "has to go again",
        "- do: short it",
    ),
    ("codes_are_cleared", adds({**CODES, "expected": []}), "warning", "reads no codes at all", "- title: Added"),
    ("codes_are_cleared", adds({**CODES, "absent": ["F31"]}), "error", "expected and absent", "- F31"),
    ("arrival_and_final_look", sets("steps.look-in.role", None), "warning", "role 'arrival'", "steps:"),
    ("arrival_and_final_look", sets("steps.look-out.role", None), "warning", "role 'final'", "steps:"),
    ("soak_has_checks", adds({**SOAK, "every": "3 h"}), "error", "fewer than two checks", "every: 3 h"),
    ("soak_has_checks", adds({**SOAK, "check": []}), "error", "checks nothing", "check: []"),
    ("soak_shows_continuity", adds(BLIND_SOAK), "warning", "nothing shows that power stayed on", "- title: Added"),
    (
        "soak_left_alone",
        both(
            sets("supplies.mains", {**LIVE, "cautions": ["hot-regulator"]}),
            adds({**SOAK, "power": "mains", "unattended": True}),
        ),
        "error",
        "not left alone",
        "unattended: true",
    ),
    ("expectations_are_seen", sets("steps.look-out.points", ["Lens OK"]), "warning", "'OK'", "- Lens OK"),
]


@pytest.mark.parametrize(
    ("spoil", "severity", "words", "line"),
    [pytest.param(*case[1:], id=f"{case[0]}-{number}") for number, case in enumerate(CASES)],
)
def test_a_broken_rule_is_told_at_its_line(
    board: Board, check: Check, spoil: Spoil, severity: str, words: str, line: str
) -> None:
    spoil(board)
    checked = check(board)
    told = [fault for fault in checked.faults if words in fault.sentence]
    assert told, [fault.show("board.yaml") for fault in checked.faults]
    assert {fault.severity for fault in told} == {severity}
    assert any(fault.source.strip().startswith(line) for fault in told), told
    assert (checked.sequence is None) == any(fault.severity == "error" for fault in checked.faults)


def test_a_soak_with_a_witness_breaks_no_rule(board: Board, check: Check) -> None:
    adds(SOAK)(board)
    assert check(board).faults == ()


def test_every_rule_has_a_case_that_triggers_it() -> None:
    assert {case[0] for case in CASES} == {rule.__name__ for rule in RULES}


def test_the_small_board_breaks_no_rule(board: Board, check: Check) -> None:
    assert check(board).faults == ()


def test_a_short_time_by_an_instrument_is_no_matter_for_hands(board: Board, check: Check) -> None:
    adds({**PRESS, "limits": "at most 0.10 s", "method": "instrument"})(board)
    assert check(board).faults == ()


def test_a_rule_does_not_complain_about_a_step_only_because_its_guard_is_misspelt(board: Board, check: Check) -> None:
    step(board, "short-5v")["limits"] = "at least 150"
    step(board, "input")["kind"] = "raeding"
    sentences = [fault.sentence for fault in check(board).faults]
    assert len(sentences) == 2
    assert "has no unit" in " ".join(sentences)
    assert "did you mean 'reading'?" in " ".join(sentences)
