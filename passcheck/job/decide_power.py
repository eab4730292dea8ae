"""May this be told of power, and does what was measured show the unit dead?

passcheck switches nothing and sees no supply; it keeps what it is told and refuses what the record forbids.
"""

from decimal import Decimal

from passcheck.job import cautions, power
from passcheck.job import events as happened
from passcheck.job.commands import Acknowledge, Energise, ProveDead, ReadSupply, Refusal, TellPower
from passcheck.job.entry import EntryFault, quantity
from passcheck.job.events import Event, PointProof
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.permission import NO_RUN, people_refusal, run_and_step, unplugged_refusal
from passcheck.job.standing import unmet_needs
from passcheck.job.state import Job, Run
from passcheck.job.steps import is_powered
from passcheck.sequence.model import Step, StoredEnergy, Supply

Answered = tuple[Event, ...] | Refusal
SUPPLY_TOLERANCE = Decimal("1.1")  # a display may read a tenth above the limit that was set


def acknowledge(job: Job, command: Acknowledge, moment: Moment) -> Answered:
    """Take the answer to a hazard message; a fact no ready bench shows is refused without saying which would do."""
    run = job.open_run
    if run is None:
        return NO_RUN
    if command.caution not in job.sequence.cautions:
        return Refusal("entry", f"The sequence has no caution '{command.caution}'.", "Choose one that is asked for.")
    open_ones = cautions.asked(job, (command.caution,), command.by, moment)
    if not open_ones:
        return Refusal("order", f"'{command.caution}' needs no answer now.", "Go on with the step.")
    confirm = open_ones[0].confirm
    if confirm is None:
        return (_acknowledged(command, open_ones[0], run, None),)
    if command.fact is None or not cautions.accepts(confirm, command.fact):
        return Refusal(
            "fact",
            f"{confirm.ask}: that is not what the display of a bench ready for this step shows.",
            "Stop and look at the bench. Read the display again and give all its digits.",
        )
    return (_acknowledged(command, open_ones[0], run, confirm.ask),)


def _acknowledged(command: Acknowledge, one: cautions.Asked, run: Run, ask: str | None) -> happened.CautionAcknowledged:
    return happened.CautionAcknowledged(
        caution=one.name,
        text_hash=cautions.text_hash(one.caution),
        run=run.number,
        asked=ask,
        given=command.fact if ask else None,
    )


def energise(job: Job, command: Energise, moment: Moment, outside: Outside) -> Answered:
    """Take that a supply is on, when nothing recorded forbids it for the step at hand."""
    found = run_and_step(job, command.step)
    if isinstance(found, Refusal):
        return found
    run, step = found
    if not is_powered(step):
        return Refusal("order", f"{step.title} is walked without power.", "Leave the supply off.")
    if power.soaking_now(job):
        return Refusal("order", "The unit is on soak: it has power.", "Look at it, or end the soak.")
    refusal = power_refusal(job, step, command.by, moment) or people_refusal(job, step, command.by, run, outside)
    if refusal is not None:
        return refusal
    if (faulty := _as_set(job.sequence.supplies[step.power], command)) is not None:
        return faulty
    return (happened.Energised(step.power, command.volts.strip(), command.current_limit.strip(), step.id),)


def power_refusal(job: Job, step: Step, person: str, moment: Moment) -> Refusal | None:
    """What the record holds against powering the unit for this step, apart from the people."""
    lead = power.forbids_power(job)
    if lead is not None:
        return Refusal("power", f"Still fitted: {lead.words}.", "Take it off and say so.")
    if power.unknown_now(job, moment):
        return Refusal("power", f"Supply {power.unknown_now(job, moment)[0]}: power is unknown.", "Make safe first.")
    others = [(name, told) for name, told in power.told(job, moment).items() if name != step.power and told != "off"]
    if others:
        name, told = others[0]
        return Refusal("power", f"Supply {name} is told {told}.", "Switch it off and prove the unit dead first.")
    guards = unmet_needs(job, step)
    if guards:
        return Refusal("needs", f"{guards[0].title} has not passed: it comes before power.", "Walk it first.")
    if (out := unplugged_refusal(job, step, moment)) is not None:
        return out
    open_ones = cautions.outstanding(job, step, person, moment)
    if open_ones:
        return Refusal(
            "caution", f"{open_ones[0].caution.signal}: {open_ones[0].caution.hazard}", "Answer the caution."
        )
    return None


def _as_set(supply: Supply, command: Energise) -> Refusal | None:
    try:
        volts = quantity(command.volts, "V").value
        limit = quantity(command.current_limit, "A").value
    except EntryFault as error:
        return Refusal("entry", str(error), "Give what the supply's display shows.")
    if not supply.range.holds(volts):
        return Refusal(
            "power", f"{command.volts} is outside what this unit may get.", "Switch off. Set the supply again."
        )
    if not Decimal(0) < limit <= supply.current_limit.value * SUPPLY_TOLERANCE:
        return Refusal(
            "power",
            f"A current limit of {command.current_limit} is not what the sequence asks.",
            "Switch off. Set it again.",
        )
    return None


