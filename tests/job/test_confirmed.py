"""Which repairs does a signed-off job confirm, and what do many of them add up to?"""

from dataclasses import replace

import hand
import pytest
from hypothesis import given
from hypothesis import strategies as st
from story import Story

import sequences
from passcheck.job.commands import AddNote, CloseRun, LogRework, ReturnUnrepaired, SignOff, VoidAttempt
from passcheck.job.confirmed import Confirmed, Repair, confirmed_by, together
from passcheck.job.events import Action
from passcheck.job.state import Job
from passcheck.judge.suspect_history import prior_from_repairs
from passcheck.sequence.model import Sequence
from sequences import GUARD, LAMPS, RAIL


def dim(sequence: Sequence | None = None) -> Story:
    """As found: the guard passes, the rail is low, the lamps light."""
    return Story(sequence).start("as-found").passes(GUARD).fails(RAIL).passes(LAMPS).make_safe()


def reworked(story: Story, *blocks: str, action: Action = "replaced") -> Story:
    story.do(LogRework("t1", blocks, (), action, "cracked joint"))
    return story


def gone(story: Story) -> Job:
    """Accepted and signed off."""
    story.walk().do(SignOff("t1", story.job.serial))
    assert story.job.ended == "signed off"
    return story.job


def repair(block: str, failed: set[str], passed: set[str]) -> Repair:
    return Repair(block, 1, frozenset(failed), frozenset(failed | passed))


def test_a_fail_a_rework_and_a_pass_that_stands_confirm_the_block() -> None:
    job = gone(reworked(dim(), "PWR"))
    assert confirmed_by(job) == Confirmed("LB-3", 1, (repair("PWR", {RAIL}, {GUARD, LAMPS}),))


def test_a_block_that_doesn_t_reach_the_step_is_not_what_mended_it() -> None:
    story = reworked(dim(), "PWR", "LAMP")
    assert [one.block for one in confirmed_by(gone(story)).repairs] == ["PWR"]


def test_two_blocks_that_may_both_have_mended_it_both_count() -> None:
    story = Story().start("as-found").passes(GUARD).passes(RAIL).fails(LAMPS).make_safe()
    found = confirmed_by(gone(reworked(story, "PWR", "LAMP")))
    assert found.repairs == (repair("PWR", {LAMPS}, {GUARD, RAIL}), repair("LAMP", {LAMPS}, {GUARD, RAIL}))


def test_a_rework_after_which_the_step_failed_again_mended_nothing() -> None:
    story = Story().start("as-found").passes(GUARD).passes(RAIL).fails(LAMPS).make_safe()
    reworked(story, "PWR").start("retest").passes(GUARD).passes(RAIL).fails(LAMPS).make_safe()
    assert [one.block for one in confirmed_by(gone(reworked(story, "LAMP"))).repairs] == ["LAMP"]


def test_several_entries_on_a_block_are_one_repair() -> None:
    story = reworked(reworked(dim(), "PWR", action="cleaned"), "PWR", action="reflowed")
    assert confirmed_by(gone(story)).repairs == (repair("PWR", {RAIL}, {GUARD, LAMPS}),)


@pytest.mark.parametrize("action", ["inspected", "leg lifted", "swapped in", "put back"])
def test_what_only_looks_for_the_fault_confirms_nothing(action: Action) -> None:
    story = dim()
    donor = "7Q22099" if action == "swapped in" else ""
    story.do(LogRework("t1", ("PWR",), ("C1",), action, "is it this one?", donor=donor))
    story.do(LogRework("t1", ("PWR",), ("C1",), "put back", "it wasn't"))
    assert confirmed_by(gone(story)).repairs == ()


def test_a_step_that_wasn_t_walked_before_the_rework_says_nothing() -> None:
    story = Story().start("as-found").passes(GUARD).fails(RAIL).make_safe()
    assert confirmed_by(gone(reworked(story, "PWR"))).repairs == (repair("PWR", {RAIL}, {GUARD}),)


def test_a_step_that_failed_for_another_fault_is_held_neither_for_nor_against() -> None:
    story = Story().start("as-found").passes(GUARD).fails(RAIL).fails(LAMPS).make_safe()
    reworked(story, "PWR").start("retest").passes(GUARD).passes(RAIL).fails(LAMPS).make_safe()
    found = confirmed_by(gone(reworked(story, "LAMP")))
    assert found.repairs == (repair("PWR", {RAIL}, {GUARD}), repair("LAMP", {LAMPS}, {GUARD, RAIL}))


