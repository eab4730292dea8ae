"""Is a practice unit the one that its serial number says?"""

import demo_boards
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import sequences
from passcheck.job.arrival import serial_refusal
from passcheck.practice.effects import Around
from passcheck.practice.serials import drawn_from, fault_of, serial_by_mask, serial_with, unit_of

BOARD = pytest.mark.parametrize("name", demo_boards.NAMES)
MASKS = st.text(st.sampled_from("A9?.X-7"), min_size=1, max_size=12).map("A".__add__)
EVERY_FAULT = [(name, fault.name) for name in demo_boards.NAMES for fault in demo_boards.faults(name).faults]


@settings(deadline=None)
@given(mask=MASKS, seed=st.integers(0, 1000))
def test_a_serial_fits_the_mask(mask: str, seed: int) -> None:
    assert serial_refusal(serial_by_mask(mask, drawn_from("drawn", seed)), sequences.sequence(serial=mask)) is None


@BOARD
@settings(deadline=None)
@given(seed=st.integers(0, 1000))
def test_a_serial_fits_its_board(name: str, seed: int) -> None:
    sequence = demo_boards.board(name)
    assert serial_refusal(serial_by_mask(sequence.serial, drawn_from("drawn", seed)), sequence) is None


def test_a_board_without_a_mask_gets_a_serial_all_the_same() -> None:
    assert serial_refusal(serial_by_mask(None, drawn_from("drawn", 1)), sequences.sequence()) is None


@settings(deadline=None)
@given(serial=st.text("AQX0123456789", min_size=1, max_size=9))
def test_the_same_serial_is_the_same_unit_with_the_same_fault(serial: str) -> None:
    sequence, faults = demo_boards.board("OV-24P"), demo_boards.faults("OV-24P").faults
    one, other = (unit_of(sequence, faults, serial) for _ in range(2))
    assert one.faults == other.faults == (fault_of(faults, serial),)
    rail = sequence.step("a06")
    assert one.shows(rail, Around(), (), drawn_from("drawn", 1)) == other.shows(
        rail, Around(), (), drawn_from("drawn", 1)
    )


def test_other_serials_have_other_faults() -> None:
    faults = demo_boards.faults("OV-24P").faults
    draw = drawn_from("drawn", 5)
    assert {fault_of(faults, serial_by_mask("9A99999", draw)) for _ in range(300)} == set(faults)


def test_a_unit_of_a_board_without_faults_is_healthy() -> None:
    assert fault_of((), "7Q22051") is None
    assert unit_of(demo_boards.board("OV-24P"), (), "7Q22051").faults == ()


def test_what_is_drawn_from_a_serial_depends_on_all_that_is_named() -> None:
    draws = {
        drawn_from(*named).random() for named in (("7Q1", "a06", 1), ("7Q1", "a06", 2), ("7Q1", "a07", 1), ("7Q2",))
    }
    assert len(draws) == 4
    assert drawn_from("7Q1", "a06", 1).random() in draws


@pytest.mark.parametrize(("name", "fault"), EVERY_FAULT)
def test_a_serial_is_found_for_each_fault(name: str, fault: str) -> None:
    sequence, faults = demo_boards.board(name), demo_boards.faults(name).faults
    serial = serial_with(sequence, faults, fault, drawn_from("drawn", 2))
    assert serial_refusal(serial, sequence) is None
    found = fault_of(faults, serial)
    assert found is not None
    assert found.name == fault


def test_a_fault_that_is_not_in_the_list_has_no_serial() -> None:
    with pytest.raises(ValueError, match="worn-out"):
        serial_with(
            demo_boards.board("OV-24P"), demo_boards.faults("OV-24P").faults, "worn-out", drawn_from("drawn", 1)
        )


def test_a_mask_with_one_serial_gives_up_on_the_faults_that_it_has_not() -> None:
    sequence, faults = sequences.sequence(serial="X7"), demo_boards.faults("OV-24P").faults
    only = fault_of(faults, "X7")
    assert only is not None
    assert serial_with(sequence, faults, only.name, drawn_from("drawn", 1)) == "X7"
    other = next(fault for fault in faults if fault != only)
    with pytest.raises(ValueError, match=other.name):
        serial_with(sequence, faults, other.name, drawn_from("drawn", 1))
