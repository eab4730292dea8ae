"""How much time goes by at one key: ten minutes, up to a look on the rack, and never past one that waits."""

import hand
import pytest
from practising import PracticeRig, sheet_of
from rig import Rig

import sequences
from passcheck.judge.soak_credit import LEAST_GRACE_S
from passcheck.practice.forward import (
    AFTER_DUE,
    MINUTES,
    Soaking,
    Soaks,
    has_to_say_so,
    soaking_of,
    stretch,
    worst_of,
)


def soaking(state: Soaks, minutes: float = 7.0, serial: str = "7Q22051") -> Soaking:
    return Soaking(serial, state, minutes)


def test_ten_minutes_where_nothing_soaks() -> None:
    assert stretch((), up_to_a_look=False).minutes == MINUTES
    assert stretch((), up_to_a_look=True).minutes == MINUTES


@pytest.mark.parametrize("up_to_a_look", [True, False])
def test_up_to_the_look_that_falls_due_first_and_still_in_time_for_it(up_to_a_look: bool) -> None:
    gone = stretch((soaking("waiting", 55.0), soaking("waiting", 7.0, "7Q22052")), up_to_a_look=up_to_a_look)
    assert gone.minutes == 7.0 + AFTER_DUE
    assert AFTER_DUE * 60 < LEAST_GRACE_S


def test_up_to_the_look_on_the_rack_and_ten_minutes_elsewhere() -> None:
    later = (soaking("waiting", 55.0),)
    assert stretch(later, up_to_a_look=True).minutes == 55.0 + AFTER_DUE
    assert stretch(later, up_to_a_look=False).minutes == MINUTES


@pytest.mark.parametrize(("state", "words"), [("open", "walk its steps"), ("due", "take it before")])
def test_no_time_goes_by_while_a_look_waits_to_be_taken(state: Soaks, words: str) -> None:
    gone = stretch((soaking("waiting"), soaking(state, serial="7Q22052")), up_to_a_look=False)
    assert gone.minutes == 0
    assert words in gone.why_not
    assert "7Q22052" in gone.why_not


def test_a_soak_with_its_hours_is_ended_first_by_whoever_stands_there() -> None:
    assert "end its soak" in stretch((soaking("done"),), up_to_a_look=True).why_not
    assert stretch((soaking("done"),), up_to_a_look=False).minutes == MINUTES


def test_what_is_to_be_done_first_is_a_look_that_was_begun() -> None:
    assert worst_of(()) == "none"
    assert worst_of((soaking("waiting"), soaking("due"), soaking("open"))) == "open"
    assert worst_of((soaking("waiting"), soaking("due"))) == "due"


async def test_a_word_is_needed_before_the_bench_would_count_as_left_alone() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job))
    await rig.make_safe(bench)
    await rig.do(bench, hand.passing(bench.job, sequences.GUARD))
    assert not has_to_say_so(bench.job, bench.moment(), 60)
    await rig.power(bench, sequences.RAIL)
    assert not has_to_say_so(bench.job, bench.moment(), 10)
    rig.clock.pass_time(minutes=6)
    assert has_to_say_so(bench.job, bench.moment(), 10)


async def test_a_unit_that_does_not_soak_waits_for_no_look() -> None:
    rig = PracticeRig(sheet_of())
    bench = await rig.job()
    assert soaking_of(bench.job, bench.moment()) is None