def test_a_withdrawn_fail_was_the_bench_and_not_the_block() -> None:
    story = dim()
    story.do(VoidAttempt("t1", 2, "lead", "open lead", "0.2 Ω now"))
    assert confirmed_by(gone(reworked(story, "PWR"))).repairs == ()


def test_a_pass_without_a_rework_confirms_nothing() -> None:
    story = dim().start()
    story.passes(GUARD)
    for _ in range(6):
        story.passes(RAIL)
    story.do(AddNote("t1", "the clip had slipped off", RAIL))
    story.passes(LAMPS).make_safe().do(CloseRun("t1"), SignOff("t1", story.job.serial))
    assert confirmed_by(story.job) == Confirmed("LB-3", 1)


def test_what_came_in_broken_to_the_eye_is_no_evidence_of_a_block() -> None:
    story = Story(sequences.with_arrival_and_final()).start("as-found").fails("arrival").passes(GUARD).make_safe()
    found = confirmed_by(replace(reworked(story, "PWR").start().passes("arrival").job, ended="signed off"))
    assert found.repairs == ()


def test_a_unit_that_left_another_way_or_is_still_here_confirms_nothing() -> None:
    story = reworked(dim(), "PWR")
    assert confirmed_by(story.job) == Confirmed("LB-3")
    story.do(CloseRun("t1"), ReturnUnrepaired("t1", "owner declines"))
    assert confirmed_by(story.job) == Confirmed("LB-3")


def test_practice_confirms_nothing() -> None:
    job = gone(reworked(dim(), "PWR"))
    assert confirmed_by(replace(job, facts=replace(job.facts, practice=True))) == Confirmed("LB-3")


def test_a_good_unit_s_readings_are_not_this_unit_s() -> None:
    story = dim()
    story.start("good-unit").do(hand.failing(story.job, GUARD))
    story.make_safe().do(CloseRun("t1"))
    found = confirmed_by(gone(reworked(story, "PWR")))
    assert found.repairs == (repair("PWR", {RAIL}, {GUARD, LAMPS}),)


def test_what_was_shown_is_counted_over_the_repairs_in_which_the_step_was_walked() -> None:
    seen, missed, unwalked = (
        repair("PWR", {RAIL}, {GUARD}),
        repair("PWR", {GUARD}, {RAIL}),
        repair("PWR", {GUARD}, set()),
    )
    past = Confirmed("LB-3", 4, (seen, missed, unwalked, repair("LAMP", {RAIL}, set())))
    assert past.shown("PWR", RAIL) == (1, 2)
    assert past.shown("PWR", RAIL, since=2) == (0, 0)
    assert past.repairs_of("PWR") == 3


def test_only_the_same_board_is_summed() -> None:
    one, other = Confirmed("LB-3", 1, (repair("PWR", {RAIL}, set()),)), Confirmed("OV-24P", 1)
    assert together("LB-3", (one, other, one)) == Confirmed("LB-3", 2, one.repairs * 2)
    assert together("LB-3", ()) == Confirmed("LB-3")


STEPS = st.frozensets(st.sampled_from([GUARD, RAIL, LAMPS]))
REPAIRS = st.builds(
    lambda block, failed, passed: Repair(block, 1, failed, failed | passed),
    st.sampled_from(["PWR", "LAMP"]),
    STEPS,
    STEPS,
)
JOBS = st.builds(lambda repairs: Confirmed("LB-3", 1, tuple(repairs)), st.lists(REPAIRS, max_size=3))


@given(st.lists(JOBS, max_size=6), st.randoms())
def test_the_order_of_the_jobs_changes_no_count(jobs: list[Confirmed], chance: object) -> None:
    shuffled = jobs[::-1]
    chance.shuffle(shuffled)  # type: ignore[attr-defined]
    one, other = together("LB-3", jobs), together("LB-3", shuffled)
    for block in ("PWR", "LAMP"):
        assert one.repairs_of(block) == other.repairs_of(block) == sum(job.repairs_of(block) for job in jobs)
        for step in (GUARD, RAIL, LAMPS):
            failed, tried = one.shown(block, step)
            assert (failed, tried) == other.shown(block, step)
            assert 0 <= failed <= tried <= one.repairs_of(block)
    assert prior_from_repairs({block: one.repairs_of(block) for block in ("PWR", "LAMP")})
