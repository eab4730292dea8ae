"""May this step be tried now, and what does the try amount to?"""

from dataclasses import replace
from datetime import datetime

from passcheck.job import cautions, power
from passcheck.job import events as happened
from passcheck.job.answers import Answer, ReadingAnswer, TapPairsAnswer, TapRowsAnswer
from passcheck.job.commands import Attempt, Refusal, VoidAttempt
from passcheck.job.decide_power import power_refusal
from passcheck.job.decide_soak import look_refusal_of, undone_with
from passcheck.job.deriving import attempts_behind, operands_of
from passcheck.job.doubt import earlier_answers, hold
from passcheck.job.entry import EntryFault
from passcheck.job.events import Event, InstrumentInUse
from passcheck.job.instruments import accuracy_in, instrument_for, overdue, taken_up
from passcheck.job.judging import instrument_role, is_derived, judge_answer, judge_worked_out, needs_accuracy
from passcheck.job.late_entry import day_read
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.permission import identified, people_refusal, run_and_step, unplugged_refusal
from passcheck.job.standing import unmet_needs
from passcheck.job.state import Job, Run
from passcheck.job.steps import is_powered
from passcheck.job.tapped import beside, judged_by_taps
from passcheck.judge.judgement import Judgement
from passcheck.judge.quantity import six
from passcheck.sequence.model import Derive, ReadingStep, Step

Answered = tuple[Event, ...] | Refusal


def step_refusal(job: Job, step: Step, person: str, run: Run, moment: Moment, outside: Outside) -> Refusal | None:
    """Why this step may not be tried now, or None. The bench screen asks this before it opens an entry."""
    if run.purpose == "burn-in" and (closed := look_refusal_of(job, step)) is not None:
        return closed
    forbidden = _step_refusal(job, step, person, run, moment, outside)
    if forbidden is None and run.purpose == "burn-in" and step.kind == "soak":
        return Refusal("soak", "The unit has power and is not on soak yet.", "Start the soak.")
    return forbidden


def _step_refusal(job: Job, step: Step, person: str, run: Run, moment: Moment, outside: Outside) -> Refusal | None:
    if is_powered(step):
        on = power.at_power_now(job, moment)
        forbidden = power_refusal(job, step, person, moment) or people_refusal(job, step, person, run, outside)
        if forbidden is not None:
            return forbidden
        if step.power not in on:
            return Refusal(
                "power", f"Supply {step.power} is not told on.", "Switch it on and tell what its display shows."
            )
        return None
    return _unpowered_refusal(job, step, person, moment)


def _unpowered_refusal(job: Job, step: Step, person: str, moment: Moment) -> Refusal | None:
    guards = unmet_needs(job, step)
    if guards:
        return Refusal("needs", f"{guards[0].title} has not passed: it comes first.", "Walk it first.")
    if (out := unplugged_refusal(job, step, moment)) is not None:
        return out
    if (unsafe := touch_refusal(job, moment) if step.touches else look_refusal(job, moment)) is not None:
        return unsafe
    open_ones = cautions.outstanding(job, step, person, moment)
    if open_ones:
        return Refusal(
            "caution", f"{open_ones[0].caution.signal}: {open_ones[0].caution.hazard}", "Answer the caution."
        )
    return None


def touch_refusal(job: Job, moment: Moment) -> Refusal | None:
    """Hands and probes go near an unpowered unit only when every supply is off and the points were proved dead."""
    for name, state in power.told(job, moment).items():
        if state != "off":
            return Refusal("power", f"Supply {name}: told {state}.", "Make safe first.")
    if not power.proved_dead(job):
        return Refusal("power", "The unit was not proved dead since it was last powered.", "Make safe first.")
    return None


def look_refusal(job: Job, moment: Moment) -> Refusal | None:
    """Nobody bends over a unit of which nothing is known: even a look waits until the supplies are known."""
    unknown = power.unknown_now(job, moment)
    return Refusal("power", f"Supply {unknown[0]}: told unknown.", "Make safe first.") if unknown else None


