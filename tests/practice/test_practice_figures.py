"""What the displays of the practice bench show where a screen asks for a figure: truthful, taken, the same when asked
again, and changing only as a bench does."""

from decimal import Decimal

import hand
import pytest
import soaking
from practising import BOARDS, PracticeRig, practice_bench, sheet_of, whole

from passcheck.bench.bench import Bench
from passcheck.job import cautions
from passcheck.job.commands import CallMakeSafe, CheckSoak, Seen
from passcheck.job.soak import soak_now
from passcheck.judge.quantity import parse_quantity
from passcheck.practice import figures, probing

NAMES = sorted(path.stem for path in BOARDS.glob("*.yaml"))


async def unit(name: str = "ov-24p") -> tuple[PracticeRig, Bench]:
    rig = PracticeRig(whole(name))
    return rig, await rig.job(serial=hand.serial(rig.boards.listed()[0].sequence or whole(name)))


@pytest.mark.parametrize("name", NAMES)
async def test_every_fact_of_every_board_is_taken_as_its_display_shows_it(name: str) -> None:
    _rig, bench = await unit(name)
    practice = practice_bench(name)
    asked = [one for caution in bench.job.sequence.cautions.values() for one in caution.confirm]
    assert asked
    for one in asked:
        shown = figures.fact(practice, bench.job, one, bench.moment())
        assert cautions.accepts(one, shown), (one.ask, shown)
        assert figures.fact(practice, bench.job, one, bench.moment()) == shown


async def test_a_charge_decays_and_has_two_ways_round() -> None:
    rig, bench = await unit()
    practice, place = practice_bench(), bench.job.sequence.stored_energy[0]
    await rig.do(bench, hand.start(bench.job))
    await rig.make_safe(bench)
    for step in ("a01", "a02", "a03", "a04-5v", "a04-3v3"):
        await rig.walk_step(bench, step)
    await rig.power(bench, "a05")
    assert volts(probing.charge(practice, bench.job, place, bench.moment())) > 20
    await rig.do(bench, CallMakeSafe("t1"))
    soon = volts(probing.charge(practice, bench.job, place, bench.moment()))
    assert probing.still_falls(practice, bench.job, place, bench.moment())
    rig.clock.pass_time(seconds=10)
    assert not probing.still_falls(practice, bench.job, place, bench.moment())
    after = volts(probing.charge(practice, bench.job, place, bench.moment()))
    assert soon > 20
    assert 0 < after < 2
    assert volts(probing.charge(practice, bench.job, place, bench.moment(), reverse=True)) == -after
    assert volts(probing.at_terminals(practice, bench.job, bench.moment())) < 2


async def test_the_supply_shows_what_was_told_and_what_the_unit_draws() -> None:
    rig, bench = await unit()
    practice = practice_bench()
    off = figures.supply(practice, bench.job, "battery", bench.moment())
    await rig.do(bench, hand.start(bench.job))
    await rig.make_safe(bench)
    assert volts(figures.supply(practice, bench.job, "battery", bench.moment()).amps) == 0
    for step in ("a01", "a02", "a03", "a04-5v", "a04-3v3"):
        await rig.walk_step(bench, step)
    await rig.power(bench, "a05")
    on = figures.supply(practice, bench.job, "battery", bench.moment())
    limits = bench.job.sequence.supplies["battery"]
    assert limits.range.holds(volts(on.volts))
    assert 0 < volts(on.amps) <= limits.current_limit.value
    assert not on.light
    assert off.volts == on.volts or on.volts


async def test_looks_at_the_short_soak_are_good_by_the_displays_alone() -> None:
    rig = PracticeRig(sheet_of())
    bench = await rig.job()
    practice, step = practice_bench(), soaking.soak_of(bench.job)
    await rig.walk(bench)
    await rig.do(bench, hand.start(bench.job, "burn-in"))
    await rig.power(bench, step.id)
    begun = figures.hour_meter(bench.job, step, bench.moment())
    assert parse_quantity(begun).unit == "s"
    await rig.do(bench, soaking.start(bench.job, witness=begun))
    looks = 0
    while not (now := soak_now(bench.job, step)).complete:
        for name in now.still_to_pass:
            await rig.do(bench, *hand.answers_to_cautions(bench.job, name, moment=bench.moment()))
            await rig.do(bench, hand.passing(bench.job, name))
        if soak_now(bench.job, step).complete:
            break
        rig.clock.pass_time(minutes=10)
        cycles = figures.cycles_since(bench.job, step)
        shown = figures.supply(practice, bench.job, "battery", bench.moment())
        meter, air = figures.hour_meter(bench.job, step, bench.moment()), figures.ambient(bench.job, step.ambient)
        seen = Seen(bench.job.serial, shown.volts, shown.amps, shown.light, meter, air)
        await rig.do(bench, CheckSoak("t1", step.id, seen, cycles=cycles))
        looks += 1
        assert looks <= 4
    assert all(stretch.standing == "in time" for stretch in soak_now(bench.job, step).credit.stretches)


def volts(shown: str) -> Decimal:
    return parse_quantity(shown).value
