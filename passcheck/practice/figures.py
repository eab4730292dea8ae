"""What do the displays of the practice bench show where a screen asks for a figure off one?

A figure belongs to a unit and a question: whoever looks again reads the same, apart from what really changes (charge
that decays, an hour meter that goes on). Nothing here types anything: the figure is for a person to read and enter.
"""

from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from typing import Final

from passcheck.job.fold import told_now
from passcheck.job.moment import Moment
from passcheck.job.soak import meter, off_s, soak_now
from passcheck.job.state import Job, SoakLeg
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import show
from passcheck.practice import probing
from passcheck.practice.at_the_bench import PracticeBench
from passcheck.practice.displays import shown_inside
from passcheck.practice.healthy import drawn, typical
from passcheck.practice.serials import drawn_from
from passcheck.practice.shows import Draws
from passcheck.sequence.model import Confirm, PowerUpStep, SoakStep

AMP_DIGIT: Final = Decimal("0.001")
AIR_C: Final = (20.0, 24.0)  # beside the bench
METER_UP_TO_H: Final = 9000  # how long a machine may have run before its unit came in
METER_STEP_S: Final = 36  # an hour meter with two decimals


@dataclass(frozen=True, slots=True)
class SupplyShows:
    """Volts and amps on a supply's display, and whether its limit light is lit."""

    volts: str
    amps: str
    light: bool


def fact(practice: PracticeBench, job: Job, confirm: Confirm, moment: Moment) -> str:
    """The figure that a caution asks for; volts at a place that stores charge are those that are really there."""
    for place in job.sequence.stored_energy:
        if place.at in confirm.ask and confirm.limits.unit == "V":
            return probing.charge(practice, job, place, moment)
    return shown_inside(confirm.limits)


def as_set(job: Job, supply: str) -> tuple[str, str]:
    """Volts and current limit on the display of a supply that was set as the sequence asks."""
    asked = job.sequence.supplies[supply]
    digit = min(asked.nominal.digit, Decimal("0.1")) / 10
    off_by = drawn_from(job.serial, "set", supply).choice((-2, -1, 0, 1, 2))
    return show(asked.nominal.value + off_by * digit, "V", digit), asked.current_limit.text


def supply(practice: PracticeBench, job: Job, name: str, moment: Moment) -> SupplyShows:
    """The display of a supply that feeds the unit: volts as they were told, amps as the unit draws them now."""
    amps, light = _drawn_now(practice, job, name, moment)
    shown = Decimal(repr(amps)).quantize(AMP_DIGIT)  # in amperes, as a supply shows them and a bare number is read
    return SupplyShows(_volts_told(job, name), f"{shown} A", light)


def ambient(job: Job, limits: Limits | None = None) -> str:
    """The thermometer beside the unit; inside these limits, as the shop is heated for its soaks."""
    draw = drawn_from(job.serial, "ambient")
    if limits is None or (limits.holds(Decimal(AIR_C[0])) and limits.holds(Decimal(AIR_C[1]))):
        return show(draw.uniform(*AIR_C), "°C", Decimal("0.1"))
    return show(drawn(limits, typical(limits), draw), limits.unit, Decimal("0.1"))


def hour_meter(job: Job, step: SoakStep, moment: Moment) -> str:
    """What shows that power stayed on: an hour meter, which goes on by the time at power."""
    leg = job.open_soak
    if leg is None or leg.step != step.id:
        return _hours(drawn_from(job.serial, "hours").randrange(METER_UP_TO_H) * 3600.0)
    first = leg.looks[0]
    begun = meter(first.continuity)
    base_s = float(begun.value) if begun is not None else 0.0
    gone = moment.since(first.moment)
    passed_s = (moment.utc - first.moment.utc if gone is None else gone).total_seconds()
    cycles = _cycles_told(leg) + cycles_since(job, step)
    return _hours(base_s + max(0.0, passed_s - cycles * off_s(step)))


def cycles_since(job: Job, step: SoakStep) -> int:
    """How many power cycles the timer in the supply's lead counts since the last look: each look's share of them."""
    leg = job.open_soak
    if leg is None or leg.step != step.id or not step.cycles:
        return 0
    looks = max(1, int(step.hours.value / step.every.value))
    return min(-(-step.cycles // looks), soak_now(job, step).short_cycles)


def _volts_told(job: Job, name: str) -> str:
    told = (change.volts for change in reversed(job.power) if change.supply == name and change.volts)
    return next(told, job.sequence.supplies[name].nominal.text)


def _drawn_now(practice: PracticeBench, job: Job, name: str, moment: Moment) -> tuple[float, bool]:
    """Amps from this supply; one that has to give more than its limit gives its limit, and says so."""
    limit = float(job.sequence.supplies[name].current_limit.value)
    told = told_now(job).get(name)
    if told is not None and told.told == "off":
        return 0.0, False
    for step in job.sequence.steps:
        if isinstance(step, PowerUpStep) and step.power == name:
            shown = practice.shows(job, step, moment)
            if isinstance(shown, Draws):
                return min(shown.amps, limit), shown.light == "on" or shown.amps > limit
    return limit / 3, False


def _cycles_told(leg: SoakLeg) -> int:
    return sum(look.cycles for look in leg.looks) + len(leg.cycled)


def _hours(seconds: float) -> str:
    steps = (Decimal(repr(seconds)) / METER_STEP_S).to_integral_value(ROUND_FLOOR)
    return f"{steps / 100:.2f} h"
