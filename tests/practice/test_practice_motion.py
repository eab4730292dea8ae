"""Where a pointer is, when it is drawn next, what blinks and what counts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.practice import motion
from passcheck.practice.shows import Responds

EVEN = (0.0, 0.5, 1.0, 1.5, 2.0)
HALTING = (0.0, 0.5, 2.0, 2.5, 3.0)


@pytest.mark.parametrize(("at_s", "share"), [(-1, 0), (0, 0), (0.25, 0.125), (1.0, 0.5), (2.0, 1), (9, 1)])
def test_a_pointer_that_runs_through_gets_there_evenly(at_s: float, share: float) -> None:
    assert motion.pointer_share(EVEN, at_s) == pytest.approx(share)


def test_a_pointer_that_halts_stands_between_two_marks_meanwhile() -> None:
    assert [motion.pointer_share(HALTING, at_s) for at_s in (0.8, 1.0, 1.7)] == pytest.approx([0.375] * 3)
    assert motion.halts_at(HALTING) == pytest.approx(0.375)
    assert motion.halts_at(EVEN) is None


@given(st.lists(st.floats(0.05, 3), min_size=2, max_size=8), st.floats(0, 1))
def test_the_moment_at_which_a_place_is_reached_belongs_to_that_place(gaps_s: list[float], share: float) -> None:
    passes_s = tuple(sum(gaps_s[:nth]) for nth in range(len(gaps_s) + 1))
    assert motion.pointer_share(passes_s, motion.reaches_s(passes_s, share)) == pytest.approx(share, abs=1e-6)


def test_pictures_come_one_after_the_other_until_the_pointer_rests() -> None:
    at_s, drawn = 0.0, 0
    while (later_s := motion.next_picture_s(HALTING, at_s)) is not None:
        assert later_s > at_s
        at_s, drawn = later_s, drawn + 1
    assert (at_s, drawn) == (3.0, motion.PICTURES)


def test_a_blinking_lamp_changes_at_every_half_period() -> None:
    assert motion.blinks_lit(2.0, 0.1)
    assert not motion.blinks_lit(2.0, 0.3)
    assert motion.next_blink_s(2.0, 0.1) == pytest.approx(0.25)
    assert motion.next_blink_s(2.0, 0.25) == pytest.approx(0.5)
    assert motion.next_blink_s(0.0, 1.0) is None
    assert not motion.blinks_lit(0.0, 0.0)


def test_a_dead_spot_counts_nothing_and_a_bounce_twice() -> None:
    assert motion.counted(Responds((0.1, None, 0.1, 0.1)), 4) == 3
    assert motion.counted(Responds((0.1,) * 40, twice=8), 10) == 12
