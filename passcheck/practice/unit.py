"""What does this unit, with what is broken in it, do at a step?

The unit knows nothing of runs, people and records: it is asked at a step, under given circumstances, after given
reworks. Whatever is drawn comes from a generator that is handed in, so the same one gives the same unit.
"""

import math
from collections.abc import Sequence as Many
from random import Random
from typing import assert_never, cast

from passcheck.job.answers import Departure
from passcheck.practice import shows
from passcheck.practice.effects import Around, Showing, showing
from passcheck.practice.fault import Fault
from passcheck.practice.healthy import healthy_values, node_key, reading_limits, typical
from passcheck.practice.shows import Shows
from passcheck.sequence import model
from passcheck.sequence.model import Grade, Sequence, Step, StoredEnergy, Supply

TRIES = 40
"""How many tries one after another are drawn for a timed step: more than any technician makes."""
TRY_SCATTER = 0.01  # of a time, from one try to the next
MOST_SCATTER_S = 0.005  # a long time is as steady as a short one: what runs it down is a crystal or a charge
POINTER_SCATTER = 0.1  # of what an eye can read, from one mark and try to the next
DISCHARGED_EARLIER = 0.6  # a healthy unit is discharged after this share of the time its sequence waits
Reworks = Many[frozenset[str]]
"""The blocks that each rework touched, the earliest first."""


class SimulatedUnit:
    """One unit of a board type."""

    def __init__(self, sequence: Sequence, faults: Many[Fault], draw: Random) -> None:
        """Args:
        sequence: the board's.
        faults: what is broken, and what will break in a rework.
        draw: gives this unit's own values; it is not kept.
        """
        self.sequence = sequence
        self.faults = tuple(faults)
        self._own = healthy_values(sequence, draw)
        self._load_a = _load_a(sequence)

    def live(self, reworks: Reworks = ()) -> tuple[Fault, ...]:
        """What is broken after these reworks."""
        return tuple(
            fault
            for fault in self.faults
            if fault.born <= len(reworks) and not any(fault.block in blocks for blocks in reworks[fault.born :])
        )

    def shows(self, step: Step, around: Around, reworks: Reworks, draw: Random) -> Shows | None:  # noqa: PLR0912 - one row a kind
        """What the unit does at a step now; None for a soak, which is no observation of its own."""
        now = showing(self.live(reworks), step, around, draw)
        match step:
            case model.ReadingStep():
                return self._reads(step, now, around, reworks)
            case model.PowerUpStep():
                light = cast(shows.LimitLight, now.seen("limit light") or "off")
                return shows.Draws(now.size("draws", self._own[step.id, ""]), light)
            case model.ResponseStep():
                return _responds(now, self._own[step.id, ""], TRIES, draw)
            case model.PressesStep():
                presses = step.times * len(step.press)  # those that are made: what another press did is no part of it
                return _responds(now, self._own.get((step.id, ""), 0.1), presses, draw)
            case model.LampsStep():
                return self._lights(step, now)
            case model.SweepStep():
                own = (self._own[step.id, "up"], self._own[step.id, "down"])
                return _sweeps(step, now, own, draw)
            case model.MarksStep():
                return _stands(step, now, draw)
            case model.CodesStep():
                return _codes(step, now)
            case model.GradeStep():
                by_itself = "C" if now.of("recovers in") else "A"  # who has to come back was away
                grade = cast(Grade, now.seen("falls to") or by_itself)
                return shows.Falls(grade, now.size("recovers in", self._own.get((step.id, ""), 0.0)))
            case model.LookStep():
                amiss = {one.nth or 1: one.seen for one in now.of("looks")}
                return shows.Looks(tuple(Departure(nth, seen) for nth, seen in sorted(amiss.items())))
            case model.CountStep():
                return shows.Counts(round(now.size("counts", float(step.wanted))))
            case model.TableStep():
                rows = enumerate(step.rows, 1)
                given = tuple(now.size("gives", self._own[step.id, str(nth)], nth) for nth, _row in rows)
                return shows.Reads(given, step.rows[0].limits.unit)
            case model.SoakStep():
                return None
            case _:
                assert_never(step)

    def charge_v(self, place: StoredEnergy, around: Around, reworks: Reworks = ()) -> float:
        """Volts still held at a place that stores energy: an exponential decay from what its supply charged it to.

        From the highest of the supplies a healthy unit is below the sequence's limit well within the time that the
        sequence waits; a fault of the kind `holds charge` stretches that time.
        """
        charged_v = {name: _charges_to(supply) for name, supply in self.sequence.supplies.items()}
        top_v = max(charged_v.values())
        at_v = charged_v.get(around.supply, top_v)
        decades = math.log(top_v / float(place.discharged_below.value))
        time_constant_s = DISCHARGED_EARLIER * float(place.wait.value) / max(decades, 0.1)
        for fault in self.live(reworks):
            for one in fault.effects:
                if one.what == "holds charge" and one.on == place.at:
                    time_constant_s *= one.size
        return at_v * math.exp(-around.off_s / time_constant_s)

    def _reads(self, step: model.ReadingStep, now: Showing, around: Around, reworks: Reworks) -> Shows:
        limits = reading_limits(step)
        if limits is None or step.derive is not None:
            return shows.Reads((), "" if limits is None else limits.unit)
        place = next((one for one in self.sequence.stored_energy if one.at == step.at), None)
        unpowered = step.power == model.NO_SUPPLY
        own = self._own[node_key(step)]
        if place is not None and unpowered and limits.unit == "V":
            own = self.charge_v(place, around, reworks)
        value = now.size("ripple", now.size("reads", own)) - now.sum("source") * self._load_a
        return shows.Reads((value,) * step.readings, limits.unit)

    def _lights(self, step: model.LampsStep, now: Showing) -> Shows:
        """What is amiss with lamps by name, or by their place in the step; a time that isn't asked for stays 0."""
        amiss = {
            nth: one.seen or one.what
            for nth, lamp in enumerate(step.lamps, 1)
            for one in now.of("dark", "flickers", "looks")
            if one.on == lamp.ref or (one.on == step.id and one.nth in (None, nth))
        }
        on_s, rate_hz = self._own.get((step.id, "on")), self._own.get((step.id, "rate"))
        return shows.Lights(
            tuple(Departure(nth, seen) for nth, seen in amiss.items()),
            0.0 if on_s is None else now.size("lags", on_s),
            self._own.get((step.id, "off"), 0.0),
            0.0 if rate_hz is None else now.size("blinks at", rate_hz),
        )


