"""Does everything of a visit follow from its seed and number, and nothing from another visit?"""

from collections import Counter

import demo_boards
import pytest
import robot

import sequences
from passcheck.errors import OurBug
from passcheck.job.board import Board
from passcheck.practice.fault import Effect, Fault
from passcheck.practice.manner import drawn_manner
from passcheck.practice.serials import drawn_from
from passcheck.practice.technician import ENDS
from passcheck.practice.visit import (
    GOOD_SHARE,
    NO_COMPLAINT,
    SEES,
    START,
    TWO_SHARE,
    WORKS,
    Workshop,
    drawn_faults,
    sequence_of,
    taken_in,
    visit,
    walked,
)

SOAKED = sequences.with_soak()
LOW = Fault(
    "low", "a tired regulator", "PWR", ("C1",), (Effect(sequences.RAIL, "reads", 4.0),), "All dim", ("rail-low",)
)
DARK = Fault("dark", "a dead lamp", "LAMP", ("DS1",), (Effect("DS1", "dark"),))
SMALL = Workshop(robot.workshop(SOAKED).boards, {SOAKED.sequence: (LOW, DARK)}, robot.demo_workshop().settings)
NUMBERS = range(1, 13)


def test_the_same_seed_and_number_are_the_same_visit_in_whatever_order_they_are_walked() -> None:
    forward = {number: visit(SMALL, 7, number) for number in NUMBERS}
    backward = {number: visit(SMALL, 7, number) for number in reversed(NUMBERS)}
    assert forward == backward
    assert [one.number for one in forward.values()] == list(NUMBERS)


def test_another_seed_is_another_day_at_the_bench() -> None:
    assert [visit(SMALL, 7, number) for number in NUMBERS] != [visit(SMALL, 8, number) for number in NUMBERS]


def test_a_visit_tells_what_came_of_the_unit_it_drew() -> None:
    for number in NUMBERS:
        told = visit(SMALL, 7, number)
        assert told.board == SOAKED.sequence
        assert set(told.faults) <= {"low", "dark"}
        assert told.told.ended in ENDS
        assert told.tries > 0
        assert 0 < told.hands_on_min / 60 < told.days * 24
        assert told.slips >= told.caught
        assert set(told.mistyped_to_pass) <= set(told.passed_wrongly)


@pytest.mark.parametrize("name", demo_boards.NAMES)
async def test_a_unit_of_each_board_gets_a_serial_number_that_fits_its_mask(name: str) -> None:
    workshop = robot.demo_workshop()
    board = next(one for one in workshop.boards.listed() if one.name == name)
    told = await walked(workshop, board, (), robot.FLAWLESS, drawn_from("visit", name))
    mask = demo_boards.board(name).serial
    assert mask is not None
    assert len(told.serial) == len(mask)
    assert told.faults == ()


async def test_the_owner_says_what_the_fault_makes_them_say() -> None:
    (board,) = SMALL.boards.listed()
    for faults, words in (((LOW, DARK), "All dim"), ((DARK,), NO_COMPLAINT), ((), NO_COMPLAINT)):
        work = await taken_in(SMALL, board, faults, robot.FLAWLESS, drawn_from("visit", 1))
        assert work.job.facts.complaint == words
        assert (work.by, work.second) == (WORKS, SEES)
        assert work.clock().utc == SMALL.start_of(99) == START


def test_units_come_in_with_nothing_one_thing_or_two_wrong_in_their_shares() -> None:
    other = Fault("other", "in the same block", "PWR", (), ())
    draw, many = drawn_from("faults", 1), 4_000
    found = [drawn_faults((LOW, DARK, other), draw) for _ in range(many)]
    shares = {count: sum(len(one) == count for one in found) / many for count in (0, 1, 2)}
    # five standard deviations of a share of 4000
    assert shares[0] == pytest.approx(GOOD_SHARE, abs=0.03)
    assert shares[2] == pytest.approx(TWO_SHARE, abs=0.03)
    assert all(one[0].block != one[1].block for one in found if len(one) == 2)
    assert Counter(one[0].name for one in found if one).keys() == {"low", "dark", "other"}


def test_a_board_of_which_no_faults_are_known_brings_good_units() -> None:
    assert {drawn_faults((), drawn_from("faults", seed)) for seed in range(50)} == {()}
    assert {len(drawn_faults((LOW,), drawn_from("faults", seed))) for seed in range(50)} == {0, 1}


def test_a_board_that_cannot_be_used_was_to_be_left_out_before() -> None:
    with pytest.raises(OurBug, match="EK-9: a practice bench was given a sequence that can't be used"):
        sequence_of(Board("EK-9", "ek-9.yaml", "", "", None))


async def test_a_unit_that_is_not_taken_in_is_a_fault_of_ours() -> None:
    (board,) = SMALL.boards.listed()
    elsewhere = robot.workshop(sequences.sequence(sequence="XX-1"))
    with pytest.raises(OurBug, match="was not taken in"):
        await taken_in(elsewhere, board, (), drawn_manner(drawn_from("visit", 1)), drawn_from("visit", 1))
