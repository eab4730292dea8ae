"""How does the robot technician stand at the bench: commands, time, power, proving dead?

Everything goes through the bench's own commands, as a screen's do; what the bench refuses is counted and either lifted
or handed on. Time goes by on the simulated clock while hands are at work.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from random import Random

from passcheck.bench.bench import Bench, Done
from passcheck.job import cautions, power
from passcheck.job.commands import Acknowledge, CallMakeSafe, Command, Energise, ProveDead, Refusal, TellPower
from passcheck.job.events import PointProof
from passcheck.job.instruments import taken_up
from passcheck.job.judging import instrument_role, needs_accuracy
from passcheck.job.state import Job
from passcheck.job.steps import is_powered
from passcheck.judge.accuracy import parse_accuracy
from passcheck.practice.clock import SteppedClock
from passcheck.practice.displays import shown_inside
from passcheck.practice.effects import Around
from passcheck.practice.eyes import WithMeter
from passcheck.practice.hand import Hand
from passcheck.practice.in_hand import around_now, reworks_of
from passcheck.practice.manner import Manner
from passcheck.practice.meter import Meters
from passcheck.practice.tally import Tally
from passcheck.practice.unit import Reworks, SimulatedUnit
from passcheck.sequence.model import Step, StoredEnergy

AT_BENCH_MIN = 10.0
"""After so long somebody at a powered unit tells the bench of it, well before it takes the bench for empty."""
DISCHARGED_TO = 0.01  # of what was held, through the lead


class NotGranted(Exception):
    """The bench refused what the work at hand needs."""

    def __init__(self, refusal: Refusal) -> None:
        super().__init__(f"{refusal.sentence} {refusal.lift}")
        self.refusal = refusal


@dataclass(slots=True)
class AtWork:
    """One person with one unit at one bench."""

    bench: Bench
    unit: SimulatedUnit
    clock: SteppedClock
    by: str
    second: str | None
    manner: Manner
    hand: Hand
    meters: Meters
    uniforms: Callable[[int], tuple[float, ...]]
    draw: Random
    tally: Tally = field(default_factory=Tally)

    @property
    def job(self) -> Job:
        """The job as it stands."""
        return self.bench.job

    async def do(self, command: Command) -> Done:
        """Carry out a command.

        Raises:
            NotGranted: it was refused.
        """
        answered = await self.ask(command)
        if isinstance(answered, Refusal):
            raise NotGranted(answered)
        return answered

    async def ask(self, command: Command) -> Done | Refusal:
        """Carry out a command, or hear why not."""
        answered = await self.bench.do(command)
        if isinstance(answered, Refusal):
            self.tally.refused[answered.code] += 1
        return answered

    async def pass_time(self, minutes: float) -> None:
        """Let a step's minutes go by with somebody at the unit."""
        self.tally.hands_on_min += minutes
        while minutes > 0:
            silent = self.clock().since(self.job.last)
            silent_min = 0.0 if silent is None else silent.total_seconds() / 60
            bit = min(minutes, max(0.0, AT_BENCH_MIN - silent_min))
            self.clock.pass_time(minutes=bit)
            minutes -= bit
            if minutes <= 0:
                return
            if not power.on_now(self.job, self.bench.moment()):  # nobody has to be at a unit that has no power
                self.clock.pass_time(minutes=minutes)
                return
            await self.do(TellPower(self.by, "on", "still at the bench"))

    # Power

    async def make_safe(self) -> None:
        """Press the key and prove the unit dead, where that isn't shown already."""
        if power.all_off(self.job, self.bench.moment()) and power.proved_dead(self.job):
            return
        await self.do(CallMakeSafe(self.by))
        await self.pass_time(0.5)
        points = tuple([await self._proved(place) for place in self.job.sequence.stored_energy])
        await self.do(ProveDead(self.by, self._filling("voltmeter"), points, at_supply="0.02 V"))

    async def _proved(self, place: StoredEnergy) -> PointProof:
        """Measure a place, through its lead where charge is still there, and once more after the wait."""
        known = self.bench.outside().settings.known_source.limits
        source = shown_inside(known)
        held_v = self.unit.charge_v(place, self.around(), self.reworks)
        below_v = float(place.discharged_below.value)
        while round(held_v, 2) >= below_v:  # as it is written down, and as often as it takes
            held_v *= DISCHARGED_TO
        await self.pass_time(float(place.wait.value) / 60)
        first, again = f"{held_v:.2f} V", f"{held_v / 2:.2f} V"
        wait_s = int(place.wait.value)
        ac = "0.01 V" if place.ac else None
        return PointProof(place.at, source, first, f"-{first}", wait_s, again, source, ac)

    async def ready_for(self, step: Step) -> None:
        """Bring power and cautions to where the step may be tried."""
        if self._has_to_be_safe_for(step):
            await self.make_safe()
        for one in cautions.outstanding(self.job, step, self.by, self.bench.moment()):
            fact = shown_inside(one.confirm.limits) if one.confirm is not None else None
            await self.pass_time(0.2)
            await self.do(Acknowledge(self.by, one.name, fact))
        if is_powered(step) and power.told(self.job, self.bench.moment())[step.power] == "off":
            supply = self.job.sequence.supplies[step.power]
            await self.do(Energise(self.by, step.id, supply.nominal.text, supply.current_limit.text))

    def _has_to_be_safe_for(self, step: Step) -> bool:
        """Where power is unknown, before another supply and before hands; a look alone leaves a unit as it is."""
        states = power.told(self.job, self.bench.moment())
        if "unknown" in states.values():
            return True
        if not is_powered(step):
            return step.touches
        return any(state != "off" for name, state in states.items() if name != step.power)

    def meter(self, step: Step, instrument: str | None = None) -> WithMeter | None:
        """The instrument in hand, with its error; None where nothing is measured."""
        run, role = self.job.open_run, instrument_role(step)
        if run is None or role is None or not needs_accuracy(step):
            return None
        if instrument is not None:
            owned = self.bench.outside().settings.instruments[instrument]
            return WithMeter(self.meters, instrument, owned.fills[role], self.draw)
        used = taken_up(run, role)
        if used is None:
            return None
        return WithMeter(self.meters, used.instrument, parse_accuracy(used.accuracy), self.draw)

    def around(self, under: tuple[str, ...] = ()) -> Around:
        """The circumstances of the unit now."""
        return around_now(self.job, self.bench.moment(), under)

    @property
    def reworks(self) -> Reworks:
        """The blocks that each rework touched."""
        return reworks_of(self.job)

    def _filling(self, role: str) -> str:
        day = self.bench.moment().local().date()
        return next(iter(self.bench.outside().settings.filling(role, day)), "the tester in the drawer")