def attempt(job: Job, command: Attempt, moment: Moment, outside: Outside) -> Answered:
    """Judge a try; an answer outside its limits is asked for once more before it is kept."""
    found = run_and_step(job, command.step)
    if isinstance(found, Refusal):
        return found
    run, step = found
    refusal = (
        step_refusal(job, step, command.by, run, moment, outside)
        if command.measured_at is None
        else _late_refusal(job, step, command, run, moment, outside)
    )
    if refusal is not None:
        return refusal
    if (stranger := _second_refusal(command, outside)) is not None:
        return stranger
    if isinstance(command.answer, TapPairsAnswer | TapRowsAnswer):
        return _tapped(job, step, command, run, moment, outside)
    used = _instrument(job, step, command, run, moment, outside)
    if isinstance(used, Refusal):
        return used
    try:
        judged = _judged(job, run, step, command.answer, used)
    except EntryFault as error:
        return Refusal("entry", str(error), "Enter it again.")
    twice = False if is_derived(step) else _typed_twice(command, judged)
    if isinstance(twice, Refusal):
        return twice
    return _with_its_end(job, step, run, _event(job, command, run, used, judged, typed_twice=twice))


def _with_its_end(job: Job, step: Step, run: Run, event: happened.AttemptJudged) -> tuple[Event, ...]:
    """A look at a soaking unit that fails ends the soak there and then."""
    leg = job.open_soak
    if run.purpose != "burn-in" or leg is None or event.judgement.verdict != "fail":
        return (event,)
    return (event, happened.SoakInterrupted(leg.step, f"{step.title} failed"))


def _tapped(job: Job, step: Step, command: Attempt, run: Run, moment: Moment, outside: Outside) -> Answered:
    """Taps are measured here and never typed, so nothing is asked for twice."""
    stands = beside(job, run, step, command.by, moment, outside)
    if isinstance(stands, Refusal):
        return stands
    try:
        judged = judged_by_taps(job, step, command, stands)
    except EntryFault as error:
        return Refusal("entry", str(error), "Tap the step anew.")
    event = _event(job, command, run, None, judged, typed_twice=False)
    if stands.reference is None:
        return _with_its_end(job, step, run, event)
    latency = stands.latency.latency
    with_it = replace(event, latency_s=six(latency.value_s), latency_u_s=six(latency.u_s))
    return _with_its_end(job, step, run, replace(with_it, reference=stands.reference.number))


def _second_refusal(command: Attempt, outside: Outside) -> Refusal | None:
    """A second person who saw it is known here, brings the PIN, and isn't the one who tested."""
    if command.second is None:
        return None
    if command.second == command.by:
        return Refusal("person", "The second person is the one who tests.", "Another person is needed.")
    return identified(command.second, command.second_pin, outside)


def _judged(job: Job, run: Run, step: Step, answer: Answer, used: InstrumentInUse | None) -> Judgement:
    if isinstance(step, ReadingStep) and step.derive is not None:
        return _worked_out(job, run, step, step.derive, answer)
    if used is None:
        return judge_answer(step, answer, None)
    accuracy = accuracy_in(run, used)
    alone = judge_answer(step, answer, accuracy)
    earlier = earlier_answers(job, step, used.instrument)
    if alone.verdict in ("fail", "not measured") or not earlier:
        return hold(job, step, used.instrument, alone)  # a fail is not averaged away
    together = judge_answer(step, answer, accuracy, earlier)
    asked_twice = alone.outside or together.outside
    return hold(job, step, used.instrument, replace(together, outside=asked_twice))


def _worked_out(job: Job, run: Run, step: Step, derive: Derive, answer: Answer) -> Judgement:
    """The two readings may be read again; what they left in doubt then stays so, unless they are clearly better."""
    both = attempts_behind(job, run, derive)
    judged = judge_worked_out(step, answer, operands_of(both, lambda used: accuracy_in(run, used)))
    names = sorted({one.instrument.instrument for one in both if one.instrument is not None})
    return hold(job, step, " with ".join(names), judged)


def _typed_twice(command: Attempt, judged: Judgement) -> bool | Refusal:
    """Only what lies outside its limits is asked for twice: a slip of the finger must not become a fault."""
    if not judged.outside or judged.verdict == "not measured":
        return False
    if command.again is None:
        return Refusal("type again", f"Outside its limits. {judged.sentence}", "Look again and enter it once more.")
    if command.again != command.answer:
        return Refusal("entry", "The two entries differ; neither was kept.", "Measure again and enter what you see.")
    return True


