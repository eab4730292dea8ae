"""Does the robot technician stand at the bench as a person has to: made safe, cautions answered, never away?"""

import pytest
import robot
from every_kind import EVERY_KIND
from hypothesis import given, settings
from hypothesis import strategies as st

import sequences
from passcheck.job import cautions, power
from passcheck.job.commands import CloseRun, TellPower
from passcheck.practice.at_work import AtWork, NotGranted
from passcheck.practice.fault import Effect
from passcheck.practice.trying import tried
from passcheck.sequence.model import Sequence

HAZARDOUS = sequences.hazardous_live()


def told(work: AtWork) -> dict[str, str]:
    """What may be believed of each supply now."""
    return dict(power.told(work.job, work.bench.moment()))


def tells(work: AtWork) -> list[str]:
    """What was told of the battery so far, change by change."""
    return [change.told for change in work.job.power if change.supply == "battery"]


async def on_rail(sequence: Sequence, *effects: Effect) -> AtWork:
    """The guard has passed and the rail's supply is on."""
    work = await robot.in_run(sequence, *((robot.broken(*effects),) if effects else ()))
    await tried(work, sequence.step(sequences.GUARD))
    await work.ready_for(sequence.step(sequences.RAIL))
    return work


async def test_an_unpowered_step_is_touched_only_once_the_unit_is_proved_dead() -> None:
    work = await on_rail(sequences.much_energy())
    assert told(work) == {"battery": "on"}
    await work.ready_for(work.job.sequence.step(sequences.GUARD))
    assert told(work) == {"battery": "off"}
    assert power.proved_dead(work.job)
    assert tells(work)[-3:] == ["on", "unknown", "off"]


async def test_a_unit_that_was_proved_dead_is_not_made_safe_once_more() -> None:
    work = await robot.in_run(sequences.much_energy())
    await work.make_safe()
    before = work.job.last, len(work.job.power)
    await work.make_safe()
    assert (work.job.last, len(work.job.power)) == before


async def test_a_look_alone_leaves_a_powered_unit_as_it_is() -> None:
    look = {**sequences.LOOK_STEP, "id": "look", "role": None}
    work = await on_rail(sequences.with_steps({name: it for name, it in look.items() if it is not None}))
    await work.ready_for(work.job.sequence.step("look"))
    assert told(work) == {"battery": "on"}


async def test_one_supply_goes_off_and_the_unit_is_proved_dead_before_another_comes_on() -> None:
    work = await on_rail(HAZARDOUS)
    await work.ready_for(HAZARDOUS.step("inlet"))
    assert told(work) == {"battery": "off", "mains": "on"}
    assert tells(work)[-2:] == ["unknown", "off"]


async def test_every_caution_is_answered_with_a_fact_of_the_bench_before_power_comes_on() -> None:
    work = await robot.in_run(HAZARDOUS)
    step = HAZARDOUS.step("inlet")
    await tried(work, HAZARDOUS.step(sequences.GUARD))
    assert cautions.outstanding(work.job, step, work.by, work.bench.moment())
    await work.ready_for(step)
    assert cautions.outstanding(work.job, step, work.by, work.bench.moment()) == ()
    assert work.tally.refused == {}


@settings(deadline=None, max_examples=25)
@given(silent=st.floats(0, 14), minutes=st.floats(0, 200))
async def test_power_never_becomes_unknown_while_somebody_is_at_a_step(silent: float, minutes: float) -> None:
    work = await on_rail(sequences.sequence())
    work.clock.pass_time(minutes=silent)
    before = work.clock().utc
    await work.pass_time(minutes)
    assert told(work) == {"battery": "on"}
    assert (work.clock().utc - before).total_seconds() / 60 == pytest.approx(minutes, abs=0.01)
    assert set(tells(work)[tells(work).index("on") :]) == {"on"}


async def test_a_step_of_an_hour_is_walked_with_the_bench_told_every_ten_minutes() -> None:
    slow = sequences.changed_step(sequences.RAIL, minutes=60)
    work = await robot.in_run(slow)
    await tried(work, slow.step(sequences.GUARD))
    hands_on = work.tally.hands_on_min
    kept = await tried(work, slow.step(sequences.RAIL))
    assert kept.judgement.verdict == "pass"
    assert told(work) == {"battery": "on"}
    assert work.tally.hands_on_min - hands_on == pytest.approx(60.2)  # with the answer to a caution


async def test_nobody_is_told_of_a_unit_that_has_no_power() -> None:
    work = await robot.in_run(sequences.sequence())
    await work.make_safe()
    before = work.job.last
    await work.pass_time(120)
    assert work.job.last == before


async def test_what_the_bench_refuses_is_not_forced_and_counted() -> None:
    work = await robot.in_run(sequences.sequence())
    await work.make_safe()
    with pytest.raises(NotGranted, match="No supply is told on") as refused:
        await work.do(TellPower(work.by, "on", "nothing is on"))
    assert refused.value.refusal.code == "order"
    assert work.tally.refused == {"order": 1}


async def test_power_is_not_applied_where_a_guard_has_not_passed() -> None:
    work = await robot.in_run(sequences.sequence())
    with pytest.raises(NotGranted) as refused:
        await work.ready_for(work.job.sequence.step(sequences.RAIL))
    assert refused.value.refusal.code == "needs"
    assert "on" not in tells(work)


@pytest.mark.parametrize(("sequence", "supply"), [(EVERY_KIND, "battery"), (HAZARDOUS, "mains")], ids=["24 V", "230 V"])
async def test_a_place_that_holds_its_charge_is_discharged_as_often_as_it_takes(
    sequence: Sequence, supply: str
) -> None:
    (place,) = sequence.stored_energy
    work = await on_rail(sequence, Effect(place.at, "holds charge", 1e4))
    if supply == "mains":
        await work.ready_for(sequence.step("inlet"))
    assert told(work)[supply] == "on"
    assert work.unit.charge_v(place, work.around()) > 20
    await work.make_safe()
    assert power.proved_dead(work.job)
    assert work.tally.refused == {}


async def test_the_instrument_in_hand_is_the_run_s_unless_another_is_taken() -> None:
    work = await robot.in_run(EVERY_KIND)
    rail, look = EVERY_KIND.step(sequences.RAIL), EVERY_KIND.step("look")
    own, other = work.meter(rail), work.meter(rail, "M1")
    assert own is not None
    assert other is not None
    assert (own.name, other.name) == ("M2", "M1")
    assert other.accuracy != own.accuracy
    assert work.meter(look) is None
    await work.make_safe()
    await work.do(CloseRun(work.by))
    assert work.meter(rail) is None
