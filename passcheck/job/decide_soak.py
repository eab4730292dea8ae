"""May this soak begin, and what do a look at it and its end amount to?

A soak is begun on a unit that passes and whose supply is told on; each look begins with the serial and the supply's
reading. What is wrong there is asked for once more, and then ends the soak with power unknown.
"""

from dataclasses import replace
from decimal import Decimal

from passcheck.job import events as happened
from passcheck.job import power
from passcheck.job.answers import SoakAnswer
from passcheck.job.commands import BreakSoak, CheckSoak, FinishSoak, Refusal, Seen, StartSoak
from passcheck.job.decide_power import power_refusal
from passcheck.job.entry import EntryFault, quantity
from passcheck.job.events import Event
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.permission import people_refusal, run_and_step
from passcheck.job.serial import read_serial
from passcheck.job.soak import going_on, hours_words, short_words, soak_now, soak_steps
from passcheck.job.soak_course import warnings
from passcheck.job.standing import latest, standing_attempts
from passcheck.job.state import Attempt, Job, Run, SoakLeg
from passcheck.job.steps import needed_for_release
from passcheck.judge.judgement import judged_without_number
from passcheck.judge.quantity import QuantityError, parse_quantity, six
from passcheck.judge.soak_evidence import A_SOAK_SCREENS
from passcheck.sequence.model import SoakStep, Step

Answered = tuple[Event, ...] | Refusal
ALONE_ASKS = ("the fuse of this unit", "where it stands", "the thermal cut-out", "who can be reached")
MOST_CYCLES = 10_000
SAME_SUPPLY = Decimal("0.1")  # how far a supply may be from where the soak began, as a share


def start_soak(job: Job, command: StartSoak, moment: Moment, outside: Outside) -> Answered:
    """Take that a unit was left at power to soak."""
    found = _soak_step(job, command.step)
    if isinstance(found, Refusal):
        return found
    run, step = found
    if job.open_soak is not None:
        return Refusal("order", "This unit is on soak already.", "Look at it instead.")
    refusal = (
        _fails(job)
        or power_refusal(job, step, command.by, moment)
        or people_refusal(job, step, command.by, run, outside)
    )
    if refusal is not None:
        return refusal
    if step.power not in power.on_now(job, moment):
        return Refusal("power", f"Supply {step.power} is not told on.", "Switch it on and tell what its display shows.")
    refusal = (
        _supply(job, step, command.volts, command.amps, command.limit_light)
        or _witness(step, command.witness)
        or _surroundings(step, command.ambient)
        or _alone(job, step, command.unattended)
    )
    if refusal is not None:
        return refusal
    return (
        happened.SoakStarted(
            step=step.id,
            supply=step.power,
            volts=command.volts.strip(),
            amps=command.amps.strip(),
            witness=_tidy(command.witness),
            unattended=tuple(words.strip() for words in command.unattended),
            ambient=_tidy(command.ambient),
        ),
    )


def check_soak(job: Job, command: CheckSoak) -> Answered:
    """Take a look at a soaking unit; its steps are walked after it."""
    going = _going(job, command.step)
    if isinstance(going, Refusal):
        return going
    step, leg = going
    if not 0 <= command.cycles <= MOST_CYCLES:
        return Refusal("entry", f"{command.cycles} power cycles can't be.", "Count those since the last look.")
    seen = command.seen
    entry = _readable(step, seen)
    if entry is not None:
        return entry
    wrong = _wrong(job, step, leg, seen)
    if wrong is not None and command.again is None:
        return Refusal("type again", wrong, "Look at unit and supply again and enter them once more.")
    if wrong is not None and command.again != seen:
        return Refusal("entry", "The two entries differ; neither was kept.", "Look again and enter what you see.")
    looked = happened.SoakChecked(
        step=step.id,
        serial_scanned=read_serial(seen.serial),
        volts=seen.volts.strip(),
        amps=seen.amps.strip(),
        continuity=_tidy(seen.continuity),
        good=wrong is None,
        ambient=_tidy(seen.ambient),
        cycles=command.cycles,
        lost=command.lost.strip(),
    )
    return (looked,) if wrong is None else (looked, happened.SoakInterrupted(step.id, wrong))


