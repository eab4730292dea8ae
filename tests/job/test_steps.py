"""Which steps belong to a run of this purpose?"""

import pytest
from story import Story

import sequences
from passcheck.job.events import Purpose
from passcheck.job.steps import by_id, is_powered, needed_for_release, steps_of
from sequences import GUARD, LAMPS, RAIL

BOARD = sequences.sequence(
    steps=[sequences.LOOK_STEP, *sequences.BASE["steps"], sequences.FINAL_STEP, sequences.SOAK_STEP]
)


@pytest.mark.parametrize(
    ("purpose", "ids"),
    [
        ("as-found", ["arrival", GUARD, RAIL, LAMPS]),
        ("good-unit", ["arrival", GUARD, RAIL, LAMPS]),
        ("retest", ["arrival", GUARD, RAIL, LAMPS, "final"]),
        ("acceptance", ["arrival", GUARD, RAIL, LAMPS, "final"]),
        ("burn-in", [RAIL, "soak"]),
    ],
)
def test_burn_in_is_the_soak_and_what_it_checks_and_the_last_look_comes_with_acceptance(
    purpose: Purpose, ids: list[str]
) -> None:
    assert [step.id for step in steps_of(Story(BOARD).job, purpose)] == ids


def test_a_board_without_a_soak_has_no_burn_in() -> None:
    assert steps_of(Story().job, "burn-in") == ()


def test_the_release_needs_every_step_that_is_there() -> None:
    assert len(needed_for_release(Story(BOARD).job)) == 6


def test_a_step_is_absent_by_its_variant_only() -> None:
    board = sequences.with_variant()
    assert "beeps" not in [step.id for step in needed_for_release(Story(board).job)]
    assert "beeps" in [step.id for step in needed_for_release(Story(board, variants=("beeper",)).job)]


def test_steps_by_their_ids_are_those_that_the_sequence_itself_finds() -> None:
    assert by_id(BOARD.steps) == {step.id: BOARD.step(step.id) for step in BOARD.steps}


def test_two_units_of_one_board_keep_their_own_variants() -> None:
    board = sequences.with_variant()
    plain, beeping = Story(board).job, Story(board, variants=("beeper",)).job
    for _ in range(2):
        assert "beeps" not in [step.id for step in steps_of(plain, "acceptance")]
        assert "beeps" in [step.id for step in steps_of(beeping, "acceptance")]


def test_a_step_that_names_a_supply_is_powered() -> None:
    story = Story()
    assert is_powered(story.step(RAIL))
    assert not is_powered(story.step(GUARD))