def _instrument(
    job: Job, step: Step, command: Attempt, run: Run, moment: Moment, outside: Outside
) -> InstrumentInUse | Refusal | None:
    if not needs_accuracy(step):
        return None
    role = instrument_role(step)
    if role is None:
        return Refusal("instrument", f"The sequence names no instrument for {step.title}.", "Mend the sequence file.")
    used = _named(job, role, command, run, outside)
    if isinstance(used, Refusal):
        return used
    if is_powered(step) and overdue(used, day_read(command.measured_at, moment)):
        return Refusal(
            "instrument", f"{used.instrument} is overdue since {used.due}.", "Use an instrument that is in date."
        )
    return used


def _named(job: Job, role: str, command: Attempt, run: Run, outside: Outside) -> InstrumentInUse | Refusal:
    """The instrument that was named, or the one that the run took up.

    A late entry has it as the run took it up, for bench.yaml may hold a later calibration than that of the reading.
    """
    taken = taken_up(run, role)
    late = command.measured_at is not None and taken is not None and taken.instrument == command.instrument
    if command.instrument is not None and not late:
        return instrument_for(job, role, command.instrument, outside)
    return taken or Refusal("instrument", f"This run took up no {role}.", "Name the instrument.")


def _late_refusal(job: Job, step: Step, command: Attempt, run: Run, moment: Moment, outside: Outside) -> Refusal | None:
    """A reading written down earlier may be entered late, if the step was allowed at that time; taps never may."""
    if not isinstance(command.answer, ReadingAnswer) or step.kind != "reading":
        return Refusal("entry", "Only readings may be entered late.", "Walk the step now.")
    try:
        when = datetime.fromisoformat(command.measured_at or "")
    except ValueError:
        return Refusal("entry", "That is no time.", "Give when it was measured, such as 2031-04-02T14:10Z.")
    if when.tzinfo is None or not run.started.utc <= when <= moment.utc:
        return Refusal("entry", "A late entry lies between the start of the run and now.", "Give when it was measured.")
    if any(change.moment.utc >= when for change in job.changes):
        return Refusal("order", "The unit was worked on after that.", "Walk the step now.")
    if is_powered(step) and not _was_on(job, step.power, when):
        return Refusal("power", f"Supply {step.power} was not told on at that time.", "Walk the step now.")
    if not is_powered(step) and step.touches and not power.dead_at(job, when):
        return Refusal("power", "The unit was not told off and proved dead at that time.", "Walk the step now.")
    if (stranger := people_refusal(job, step, command.by, run, outside)) is not None:
        return stranger
    guards = unmet_needs(job, step)
    return Refusal("needs", f"{guards[0].title} has not passed.", "Walk it first.") if guards else None


def _was_on(job: Job, supply: str, when: datetime) -> bool:
    told = [change for change in job.power if change.supply == supply and change.moment.utc <= when]
    return bool(told) and told[-1].told == "on"


def _event(
    job: Job, command: Attempt, run: Run, used: InstrumentInUse | None, judged: Judgement, *, typed_twice: bool
) -> happened.AttemptJudged:
    return happened.AttemptJudged(
        attempt=len(job.attempts) + 1,
        run=run.number,
        step=command.step,
        answer=command.answer,
        judgement=judged,
        instrument=used,
        note=command.note.strip(),
        photos=command.photos,
        second=command.second,
        measured_at=command.measured_at,
        conditions=tuple(dict.fromkeys(words.strip() for words in command.conditions if words.strip())),
        typed_twice=typed_twice,
    )


def void_attempt(job: Job, command: VoidAttempt) -> Answered:
    """Withdraw an attempt with its reason; it stays readable and is printed."""
    chosen = next((one for one in job.attempts if one.number == command.attempt), None)
    if chosen is None:
        return Refusal("entry", f"There is no attempt {command.attempt}.", "Choose one from the traveller.")
    if chosen.void is not None and chosen.void.bench_cause:
        return Refusal("order", f"Attempt {command.attempt} is void already.", "Nothing needs doing.")
    if not command.reason.strip():
        return Refusal("entry", "A void needs its reason.", "Say why the attempt is withdrawn.")
    cause, gone = (command.bench_cause or "").strip(), (command.shown_gone or "").strip()
    if bool(cause) != bool(gone):
        return Refusal(
            "entry", "A bench cause counts only when it was shown gone.", "Name the cause and how it was shown gone."
        )
    voided = happened.AttemptVoided(command.attempt, command.reason.strip(), cause or None, gone or None)
    return (voided, *undone_with(job, chosen, voided))
