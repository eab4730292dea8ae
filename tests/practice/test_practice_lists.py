"""Is there something to practise on every board, with a list of its own or without?"""

from pathlib import Path

import demo_boards
import pytest

import sequences
from passcheck.errors import FileFault
from passcheck.practice.lists import UNITS, list_for, made_from
from passcheck.practice.serials import drawn_from
from passcheck.practice.sheet import ShortSoak, short_sheet
from passcheck.practice.truth import departing
from passcheck.practice.unit import SimulatedUnit
from passcheck.sequence.load import load_sequence, read_sequence
from passcheck.sequence.model import Sequence

SAMPLES = Path(__file__).parents[1] / "samples"
STRANGERS = ("small-board", "twenty-steps", "lamp-box", "tap-board")
SEQUENCES = {
    **{name: demo_boards.board(name) for name in demo_boards.NAMES},
    **{name: load_sequence(SAMPLES / f"{name}.yaml")[0] for name in STRANGERS},
    "three steps": sequences.sequence(),
}
EVERY = pytest.mark.parametrize("sequence", SEQUENCES.values(), ids=SEQUENCES)


def test_every_list_that_is_there_belongs_to_a_demo_board() -> None:
    assert {path.name for path in UNITS.iterdir()} == {f"{name.lower()}.yaml" for name in demo_boards.NAMES}


@pytest.mark.parametrize("name", demo_boards.NAMES)
def test_a_board_with_a_list_gets_it(name: str) -> None:
    found = list_for(demo_boards.board(name))
    assert found.board == name
    assert found.short
    assert found != made_from(demo_boards.board(name))


@pytest.mark.parametrize("name", demo_boards.NAMES)
def test_a_practice_sheet_gets_the_faults_of_its_board_in_the_same_order(name: str) -> None:
    whole = demo_boards.faults(name)
    text = (demo_boards.FOLDER / f"{name.lower()}.yaml").read_text(encoding="utf-8")
    sheet = read_sequence(short_sheet(text, whole.short, ShortSoak()), "sheet")
    found = list_for(sheet)
    assert [(it.name, it.effects) for it in found.faults] == [(it.name, it.effects) for it in whole.faults]
    assert found.short == whole.short
    for fault in found.faults:
        unit = SimulatedUnit(sheet, (fault,), drawn_from("drawn", 1))
        assert set(departing(unit)) <= {step.id for step in sheet.steps}
        assert departing(unit, (frozenset({fault.block}),)) == ()


def test_a_shop_keeps_lists_of_its_own(tmp_path: Path) -> None:
    text = "unit: LB-3\nfaults: {dark: {says: DS1 is dead, block: LAMP, shows: [{on: DS1, dark: true}]}}\n"
    (tmp_path / "lb-3.yaml").write_text(text, encoding="utf-8")
    found = list_for(sequences.sequence(), tmp_path)
    assert [fault.name for fault in found.faults] == ["dark"]
    assert found.short == ()


def test_a_list_that_does_not_fit_is_refused_and_not_passed_over(tmp_path: Path) -> None:
    (tmp_path / "lb-3.yaml").write_text("unit: LB-4\nfaults: {}\n", encoding="utf-8")
    with pytest.raises(FileFault, match=r"lb-3\.yaml:1:7: .*write unit: LB-3"):
        list_for(sequences.sequence(), tmp_path)


def test_a_board_without_a_list_gets_one_from_its_sequence(tmp_path: Path) -> None:
    assert list_for(sequences.sequence(), tmp_path) == made_from(sequences.sequence())
    assert list_for(sequences.sequence(), tmp_path / "not there").faults


@EVERY
def test_a_made_fault_shows_at_its_step_and_goes_with_its_block(sequence: Sequence) -> None:
    made = made_from(sequence)
    assert made.short == ()
    assert 1 <= len(made.faults) <= 8
    for fault in made.faults:
        unit = SimulatedUnit(sequence, (fault,), drawn_from("drawn", 1))
        assert fault.name in departing(unit)
        assert fault.block in sequence.step(fault.name).proves
        assert departing(unit, (frozenset({fault.block}),)) == ()


@EVERY
def test_a_made_complaint_is_that_of_the_steps_own_symptom(sequence: Sequence) -> None:
    for fault in made_from(sequence).faults:
        named = [it.says for it in sequence.symptoms.values() if fault.name in it.steps]
        assert fault.complaint == (named[0] if named else "")


@pytest.mark.parametrize("name", demo_boards.NAMES)
def test_made_faults_are_spread_over_the_blocks_and_shown_under_power(name: str) -> None:
    sequence = demo_boards.board(name)
    faults = made_from(sequence).faults
    assert len({fault.block for fault in faults}) >= 5
    assert all(sequence.step(fault.name).power != "none" for fault in faults)