def break_soak(job: Job, command: BreakSoak) -> Answered:
    """A soak ended early, for a reason that somebody gives; power is unknown until the unit is looked after."""
    going = _going(job, command.step)
    if isinstance(going, Refusal):
        return going
    if not command.why.strip():
        return Refusal("entry", "Say why the soak ends early.", "One sentence will do.")
    return (happened.SoakInterrupted(command.step, command.why.strip()),)


def finish_soak(job: Job, command: FinishSoak, moment: Moment) -> Answered:
    """Take that a soak is done: hours, cycles and the last look are there.

    Where that look was long ago nobody knows of the supply any more, and it is told unknown.
    """
    going = _going(job, command.step)
    if isinstance(going, Refusal):
        return going
    step, leg = going
    run = job.open_run
    if run is None:
        return Refusal("no run", "No run is open.", "Start a burn-in run.")
    now = soak_now(job, step)
    if not now.complete:
        return Refusal("order", f"{step.title}: {short_words(now)}.", "Leave it at power and look at it in time.")
    looks = sum(len(one.looks) for one in job.soaks if one.step == step.id and one.line >= leg.line)
    cycles = f", {now.credit.cycles} power cycles" if now.credit.cycles else ""
    sentence = (
        f"{hours_words(now.credit.counted_s)} at power shown by looks that passed ({step.hours.text} asked for)"
        f"{cycles}. {A_SOAK_SCREENS}"
    )
    answer = SoakAnswer(six(now.credit.counted_s), looks, now.credit.cycles)
    judged = judged_without_number("pass", sentence, "soak credit")
    done = happened.AttemptJudged(len(job.attempts) + 1, run.number, step.id, answer, judged)
    if not moment.absent_since(job.last):
        return (done,)
    return (done, happened.PowerTold("unknown", (leg.supply,), "nobody was at the unit since its last look"))


def look_refusal_of(job: Job, step: Step) -> Refusal | None:
    """Steps of a burn-in are walked at a look, each once; the soak itself is started, looked at and ended."""
    now = going_on(job)
    if now is None:
        if isinstance(step, SoakStep):
            return None
        return Refusal("order", "No soak is under way.", "Start the soak first; its steps are walked at each look.")
    if isinstance(step, SoakStep):
        told = [
            "Hours and cycles are there." if now.complete else f"On soak: {short_words(now)}.",
            *warnings(job, now.step),
        ]
        return Refusal("soak", " ".join(told), "End the soak." if now.complete else "Look at it when it is due.")
    if step.id not in now.still_to_pass:
        return Refusal("order", f"{step.title} is done for this look.", "The next look asks for it again.")
    return None


def undone_with(job: Job, chosen: Attempt, voided: happened.AttemptVoided) -> tuple[happened.AttemptVoided, ...]:
    """The ends of soaks that stand on a look whose pass is withdrawn, and are short without it."""
    if chosen.purpose != "burn-in":
        return ()
    kept = tuple(replace(one, void=voided) if one.number == chosen.number else one for one in job.attempts)
    after = replace(job, attempts=kept)
    found: list[happened.AttemptVoided] = []
    for step in soak_steps(job):
        now = soak_now(after, step)
        if now.short_s or now.short_cycles:
            why = f"without attempt {chosen.number} the soak is {short_words(now)}"
            ends = (one for one in standing_attempts(after, step) if one.void is None)
            found.extend(happened.AttemptVoided(one.number, why) for one in ends)
    return tuple(found)


def _soak_step(job: Job, step_id: str) -> tuple[Run, SoakStep] | Refusal:
    found = run_and_step(job, step_id)
    if isinstance(found, Refusal):
        return found
    run, step = found
    if run.purpose != "burn-in" or not isinstance(step, SoakStep):
        return Refusal("order", f"'{step_id}' is no soak of a burn-in run.", "Start a burn-in run.")
    return run, step


def _going(job: Job, step_id: str) -> tuple[SoakStep, SoakLeg] | Refusal:
    leg = job.open_soak
    step = job.sequence.step(leg.step) if leg is not None else None
    if leg is None or leg.step != step_id or not isinstance(step, SoakStep):
        return Refusal("order", f"No soak '{step_id}' is under way.", "Start it first.")
    return step, leg


