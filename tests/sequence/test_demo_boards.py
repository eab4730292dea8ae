"""The demo boards are complete, break no rule, and open in an editor that completes them."""

import re
from pathlib import Path

import pytest

from passcheck.judge.energy import stored_energy_j
from passcheck.sequence.load import check_text, load_sequence
from passcheck.sequence.model import Sequence
from passcheck.sequence.reach import reached, steps_reached
from passcheck.sequence.shape import KINDS

ROOT = Path(__file__).parents[2]
BOARDS = {name: ROOT / "sequences" / f"{name.lower()}.yaml" for name in ("OV-24P", "EK-8", "QM-48", "TH-12", "PM-7")}
SAMPLES = ROOT / "tests" / "samples"
WHOLE = [*BOARDS.values(), SAMPLES / "small-board.yaml", SAMPLES / "twenty-steps.yaml"]

# Every line of a board's own list, with the kinds of the steps that it became.
LINES = {
    "OV-24P": {
        "a01": ["look"],
        "a02": ["reading"],
        "a03": ["reading"],
        "a04": ["reading", "reading"],
        "a05": ["power-up"],
        "a06": ["reading"],
        "a07": ["reading"],
        "a08": ["reading"],
        "a09": ["reading", "reading", "reading", "count"],
        "a10": ["grade"],
        "a11": ["lamps"],
        "a12": ["lamps"],
        "a13": ["response", "count"],
        "a14": ["sweep"] * 4,
        "a15": ["marks"],
        "a16": ["marks"],
        "a17": ["presses"] * 6 + ["response"],
        "a18": ["codes", "codes"],
        "a19": ["look", "count", "response"],
        "a20": ["count"],
        "a21": ["count", "look"],
        "a22": ["reading"],
        "a23": ["soak"],
        "final": ["look"],
    },
    "EK-8": {
        "b01": ["look"],
        "b02": ["reading"] * 2,
        "b03": ["reading"],
        "b04": ["reading"],
        "b05": ["reading"] * 2,
        "b06": ["table"] * 2,
        "b07": ["power-up"],
        "b08": ["table"] * 3 + ["count"],
        "b09": ["lamps"],
        "b10": ["presses"] * 2,
        "b11": ["table", "response"],
        "b12": ["response", "look"],
        "b13": ["power-up", "response"],
        "b14": ["reading"] * 2,
        "b15": ["reading"],
        "b16": ["reading"] * 2,
        "b17": ["reading"] * 8,
        "b18": ["response"] * 2,
        "b19": ["codes"] * 2,
        "b20": ["reading", "soak"],
        "final": ["look"],
    },
    "QM-48": {
        "c01": ["look"],
        "c02": ["reading"] * 2,
        "c03": ["reading"],
        "c04": ["table", "reading"],
        "c05": ["reading", "reading", "count"],
        "c06": ["power-up", "reading"],
        "c07": ["reading"] * 3,
        "c08": ["power-up", "response", "reading"],
        "c09": ["reading"] * 2,
        "c10": ["count", "table", "table"],
        "c11": ["marks", "codes", "response"],
        "c12": ["codes"] * 2,
        "c13": ["power-up", "table", "reading"],
        "c14": ["reading", "reading", "count"],
        "c15": ["table", "reading"],
        "c16": ["count"] * 2,
        "c17": ["look"],
        "c18": ["response"],
        "c19": ["reading"] * 3 + ["soak"],
        "final": ["look"],
    },
    "TH-12": {
        "d01": ["look"],
        "d02": ["reading"],
        "d03": ["reading"],
        "d04": ["power-up"],
        "d05": ["reading"],
        "d06": ["look"],
        "d07": ["presses"] * 5,
        "d08": ["table", "table", "count"],
        "d09": ["reading"],
        "d10": ["response", "look"],
        "d11": ["look", "look"],
        "d12": ["reading"],
        "d13": ["look"],
        "d14": ["reading"],
        "d15": ["soak", "count"],
        "final": ["look"],
    },
    "PM-7": {
        "e01": ["look"],
        "e02": ["reading"] * 3,
        "e03": ["reading"] * 2,
        "e04": ["power-up"],
        "e05": ["reading"] * 3,
        "e06": ["reading"] * 3,
        "e07": ["response", "reading", "count"],
        "e08": ["marks"] * 2,
        "e09": ["marks"] * 2,
        "e10": ["response", "look", "response"],
        "e11": ["codes"],
        "e12": ["lamps", "codes"],
        "e13": ["response", "reading", "look", "count"],
        "e14": ["presses"] * 4 + ["response"],
        "e15": ["look", "look"],
        "e16": ["reading", "grade"],
        "e17": ["count", "reading"],
        "e18": ["look"],
        "e19": ["soak"],
        "final": ["look"],
    },
}

# The blocks that no other feeds. One supply feeds all of a board, but for the traction controller: its battery side
# only fills the bank, so that battery side, bank, auxiliary supply and flash code stand side by side.
FED_BY_NONE = {
    "OV-24P": {"PWR"},
    "EK-8": {"MAINS"},
    "QM-48": {"BATT", "CAPS", "AUX", "UI"},
    "TH-12": {"PWR"},
    "PM-7": {"PWR"},
}


def loaded(name: str) -> Sequence:
    return load_sequence(BOARDS[name])[0]


