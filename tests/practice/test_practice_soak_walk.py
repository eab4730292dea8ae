"""Does the robot technician leave a unit at power, look at it in time, and end there where something is amiss?"""

from datetime import timedelta
from typing import Any

import pytest
import robot

import sequences
from passcheck.job.soak import soak_now, soak_steps
from passcheck.practice.at_work import AtWork
from passcheck.practice.fault import Effect, Fault, When
from passcheck.practice.soak_walk import burn_in
from passcheck.practice.walking import Walk
from passcheck.sequence.model import Sequence

RAIL = sequences.RAIL
LOOK: dict[str, Any] = {**sequences.LOOK_STEP, "id": "look", "title": "Look at it", "role": "final", "proves": ["LAMP"]}


def soaking(**members: Any) -> Sequence:
    """The board with a look and a soak of an afternoon."""
    return sequences.with_steps(LOOK, {**sequences.SOAK_STEP, **members})


async def accepted(sequence: Sequence, *faults: Fault) -> AtWork:
    """A unit that has passed its acceptance."""
    work = await robot.at_work(sequence, *faults)
    await work.make_safe()
    await Walk(work, "acceptance").whole()
    return work


@pytest.mark.parametrize(
    ("members", "looks"),
    [
        ({}, 4),
        ({"hours": "3 h", "every": "45 min"}, 4),
        ({"cycles": 8, "off": "60 s"}, 4),
        ({"continuity": None}, 4),
        ({"continuity": None, "continuous": False}, 4),
        ({"hours": "72 h", "every": "1 h"}, 72),
        ({"ambient": "18 °C .. 28 °C"}, 4),
        ({"unattended": True}, 4),
        ({"check": [RAIL, "look"]}, 4),
    ],
    ids=lambda it: ", ".join(it) if isinstance(it, dict) else "",
)
async def test_a_soak_has_its_hours_its_looks_and_its_power_cycles(members: dict[str, Any], looks: int) -> None:
    work = await accepted(soaking(**members))
    begun = work.clock().utc
    assert await burn_in(work) == {}
    (soak,) = soak_steps(work.job)
    credit = soak_now(work.job, soak).credit
    assert work.job.open_soak is None
    assert work.job.attempts[-1].step == soak.id
    assert work.job.attempts[-1].judgement.verdict == "pass"
    assert credit.cycles >= soak.cycles
    tries = [one for one in work.job.attempts if one.step == RAIL and one.purpose == "burn-in"]
    assert len(tries) >= looks
    hours = timedelta(seconds=float(soak.hours.value))
    assert hours <= work.clock().utc - begun <= hours * 1.5
    assert work.tally.refused == {}


async def test_what_fails_at_a_look_ends_the_soak_there_and_then() -> None:
    late = robot.broken(Effect(RAIL, "reads", 4.0, when=When(warm_min=100)))
    work = await accepted(soaking(), late)
    assert await burn_in(work) == {RAIL: "fail"}
    assert work.job.open_soak is None
    assert work.job.open_run is None
    assert all(one.step != "soak" for one in work.job.attempts)
    assert [one.judgement.verdict for one in work.job.attempts if one.purpose == "burn-in"][-1] == "fail"


async def test_a_soak_that_the_bench_does_not_begin_ends_the_run_and_is_handed_on() -> None:
    broken = robot.broken(Effect(sequences.GUARD, "reads", 3.0))
    work = await accepted(soaking(), broken)
    assert await burn_in(work) == {"soak": "needs"}
    assert work.job.open_run is None
    assert work.job.open_soak is None
    assert work.tally.refused["needs"] > 0


async def test_a_board_without_a_soak_has_no_burn_in() -> None:
    assert soak_steps((await robot.at_work(sequences.sequence())).job) == ()