def _charges_to(supply: Supply) -> float:
    """Volts; a rectifier charges to the peak of what comes in."""
    factor = math.sqrt(2) if supply.supply_class == "hazardous-live" else 1.0
    return float(supply.nominal.value) * factor


def _responds(now: Showing, own_s: float, tries: int, draw: Random) -> Shows:
    delay_s, dead, bounces = now.size("delays", own_s), now.sum("dead spots"), now.sum("bounces")
    delays_s = []
    for _ in range(tries):
        answers = draw.random() >= dead
        delays_s.append(_scattered(delay_s, draw) if answers else None)
    return shows.Responds(tuple(delays_s), sum(draw.random() < bounces for _ in range(tries)) if bounces else 0)


def _scattered(time_s: float, draw: Random) -> float:
    """A time as it is in one try."""
    return time_s + draw.gauss(0, min(TRY_SCATTER * time_s, MOST_SCATTER_S))


def _sweeps(step: model.SweepStep, now: Showing, own_s: tuple[float, float], draw: Random) -> Shows:
    factor = now.size("slow", 1.0)
    ways = []
    for rising, whole_s in zip((True, False), own_s, strict=True):
        taken_s = _scattered(whole_s * factor, draw)
        times_s = [taken_s * nth / (step.marks - 1) for nth in range(step.marks)]
        for one in now.of("stalls"):
            segment = one.nth or 1
            after = segment if rising else step.marks - segment
            times_s = [each + one.size * (nth >= after) for nth, each in enumerate(times_s)]
        ways.append(tuple(times_s))
    stalled = [one.nth or 1 for one in now.of("stalls")]
    where = f"between mark {stalled[0] - 1} and mark {stalled[0]}" if stalled else ""
    return shows.Sweeps(ways[0], ways[1], where)


def _stands(step: model.MarksStep, now: Showing, draw: Random) -> Shows:
    scatter = float(step.readability.value) * POINTER_SCATTER

    def way() -> tuple[float, ...]:
        marks = enumerate(step.marks, 1)
        return tuple(float(mark.value.value) + now.sum("offset", nth) + draw.gauss(0, scatter) for nth, mark in marks)

    return shows.Stands(way(), way() if step.both_ways else ())


def _codes(step: model.CodesStep, now: Showing) -> Shows:
    stuck = tuple(one.on if one.on != step.id else one.seen for one in now.of("stuck"))
    missing = {one.on for one in now.of("missing")}
    mute = {one.on for one in now.of("mute")}
    present = tuple(dict.fromkeys((*(code for code in step.expected if code not in missing), *stuck)))
    provoked = tuple(one.code for one in step.provoke if one.code not in mute)
    return shows.Codes(present, provoked, present if step.clear is not None else None)


def _load_a(sequence: Sequence) -> float:
    """What a rail has to carry: the unit's idle current, in the middle of what its first power-up allows."""
    idle = next((step for step in sequence.steps if isinstance(step, model.PowerUpStep)), None)
    return 0.0 if idle is None else typical(idle.limits)