def read_supply(job: Job, command: ReadSupply, moment: Moment) -> Answered:
    """Restore what was told before an absence, where little energy and a plausible display allow it."""
    supply = job.sequence.supplies.get(command.supply)
    if supply is None or power.told(job, moment).get(command.supply) != "unknown":
        return Refusal("order", f"Supply {command.supply} is not unknown.", "Nothing needs reading.")
    before = power.last_told_on(job, command.supply)
    if before is None or not power.little_energy(job.sequence):
        return Refusal("power", "Here a reading of the supply is not enough.", "Make safe: prove every point dead.")
    try:
        volts, amps = quantity(command.volts, "V").value, quantity(command.amps, "A").value
    except EntryFault as error:
        return Refusal("entry", str(error), "Give what the supply's display shows.")
    if command.limit_light or not power.plausible(supply, volts, amps):
        return Refusal("power", "That is not a supply at rest on this unit.", "Make safe: prove every point dead.")
    return (
        happened.SupplyRead(command.supply, command.volts.strip(), command.amps.strip(), command.limit_light, True),
    )


def tell_power(job: Job, command: TellPower, moment: Moment) -> Answered:
    """Take that everything was switched off, or off and on again as a step asks, or that somebody is still there."""
    on = power.at_power_now(job, moment)
    if not on:
        return Refusal("order", "No supply is told on.", "Nothing was switched.")
    return (happened.PowerTold(command.told, on, command.why),)


def call_make_safe(job: Job) -> Answered:
    """The key itself is recorded before anything is asked: from here nothing is believed of any supply."""
    return (happened.PowerTold("unknown", tuple(job.sequence.supplies), "make safe was called"),)


def prove_dead(job: Job, command: ProveDead, outside: Outside) -> Answered:
    """Take the measurements that show the unit discharged; one missing or out of range leaves power unknown."""
    if not command.tester.strip():
        return Refusal("entry", "Name the tester.", "Enter which instrument the points were measured with.")
    if power.little_energy(job.sequence) or not job.sequence.stored_energy:
        return _at_supply(job, command)
    for place in job.sequence.stored_energy:
        proof = next((point for point in command.points if point.at == place.at), None)
        if proof is None:
            return Refusal("entry", f"{place.at} was not measured.", "Measure every named point.")
        if (short := _unproved(place, proof, outside)) is not None:
            return short
    return (happened.MadeSafe(command.tester.strip(), command.points, command.at_supply, command.shorting_lead),)


def _at_supply(job: Job, command: ProveDead) -> Answered:
    if command.at_supply is None:
        return Refusal("entry", "Nothing was measured.", "Read the voltage at the supply's terminals, output off.")
    bound = min((place.discharged_below.value for place in job.sequence.stored_energy), default=Decimal(2))
    try:
        left = abs(quantity(command.at_supply, "V").value)
    except EntryFault as error:
        return Refusal("entry", str(error), "Give the voltage at the supply's terminals.")
    if left >= bound:
        return Refusal("power", f"{command.at_supply} is still there.", "Switch the output off, wait, read again.")
    return (happened.MadeSafe(command.tester.strip(), (), command.at_supply.strip(), command.shorting_lead),)


def _unproved(place: StoredEnergy, proof: PointProof, outside: Outside) -> Refusal | None:
    """Why this point does not count as proved dead, or None."""
    known = outside.settings.known_source
    try:
        for name, text in (("before", proof.source_before), ("after", proof.source_after)):
            if not known.limits.holds(quantity(text, "V").value):
                return Refusal(
                    "power",
                    f"The tester read {text} on the known source {name}: it can't be trusted.",
                    "Use another tester.",
                )
        left = [proof.forward, proof.reverse, proof.again]
        if place.ac:
            if proof.ac is None:
                return Refusal("entry", f"{place.at} was not measured on AC.", "Measure it on AC too.")
            left.append(proof.ac)
        for text in left:
            if abs(quantity(text, "V").value) >= place.discharged_below.value:
                return Refusal(
                    "power",
                    f"{place.at} still reads {text}.",
                    "Discharge it, wait, and measure again. Rebound is normal.",
                )
    except EntryFault as error:
        return Refusal("entry", str(error), f"Give the voltage at {place.at}.")
    if Decimal(proof.waited_s) < place.wait.value:
        return Refusal("power", f"{place.at}: {proof.waited_s} s is too short a wait.", "Wait, then measure again.")
    return None
