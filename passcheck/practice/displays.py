"""What do the displays of the bench show: supplies, instruments, places that hold charge, facts of cautions?"""

from dataclasses import dataclass
from decimal import Decimal

from passcheck.job import cautions
from passcheck.job.events import InstrumentInUse
from passcheck.job.instruments import accuracy_in, taken_up
from passcheck.job.judging import instrument_role
from passcheck.job.moment import Moment
from passcheck.job.power import last_told_on
from passcheck.job.state import Job
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import show
from passcheck.practice.at_the_bench import PracticeBench
from passcheck.practice.healthy import typical
from passcheck.practice.in_hand import is_at_power
from passcheck.practice.probing import charge
from passcheck.practice.seen import Row
from passcheck.practice.shows import Draws
from passcheck.sequence import model
from passcheck.sequence.model import Confirm, Step, StoredEnergy

LIGHT = {"off": "limit light off", "brief": "limit light was on briefly", "on": "limit light ON"}
NOTHING = "no instrument was taken for it"


@dataclass(frozen=True, slots=True)
class Displays:
    """The bench of one job.

    Attributes:
        bench: the practice bench.
        job: the unit in hand.
        moment: now.
        meter: the instrument chosen for this step; None for the run's own.
        switched_off: True while the unit is made safe: the hand switched off, whatever is told of it later.
    """

    bench: PracticeBench
    job: Job
    moment: Moment
    meter: InstrumentInUse | None = None
    switched_off: bool = False

    def of_step(self, step: Step, label: str, value: float, limits: Limits, nth: int = 0) -> Row:
        """What the step's instrument shows of a value."""
        role = instrument_role(step)
        used = self.meter or (None if role is None else self._taken(role))
        return self._row(used, label, value, limits, nth)

    def by_role(self, role: str, label: str, value: float, limits: Limits, nth: int = 0) -> Row:
        """What the instrument in this role shows of a value."""
        return self._row(self._taken(role), label, value, limits, nth)

    def is_at_power(self, supply: str) -> bool:
        """Does the unit have this supply, by what was told last? Nobody's doubt switches it off."""
        return not self.switched_off and is_at_power(self.job, supply)

    def supply_lines(self) -> tuple[str, ...]:
        """A line a supply: "battery on 24.0 V, 0.16 A, limit light off"."""
        return tuple(map(self._supply_line, self.job.sequence.supplies))

    def charges(self) -> tuple[Row, ...]:
        """What is still held at the places that store energy."""
        return tuple(self._charge(place) for place in self.job.sequence.stored_energy)

    def facts(self, step: Step) -> tuple[Row, ...]:
        """What the bench shows of every fact that the step's hazard messages may ask for."""
        known = self.job.sequence.cautions
        asked = (one for name in cautions.of_step(self.job, step) for one in known[name].confirm)
        return tuple(dict.fromkeys(self._fact(one) for one in asked))

    def _supply_line(self, supply: str) -> str:
        if not self.is_at_power(supply):
            return f"{supply} off, 0 V"
        change = last_told_on(self.job, supply)
        volts = (change.volts if change is not None else "") or self.job.sequence.supplies[supply].nominal.text
        return ", ".join((f"{supply} on {volts}", *self._drawn(supply)))

    def _drawn(self, supply: str) -> tuple[str, ...]:
        """Amperes and the limit light, as the step of the first power finds them."""
        for step in self.job.sequence.steps:
            if isinstance(step, model.PowerUpStep) and step.power == supply:
                found = self.bench.shows(self.job, step, self.moment)
                role = instrument_role(step)
                if isinstance(found, Draws) and role is not None and self._taken(role) is not None:
                    return self.by_role(role, "", found.amps, step.limits)[1], LIGHT[found.light]
        return ()

    def _charge(self, place: StoredEnergy) -> Row:
        return f"tester at {place.at}", charge(self.bench, self.job, place, self.moment)

    def _fact(self, one: Confirm) -> Row:
        for place in self.job.sequence.stored_energy:
            if one.limits.unit == "V" and place.at in one.ask:
                return one.ask, self._charge(place)[1]
        return one.ask, shown_inside(one.limits)

    def _taken(self, role: str) -> InstrumentInUse | None:
        run = self.job.open_run
        return taken_up(run, role) if run is not None else None

    def _row(self, used: InstrumentInUse | None, label: str, value: float, limits: Limits, nth: int) -> Row:
        run = self.job.open_run
        if used is None or run is None:
            return label, NOTHING
        shown = self.bench.reading(self.job, value, limits, used.instrument, accuracy_in(run, used), nth)
        return f"{used.instrument} {label}".rstrip(), shown


def shown_inside(limits: Limits) -> str:
    """What a display of the bench's own shows that is as it should be, with all its digits."""
    ends = [end for end in (limits.low, limits.high) if end is not None]
    if limits.nominal is not None:
        return show(limits.nominal.value, limits.unit, limits.nominal.digit)
    middle = sum((end.value for end in ends), Decimal(0)) / len(ends) if len(ends) > 1 else typical(limits)
    return show(middle, limits.unit, min(end.digit for end in ends))
