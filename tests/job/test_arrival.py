"""May this unit be taken in, and how is its serial read?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rig import settings

import sequences
from passcheck.job.arrival import LONGEST_TEXT, Arrive, arrival_refusal, fits_mask
from passcheck.job.serial import read_serial
from passcheck.sequence.model import Sequence

BOARD = sequences.sequence()
MASKED = sequences.sequence(serial="9A99999")


def arrive(serial: str = "7Q22051", complaint: str = "dim", condition: str = "", **more: object) -> Arrive:
    by, variants = str(more.get("by", "t1")), more.get("variants", ())
    assert isinstance(variants, tuple)
    return Arrive(by, "LB-3", serial, complaint, condition, variants)


def why(wanted: Arrive, board: Sequence = BOARD) -> str | None:
    refusal = arrival_refusal(wanted, board, settings())
    return None if refusal is None else refusal.code


@pytest.mark.parametrize(
    ("scanned", "kept"),
    [("7Q22051", "7Q22051"), (" 7q22051\r\n", "7Q22051"), ("*7Q22051*", "7Q22051"), ("\x1d7Q22051\x04", "7Q22051")],
)
def test_what_a_scanner_puts_around_a_serial_is_taken_off(scanned: str, kept: str) -> None:
    assert read_serial(scanned) == kept
    assert why(arrive(scanned)) is None


@pytest.mark.parametrize("serial", ["", "  ", "-1", "7Q 22051", "7Q22051\x1b[2J", "ß7", "A" * 41, "7Q;22", "[red]7"])
def test_what_is_no_serial_is_refused(serial: str) -> None:
    assert why(arrive(serial)) == "unit"


@pytest.mark.parametrize("serial", ["7", "A" * 40, "7Q.22_05/1+2-3"])
def test_what_is_a_serial_is_taken(serial: str) -> None:
    assert why(arrive(serial)) is None


def test_a_serial_that_does_not_fit_the_board_is_looked_at_again() -> None:
    refusal = arrival_refusal(arrive("7Q2205S"), MASKED, settings())
    assert refusal is not None
    assert (refusal.code, refusal.lift) == ("unit", "Look again: S is easily read for 5.")
    assert why(arrive("7Q22051"), MASKED) is None


def test_a_serial_without_a_look_alike_is_scanned_again() -> None:
    refusal = arrival_refusal(arrive("7Q2205"), MASKED, settings())
    assert refusal is not None
    assert refusal.lift == "Scan or type it again."


@pytest.mark.parametrize(
    ("serial", "mask", "fits"),
    [
        ("7Q22051", "9A99999", True),
        ("QQ22051", "9A99999", False),
        ("AB", "??", True),
        ("A-", "A-", True),
        ("A-", "??", False),
        ("٣", "9", False),
        ("7", "99", False),
    ],
)
def test_a_mask_says_digit_letter_either_or_itself(serial: str, mask: str, fits: bool) -> None:
    assert fits_mask(serial, mask) is fits


def test_only_the_bench_s_people_take_units_in() -> None:
    assert why(arrive(by="x9")) == "person"


@pytest.mark.parametrize("complaint", ["", " \n"])
def test_the_owner_s_words_are_there(complaint: str) -> None:
    assert why(arrive(complaint=complaint)) == "entry"


def test_a_text_that_would_not_be_kept_whole_is_refused() -> None:
    assert why(arrive(complaint="x" * (LONGEST_TEXT + 1))) == "entry"
    assert why(arrive(condition="x" * (LONGEST_TEXT + 1))) == "entry"
    assert why(arrive(complaint="x" * LONGEST_TEXT)) is None


def test_only_declared_variants_are_chosen() -> None:
    assert why(arrive(variants=("beeper",))) == "entry"
    assert why(arrive(variants=("beeper",)), sequences.with_variant()) is None


@given(st.text(max_size=60))
def test_reading_a_serial_twice_changes_nothing(scanned: str) -> None:
    once = read_serial(scanned)
    assert read_serial(once) == once
