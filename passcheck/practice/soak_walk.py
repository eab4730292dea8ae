"""How does the robot technician leave a unit at power and look at it until its hours are there?"""

from dataclasses import replace

from passcheck.job.commands import CheckSoak, FinishSoak, Seen, StartSoak
from passcheck.job.soak import SoakNow, off_s, soak_now, soak_steps
from passcheck.practice.at_work import AtWork, NotGranted
from passcheck.practice.displays import shown_inside
from passcheck.practice.figures import cycles_since, hour_meter
from passcheck.practice.walking import Walk
from passcheck.sequence.model import SoakStep

MOST_LOOKS = 3
"""For each that is planned: stretches that don't count are made up for."""
LAG_MIN = 1.0  # an hour meter shows a minute later
ALONE = ("F2 of the bench, 1 A", "on the tile, nothing beside it", "the cut-out above it", "the second person, called")
"""The facts that are said before a unit is left alone."""


async def burn_in(work: AtWork) -> dict[str, str]:
    """A burn-in run from its start to its close, with every soak of the sequence; what the bench refuses ends it.

    Returns the steps of a look that were given up, or the soak itself, and why.
    """
    walk = Walk(work, "burn-in")
    await walk.begin()
    for soak in soak_steps(work.job):
        try:
            await _soaked(work, walk, soak)
        except NotGranted as refused:
            walk.given_up[soak.id] = refused.refusal.code
            break
    await walk.end()
    return walk.given_up


async def _soaked(work: AtWork, walk: Walk, soak: SoakStep) -> None:
    await work.ready_for(soak)
    supply = work.job.sequence.supplies[soak.power]
    amps = f"{supply.current_limit.value / 2:f} A"
    ambient = None if soak.ambient is None else shown_inside(soak.ambient)
    alone = ALONE if soak.unattended and supply.supply_class == "extra-low" else ()
    witness = _shown_on(work, soak)
    await work.do(StartSoak(work.by, soak.id, supply.nominal.text, amps, False, witness, ambient, alone))
    await walk.steps()
    planned = int(-(-soak.hours.value // soak.every.value))
    for _ in range(MOST_LOOKS * planned):
        now = soak_now(work.job, soak)
        if now.leg is None or now.complete or walk.given_up:
            break
        await _look(work, now, Seen(work.job.serial, supply.nominal.text, amps, False, None, ambient))
        walk.times.clear()  # each look is a round of its own
        await walk.steps()
    if work.job.open_soak is not None and not walk.given_up:
        await work.do(FinishSoak(work.by, soak.id))


async def _look(work: AtWork, now: SoakNow, seen: Seen) -> None:
    """Let an interval go by with its share of the power cycles, and look."""
    soak, leg = now.step, now.leg
    assert leg is not None  # noqa: S101 - the caller has looked
    cycles = cycles_since(work.job, soak)
    since_min = (work.job.measured.total_ms - leg.looks[-1].measured.total_ms) / 60_000 if len(leg.looks) > 1 else 0.0
    still_min = now.short_s / 60 + cycles * off_s(soak) / 60 + LAG_MIN
    work.clock.pass_time(minutes=max(0.0, min(float(soak.every.value) / 60, still_min) - since_min))
    found = replace(seen, continuity=_shown_on(work, soak))
    await work.pass_time(0.5)
    await work.do(CheckSoak(work.by, soak.id, found, cycles=cycles))


def _shown_on(work: AtWork, soak: SoakStep) -> str | None:
    """What the hour meter shows, where only hours count whose power is shown to have stayed on."""
    return hour_meter(work.job, soak, work.bench.moment()) if soak.continuous else None
