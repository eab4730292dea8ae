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
BOARDS = {"OV-24P": ROOT / "sequences" / "ov-24p.yaml", "TH-12": ROOT / "sequences" / "th-12.yaml"}
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


def test_the_two_boards_show_every_kind_of_step() -> None:
    assert {step.kind for name in BOARDS for step in loaded(name).steps} == set(KINDS)


@pytest.mark.parametrize("name", BOARDS)
def test_a_board_has_every_role_and_every_block_is_reached(name: str) -> None:
    sequence = loaded(name)
    assert {step.role for step in sequence.steps} >= {"arrival", "before-power", "first-power", "final"}
    assert reached(sequence, ["PWR"]) == set(sequence.blocks)
    assert set(steps_reached(sequence, ["PWR"])) == {step.id for step in sequence.steps}


@pytest.mark.parametrize("name", BOARDS)
def test_a_fact_to_confirm_is_never_printed_by_the_question(name: str) -> None:
    for caution in loaded(name).cautions.values():
        for confirm in caution.confirm:
            without_designators = re.sub(r"\b[A-Z]+[0-9]+\b", "", confirm.ask)
            assert not any(character.isdigit() for character in without_designators)


def test_the_facts_of_a_caution_vary() -> None:
    cautions = loaded("OV-24P").cautions
    assert len(cautions["fault-current"].confirm) == 3
    assert all(len(caution.confirm) >= 2 for caution in cautions.values() if caution.signal == "CAUTION")


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


def test_the_short_samples_are_as_long_as_their_names_say() -> None:
    small = load_sequence(SAMPLES / "small-board.yaml")[0]
    twenty = load_sequence(SAMPLES / "twenty-steps.yaml")[0]
    assert len(small.steps) == 8
    assert len(twenty.steps) == 20
    assert "soak" not in {step.kind for sequence in (small, twenty) for step in sequence.steps}
