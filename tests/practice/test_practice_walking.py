"""Does the robot technician walk a run as it is planned, and give up what nothing at the bench brings further?"""

from collections import Counter
from dataclasses import replace

import demo_boards
import pytest
import robot

import sequences
from passcheck.job.plan import plan
from passcheck.practice.at_work import AtWork
from passcheck.practice.fault import Effect, Fault, When
from passcheck.practice.taken_up import instruments_for
from passcheck.practice.walking import MOST_AT_A_STEP, Walk
from passcheck.sequence.model import Sequence

RAIL, GUARD, LAMPS = sequences.RAIL, sequences.GUARD, sequences.LAMPS


async def begun(sequence: Sequence | str, *faults: Fault, seed: int = 1, **manner: float) -> AtWork:
    """A unit that lies made safe before somebody."""
    work = await robot.at_work(sequence, *faults, seed=seed)
    await work.make_safe()
    work.manner = replace(robot.FLAWLESS, **manner)
    return work


def tries(work: AtWork) -> Counter[str]:
    """How often each step was tried."""
    return Counter(one.step for one in work.job.attempts)


@pytest.mark.parametrize("name", demo_boards.NAMES)
async def test_a_good_unit_passes_each_step_of_an_acceptance_once(name: str) -> None:
    work = await begun(name)
    walk = Walk(work, "acceptance")
    await walk.whole()
    assert walk.given_up == {}
    assert work.job.open_run is None
    assert plan(work.job, "acceptance") == ()
    assert {one.judgement.verdict for one in work.job.attempts} <= {"pass", "in doubt"}
    assert set(tries(work).values()) == {1}
    assert work.tally.refused == {}


async def test_what_fails_is_left_at_its_fail_and_what_waits_for_it_is_not_powered() -> None:
    work = await begun(sequences.sequence(), robot.broken(Effect(GUARD, "reads", 3.0)))
    walk = Walk(work, "acceptance")
    await walk.whole()
    assert walk.given_up == {GUARD: "fail", RAIL: "needs", LAMPS: "needs"}
    assert tries(work) == {GUARD: 1}
    assert all(change.told != "on" for change in work.job.power)


async def test_whoever_hopes_tries_a_fail_again_but_not_for_ever() -> None:
    work = await begun(sequences.sequence(), robot.broken(Effect(RAIL, "reads", 4.0)), tries_again=1.0)
    walk = Walk(work, "acceptance")
    await walk.whole()
    assert walk.given_up == {RAIL: "tried too often"}
    assert tries(work)[RAIL] == MOST_AT_A_STEP


async def test_a_probe_that_never_touches_is_given_up_at_last() -> None:
    work = await begun(sequences.sequence(), loose_probe=1.0)
    walk = Walk(work, "acceptance")
    await walk.whole()
    assert walk.given_up[GUARD] == "tried too often"
    assert {one.judgement.verdict for one in work.job.attempts} == {"not measured"}


async def test_an_intermittent_fail_that_passes_is_repeated_until_it_is_explained() -> None:
    """1 of 2 failed: five clean repeats or another fail, and never a pass that nobody explained."""
    met = set()
    for seed in range(12):
        fault = robot.broken(Effect(RAIL, "reads", 4.0, when=When(share=0.4)))
        work = await begun(sequences.sequence(), fault, seed=seed, tries_again=1.0)
        await Walk(work, "acceptance").whole()
        verdicts = [one.judgement.verdict for one in work.job.attempts if one.step == RAIL]
        fails = verdicts.count("fail")
        assert len(verdicts) == 1 if not fails else len(verdicts) > 2
        met.add(fails > 0)
    assert met == {True, False}


async def test_a_value_at_its_limit_stays_in_doubt_with_every_instrument_and_is_given_up() -> None:
    left = Counter[str]()
    for seed in range(6):
        work = await begun(sequences.sequence(), robot.broken(Effect(RAIL, "reads", 4.85)), seed=seed)
        walk = Walk(work, "acceptance")
        await walk.whole()
        left[walk.given_up.get(RAIL, "pass")] += 1
    assert left["in doubt"] > 0
    assert set(left) <= {"in doubt", "fail", "pass"}


async def test_what_shows_only_warm_is_found_where_the_complaint_says_warm() -> None:
    warm = sequences.sequence(symptoms={"dim": {"says": "Dim", "steps": [RAIL], "try": ["20 min warm"]}})
    fault = robot.broken(Effect(RAIL, "reads", 4.0, when=When(warm_min=20)))
    for named, found in (((), False), (("dim",), True)):
        work = await begun(warm, fault)
        if named:
            await work.do(robot.mapped(work, *named))
        await Walk(work, "as-found").whole()
        rail = [one for one in work.job.attempts if one.step == RAIL]
        assert any(one.judgement.verdict == "fail" for one in rail) == found
        assert [one.conditions for one in rail] == ([(), ("20 min warm",)] if found else [()])


async def test_a_complaint_that_showed_at_once_is_not_provoked_any_further() -> None:
    warm = sequences.sequence(symptoms={"dim": {"says": "Dim", "steps": [RAIL], "try": ["20 min warm"]}})
    work = await begun(warm, robot.broken(Effect(RAIL, "reads", 4.0)))
    await work.do(robot.mapped(work, "dim"))
    await Walk(work, "as-found").whole()
    assert tries(work)[RAIL] == 1


async def test_a_role_that_nothing_at_the_bench_fills_is_left_open_and_its_steps_are_given_up() -> None:
    odd = sequences.changed_step(RAIL, instrument="oscillograph")
    work = await begun(odd)
    assert dict(instruments_for(work)) == {"ohmmeter": "M2"}
    walk = Walk(work, "acceptance")
    await walk.whole()
    assert walk.given_up == {RAIL: "instrument"}