def _fails(job: Job) -> Refusal | None:
    """A unit with a fail that stands is not put on soak: it would only age."""
    for step in needed_for_release(job):
        last = latest(job, step)
        if step.kind != "soak" and last is not None and last.judgement.verdict == "fail":
            return Refusal("needs", f"{step.title} fails: a soak is for a unit that passes.", "Find the cause first.")
    return None


def _supply(job: Job, step: SoakStep, volts: str, amps: str, limit_light: bool) -> Refusal | None:
    supply = job.sequence.supplies[step.power]
    try:
        plausible = power.plausible(supply, quantity(volts, "V").value, quantity(amps, "A").value)
    except EntryFault as error:
        return Refusal("entry", str(error), "Give what the supply's display shows.")
    if limit_light or not plausible:
        return Refusal("power", "That is not a supply at rest on this unit.", "Switch off and make safe.")
    return None


def _witness(step: SoakStep, witness: str | None) -> Refusal | None:
    if step.continuity is not None and step.continuous and not (witness or "").strip():
        return Refusal(
            "entry", f"What shows that power stays on is not read: {step.continuity}.", "Read it and enter it."
        )
    return _unitless(witness)


def _unitless(text: str | None) -> Refusal | None:
    """A bare number might be hours or minutes."""
    try:
        bare = text is not None and bool(text.strip()) and parse_quantity(text).unit == ""
    except QuantityError:
        bare = False
    return Refusal("entry", f"{text} of what?", "Write the unit, such as 1204.6 h.") if bare else None


def _surroundings(step: SoakStep, ambient: str | None) -> Refusal | None:
    if step.ambient is None:
        return None
    if not (ambient or "").strip():
        return Refusal("entry", "The ambient temperature is missing.", f"{step.ambient.words()} is asked for.")
    try:
        found = quantity(ambient or "", step.ambient.unit)
    except EntryFault as error:
        return Refusal("entry", str(error), "Give the temperature beside the unit.")
    if not step.ambient.holds(found.value):
        return Refusal(
            "entry", f"Ambient {found.text} is not {step.ambient.words()}: nothing would count.", "Move the unit."
        )
    return None


def _alone(job: Job, step: SoakStep, facts: tuple[str, ...]) -> Refusal | None:
    """A soak is left alone only where the sequence allows it, and with its four facts said."""
    if not facts:
        return None
    live = job.sequence.supplies[step.power].supply_class == "hazardous-live"
    if live and not step.enclosed:
        return Refusal("person", "Hazardous-live parts in the open are not left alone.", "Stay with it, or enclose it.")
    if not step.unattended:
        return Refusal("person", "The sequence doesn't allow this soak to be left alone.", "Stay with it.")
    missing = [ask for ask, given in zip(ALONE_ASKS, (*facts, "", "", "", ""), strict=False) if not given.strip()]
    if missing or len(facts) > len(ALONE_ASKS):
        return Refusal("entry", f"Before it is left alone say {', '.join(missing)}.", "All four are needed.")
    return None


def _readable(step: SoakStep, seen: Seen) -> Refusal | None:
    try:
        quantity(seen.volts, "V"), quantity(seen.amps, "A")
        if step.ambient is not None:
            quantity(seen.ambient or "", step.ambient.unit)
    except EntryFault as error:
        return Refusal("entry", str(error), "Give what the display shows.")
    return _unitless(seen.continuity)


def _wrong(job: Job, step: SoakStep, leg: SoakLeg, seen: Seen) -> str | None:
    if read_serial(seen.serial) != job.serial:
        return f"the unit on this place reads {seen.serial.strip() or 'nothing'}, not {job.serial}"
    refusal = _supply(job, step, seen.volts, seen.amps, seen.limit_light)
    begun = quantity(leg.looks[0].volts, "V").value
    if refusal is None and abs(quantity(seen.volts, "V").value - begun) > SAME_SUPPLY * begun:
        return f"the supply shows {seen.volts}, and the soak was begun on {leg.looks[0].volts}"
    light = ", limit light on" if seen.limit_light else ""
    return None if refusal is None else f"the supply shows {seen.volts}, {seen.amps}{light}: not a unit at rest on soak"


def _tidy(text: str | None) -> str | None:
    return text.strip() or None if text is not None else None
