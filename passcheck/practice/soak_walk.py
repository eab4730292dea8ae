"""How does the robot technician leave a unit at power and look at it until its hours are there?"""

from contextlib import suppress

from passcheck.job.commands import CheckSoak, FinishSoak, Seen, StartSoak
from passcheck.job.soak import SoakNow, meter, off_s, soak_now, soak_steps
from passcheck.practice.at_work import AtWork, NotGranted, inside
from passcheck.practice.walking import Walk
from passcheck.sequence.model import SoakStep

METER_AT_START = "1204.60 h"
MOST_LOOKS = 60
LAG_MIN = 1.0  # an hour meter shows a minute later
ALONE = ("F2 of the bench, 1 A", "on the tile, nothing beside it", "the cut-out above it", "the second person, called")
"""The facts that are said before a unit is left alone."""


async def burn_in(work: AtWork) -> dict[str, str]:
    """A burn-in run from its start to its close, with every soak of the sequence; what the bench refuses ends it.

    Returns the steps of a look that were given up, and why.
    """
    walk = Walk(work, "burn-in")
    await walk.begin()
    with suppress(NotGranted):
        for soak in soak_steps(work.job):
            await _soaked(work, walk, soak)
    await walk.end()
    return walk.given_up


async def _soaked(work: AtWork, walk: Walk, soak: SoakStep) -> None:
    await work.ready_for(soak)
    supply = work.job.sequence.supplies[soak.power]
    amps = f"{supply.current_limit.value / 2:f} A"
    ambient = None if soak.ambient is None else inside(soak.ambient)
    alone = ALONE if soak.unattended and supply.supply_class == "extra-low" else ()
    witness = METER_AT_START if soak.continuity is not None else None
    await work.do(StartSoak(work.by, soak.id, supply.nominal.text, amps, False, witness, ambient, alone))
    await walk.steps()
    for _ in range(MOST_LOOKS):
        now = soak_now(work.job, soak)
        if now.leg is None or now.complete or walk.given_up:
            break
        await _look(work, now, Seen(work.job.serial, supply.nominal.text, amps, False, None, ambient))
        await walk.steps()
    if work.job.open_soak is not None and not walk.given_up:
        await work.do(FinishSoak(work.by, soak.id))


async def _look(work: AtWork, now: SoakNow, seen: Seen) -> None:
    """Let an interval go by with its share of the power cycles, and look."""
    soak, leg = now.step, now.leg
    assert leg is not None  # noqa: S101 - the caller has looked
    looks = -(-soak.hours.value // soak.every.value)
    cycles = min(int(-(-soak.cycles // looks)), now.short_cycles)
    since_min = (work.job.measured.total_ms - leg.looks[-1].measured.total_ms) / 60_000 if len(leg.looks) > 1 else 0.0
    still_min = now.short_s / 60 + cycles * off_s(soak) / 60 + LAG_MIN
    work.clock.pass_time(minutes=max(0.0, min(float(soak.every.value) / 60, still_min) - since_min))
    off = (now.credit.cycles + cycles) * off_s(soak)
    at_power_s = (work.clock().utc - leg.looks[0].moment.utc).total_seconds() - off
    sign = _meter_after(at_power_s) if soak.continuity is not None else None
    found = Seen(seen.serial, seen.volts, seen.amps, False, sign, seen.ambient)
    await work.pass_time(0.5)
    await work.do(CheckSoak(work.by, soak.id, found, cycles=cycles))


def _meter_after(at_power_s: float) -> str:
    """What the hour meter that was read at the start shows after so many seconds at power; it cuts off."""
    begun = meter(METER_AT_START)
    assert begun is not None  # noqa: S101 - it is written above
    return f"{(begun.value + round(at_power_s)) // 36 / 100:.2f} h"