@pytest.mark.parametrize("path", WHOLE, ids=lambda path: path.name)
def test_a_board_of_ours_breaks_no_rule(path: Path) -> None:
    assert check_text(path.read_bytes(), path.name).faults == ()


@pytest.mark.parametrize("path", [*WHOLE, SAMPLES / "eight-mistakes.yaml"], ids=lambda path: path.name)
def test_an_editor_finds_the_schema_from_the_first_line(path: Path) -> None:
    first = path.read_text(encoding="utf-8").splitlines()[0]
    prefix = "# yaml-language-server: $schema="
    assert first.startswith(prefix)
    assert (path.parent / first.removeprefix(prefix)).is_file()


@pytest.mark.parametrize("name", BOARDS)
def test_every_line_of_the_board_has_its_steps(name: str) -> None:
    found: dict[str, list[str]] = {}
    for step in loaded(name).steps:
        found.setdefault(step.id.split("-")[0], []).append(step.kind)
    assert {line: sorted(kinds) for line, kinds in found.items()} == {
        line: sorted(kinds) for line, kinds in LINES[name].items()
    }


def test_the_boards_show_every_kind_of_step() -> None:
    assert {step.kind for name in BOARDS for step in loaded(name).steps} == set(KINDS)


@pytest.mark.parametrize("name", BOARDS)
def test_a_board_has_every_role_and_every_block_is_reached(name: str) -> None:
    sequence = loaded(name)
    assert {step.role for step in sequence.steps} >= {"arrival", "before-power", "first-power", "final"}
    fed = {other for block in sequence.blocks.values() for other in block.feeds}
    assert set(sequence.blocks) - fed == FED_BY_NONE[name]
    assert reached(sequence, FED_BY_NONE[name]) == set(sequence.blocks)
    assert set(steps_reached(sequence, FED_BY_NONE[name])) == {step.id for step in sequence.steps}


def test_work_on_one_block_of_the_traction_controller_never_asks_for_the_whole_of_it() -> None:
    sequence = loaded("QM-48")
    assert all(reached(sequence, [name]) != set(sequence.blocks) for name in sequence.blocks)
    assert reached(sequence, ["CAPS"]) == {"CAPS", "POWER"}
    assert reached(sequence, ["AUX"]) == {"AUX", "GATE", "CTRL"}


@pytest.mark.parametrize("name", BOARDS)
def test_a_fact_to_confirm_is_never_printed_by_the_question(name: str) -> None:
    for caution in loaded(name).cautions.values():
        for confirm in caution.confirm:
            without_designators = re.sub(r"\b[A-Z]+[0-9]+\b", "", confirm.ask)
            assert not any(character.isdigit() for character in without_designators)


@pytest.mark.parametrize("name", BOARDS)
def test_the_facts_of_a_caution_vary(name: str) -> None:
    cautions = loaded(name).cautions.values()
    assert all(len(caution.confirm) >= 2 for caution in cautions if caution.signal != "NOTICE")


def test_the_cautions_that_are_met_most_have_three_facts() -> None:
    assert len(loaded("OV-24P").cautions["fault-current"].confirm) == 3
    assert len(loaded("EK-8").cautions["mains-section"].confirm) == 3


def test_the_timer_board_needs_no_heavy_caution_and_little_ceremony_to_make_safe() -> None:
    sequence = loaded("TH-12")
    assert {caution.signal for caution in sequence.cautions.values()} == {"NOTICE", "CAUTION"}
    highest = sequence.supplies["adapter"].range.high
    assert highest is not None
    assert stored_energy_j(sequence.stored_energy[0].capacitance, highest) < 0.25


def test_the_panel_board_is_proved_dead_point_by_point() -> None:
    sequence = loaded("OV-24P")
    highest = sequence.supplies["battery"].range.high
    assert highest is not None
    assert stored_energy_j(sequence.stored_energy[0].capacitance, highest) > 0.25
    assert len(sequence.make_safe) >= 4


def test_the_stories_of_the_panel_board_can_be_told() -> None:
    sequence = loaded("OV-24P")
    assert sequence.symptoms["needle-drops"].steps == ("a15", "a16")
    assert sequence.symptoms["restarts"].steps == ("a08", "a10")
    assert reached(sequence, ["KEY"]) == {"KEY"}
    assert "a16" in steps_reached(sequence, ["GAUGE"])


def test_a_dead_rail_of_the_panel_explains_what_lies_behind_it_and_no_more() -> None:
    sequence = loaded("OV-24P")
    behind = {"a07"}
    for step in sequence.steps * 2:  # a chain has two links at most
        if behind & set(step.depends_on):
            behind.add(step.id)
    driven = {step.id for step in sequence.steps if set(step.proves) & {"LAMP", "GAUGE", "KEY", "DISP", "SENS", "BEEP"}}
    assert driven <= behind, "the controller on 3.3 V drives all of it"
    assert behind - driven == {"a07", "a21-bright", "a21-hours"}, "its memory besides, and nothing of the supply"


def test_the_short_samples_are_as_long_as_their_names_say() -> None:
    small = load_sequence(SAMPLES / "small-board.yaml")[0]
    twenty = load_sequence(SAMPLES / "twenty-steps.yaml")[0]
    assert len(small.steps) == 8
    assert len(twenty.steps) == 20
    assert "soak" not in {step.kind for sequence in (small, twenty) for step in sequence.steps}
