"""What may be believed of the supplies now, and what does that allow?

Power is what the technician told; passcheck sees no supply. A told *on* fades: after fifteen minutes without an event
it is unknown (and stays so, whatever the event that ends the absence), and after a restart of the program the journal
itself says so (`Resumed`).
"""

from datetime import datetime
from decimal import Decimal

from passcheck.job.fold import told_now
from passcheck.job.moment import Moment
from passcheck.job.state import Fitted, Job, PowerChange, Told
from passcheck.judge.energy import stored_energy_j
from passcheck.judge.quantity import Quantity
from passcheck.sequence.model import Sequence, StoredEnergy, Supply

LITTLE_ENERGY_J = 0.25  # below it, on extra-low voltage, one reading at the supply stands for the points


def told(job: Job, moment: Moment) -> dict[str, Told]:
    """What may be believed of each supply at this moment."""
    faded = moment.absent_since(job.last)
    return {name: "unknown" if change.told == "on" and faded else change.told for name, change in told_now(job).items()}


def on_now(job: Job, moment: Moment) -> tuple[str, ...]:
    """Supplies that are believed on."""
    return tuple(name for name, state in told(job, moment).items() if state == "on")


def all_off(job: Job, moment: Moment) -> bool:
    """Is every supply believed off?"""
    return all(state == "off" for state in told(job, moment).values())


def soaking_now(job: Job) -> tuple[str, ...]:
    """Supplies that a unit was left on soak with; neither time nor a restart of the program changes that."""
    return tuple(name for name, change in told_now(job).items() if change.told == "soaking")


def at_power_now(job: Job, moment: Moment) -> tuple[str, ...]:
    """Supplies that a unit has its power from, as far as may be believed: told on, or left on soak."""
    return on_now(job, moment) + soaking_now(job)


def unknown_now(job: Job, moment: Moment) -> tuple[str, ...]:
    """Supplies of which nothing may be believed until they are read or the unit is made safe."""
    return tuple(name for name, state in told(job, moment).items() if state == "unknown")


def last_told_on(job: Job, supply: str) -> PowerChange | None:
    """The telling that last put this supply on."""
    return next((change for change in reversed(job.power) if change.supply == supply and change.told == "on"), None)


def proved_dead(job: Job) -> bool:
    """True when the points were proved dead since any supply was last told anything but off."""
    if job.made_safe_line is None:
        return False
    return not any(change.line > job.made_safe_line and change.told != "off" for change in job.power)


def dead_at(job: Job, when: datetime) -> bool:
    """True when the last proof that the unit is dead was given before that time and still holds."""
    shown = next((change.moment.utc for change in job.power if change.line == job.made_safe_line), None)
    return proved_dead(job) and all(it.told == "off" for it in told_now(job).values()) and (shown or when) <= when


def forbids_power(job: Job) -> Fitted | None:
    """What is fitted to the unit that must come off before it is powered, if anything."""
    return next((it for it in job.fitted if it.forbids_power), None)


def top_voltage(sequence: Sequence) -> Quantity | None:
    """The highest voltage that any supply of the sequence may reach."""
    tops = [supply.range.high for supply in sequence.supplies.values() if supply.range.high is not None]
    return max(tops, key=lambda top: top.value, default=None)


def energy_j(sequence: Sequence) -> float:
    """Energy that the unit can hold after switch-off, in joules, all places together."""
    return sum(_energy_at(sequence, place) for place in sequence.stored_energy)


def _energy_at(sequence: Sequence, place: StoredEnergy) -> float:
    voltage = place.voltage or top_voltage(sequence)
    return 0.0 if voltage is None else stored_energy_j(place.capacitance, voltage)


def little_energy(sequence: Sequence) -> bool:
    """True for extra-low voltage with under 0.25 J: there a reading of the supply says enough."""
    extra_low = all(supply.supply_class == "extra-low" for supply in sequence.supplies.values())
    return extra_low and energy_j(sequence) < LITTLE_ENERGY_J


def plausible(supply: Supply, volts: Decimal, amps: Decimal) -> bool:
    """Could a supply that is on for this unit show these figures? Volts in its range, amps not above its limit."""
    return supply.range.holds(volts) and Decimal(0) <= amps <= supply.current_limit.value
