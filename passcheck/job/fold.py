"""What does a job become when one more event is known?

The fold is complete: it ends in `assert_never`, so a new event that nobody folds is a type error. It never judges
again: a judgement is taken as it was recorded.
"""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import assert_never

from passcheck.errors import FileFault
from passcheck.job import events as happened
from passcheck.job import fold_soak
from passcheck.job.history import changed, exchanged, finished, grown, latest, under_way
from passcheck.job.left_by_rework import left_behind, still_fitted
from passcheck.job.moment import Measured
from passcheck.job.revising import revision_change
from passcheck.job.state import (
    Acknowledged,
    Agreement,
    Attempt,
    Change,
    ChangeKind,
    Ending,
    Fitted,
    Job,
    Jotting,
    Left,
    Note,
    PowerChange,
    Proposal,
    PutBack,
    Recorded,
    Reference,
    Run,
    SoakLeg,
    Timing,
    Told,
)
from passcheck.job.uncollected import uncollected
from passcheck.sequence.model import Sequence

ReadSequence = Callable[[str], Sequence]
SHORTING_LEAD = "shorting lead"


def fold(recorded: Iterable[Recorded], read_sequence: ReadSequence) -> Job:
    """The job that these events make.

    Args:
        recorded: all events of one journal, in order.
        read_sequence: turns a sequence's text into the model (given by whoever may read YAML).

    Raises:
        FileFault: there is no event, or the first is not `JobOpened`.
    """
    every = iter(recorded)
    with uncollected():
        first = next(every, None)
        if first is None:
            raise FileFault("the journal holds no event: there is no job in it")
        job = under_way(opened(first, read_sequence))
        for one in every:
            job = evolve(job, one, read_sequence)
        return finished(job)


def opened(first: Recorded, read_sequence: ReadSequence) -> Job:
    """The job as its first event leaves it: stored energy makes power unknown before anything is touched."""
    facts = first.event
    if not isinstance(facts, happened.JobOpened):
        raise FileFault("the journal doesn't begin with the opening of a job")
    sequence = read_sequence(facts.sequence_text)
    told: Told = "unknown" if sequence.stored_energy else "off"
    power = tuple(PowerChange(first.number, supply, told, first.moment) for supply in sequence.supplies)
    return Job(
        facts=facts,
        sequence=sequence,
        sequence_digest=facts.sequence_digest,
        opened=first.moment,
        opened_by=first.by,
        last=first.moment,
        lines=1,
        measured=Measured(first.moment.boottime_ms, first.moment.boot_id),
        holder=first.by,
        power=power,
        told=power,
        made_safe_line=None if sequence.stored_energy else first.number,
    )


def evolve(job: Job, one: Recorded, read_sequence: ReadSequence) -> Job:
    """The job after one more event."""
    measured = job.measured.on(one.moment)
    now = changed(_after_absence(job, one), measured=measured, last=one.moment, lines=job.lines + 1)
    return _after(now, one, read_sequence)


def _after_absence(job: Job, one: Recorded) -> Job:
    """What a long absence leaves: power that was told on is unknown, and cautions are asked for again."""
    if not one.moment.absent_since(job.last):
        return job
    before = replace(one, number=one.number - 1)  # the absence came before the event that ends it
    return changed(_lost(job, before), alerts=grown(job, job.alerts, before.number))


def _after(job: Job, one: Recorded, read_sequence: ReadSequence) -> Job:  # noqa: PLR0912 - one row an event
    event, line = one.event, one.number
    match event:
        case happened.AttemptJudged():  # the most frequent, so the first that is looked for
            return _attempted(job, one, event)
        case happened.JobOpened():
            raise FileFault("the journal opens a second job")
        case happened.ComplaintMapped():
            return changed(job, symptoms=event.symptoms, conditions=event.conditions)
        case happened.RunStarted():
            run = Run(event.run, line, event.purpose, one.moment, one.by, event)
            return changed(job, runs=grown(job, job.runs, run))
        case happened.CautionAcknowledged():
            return changed(
                job, acknowledged=grown(job, job.acknowledged, Acknowledged(line, one.by, one.moment, event))
            )
        case happened.Energised():
            return _told(job, one, (event.supply,), "on", event.volts, event.current_limit)
        case happened.SupplyRead():
            return _told(job, one, (event.supply,), "on", event.volts) if event.restored else job
        case happened.PowerTold(told="on"):
            return job  # a sign of life: what was told stays, and time begins anew
        case happened.PowerTold(told="cycled"):
            return fold_soak.cycled(job, line)
        case happened.PowerTold():
            return _told(job, one, event.supplies, "off" if event.told == "off" else "unknown")
        case happened.MadeSafe():
            return _made_safe(job, one, event)
        case happened.AttemptVoided():
            return _voided(job, event)
        case happened.TimingBegun():
            return changed(_broken_off(job, "begun again"), timing=Timing(event.step, line, one.by))
        case happened.TimingInterrupted():
            return _broken_off(job, event.why)
        case happened.ReferenceTapped():
            block = Reference(event.block, line, event.run, one.by, one.moment, event)
            return changed(job, references=grown(job, job.references, block))
        case happened.NoteAdded():
            note = Note(line, event.text, event.step, event.photos, one.by, one.moment)
            return changed(job, notes=grown(job, job.notes, note))
        case happened.IncidentReported():
            after = _changed(job, one, "incident", event.incident, event.blocks, event.what)
            return changed(after, open_incidents=grown(job, job.open_incidents, event.incident))
        case happened.ReworkLogged():
            return _reworked(job, one, event)
        case happened.CaseOpened():
            return _changed(job, one, "case opened", _count(job, "case opened"), (), event.why)
        case happened.ChangeUndone():
            return _put_back(job, one, event)
        case happened.SoakStarted():
            after = _told(job, one, (event.supply,), "soaking", event.volts)
            return fold_soak.started(after, one, event)
        case happened.SoakChecked():
            return fold_soak.looked_at(job, one, event)
        case happened.SoakInterrupted():
            soaking = tuple(name for name, told in told_now(job).items() if told.told == "soaking")
            return _told(fold_soak.ended(job, line, event.why), one, soaking, "unknown")
        case happened.HandedOver():
            return changed(job, holder=event.to, alerts=grown(job, job.alerts, line))
        case happened.Resumed():
            return changed(_broken_off(_lost(job, one), "the program ended"), alerts=grown(job, job.alerts, line))
        case happened.RunClosed():
            return _closed(_broken_off(job, "the run was closed"), event)
        case happened.SignOffRefused():
            return changed(job, refused=event.blockers)
        case happened.SignedOff():
            return _ended(job, one, "signed off", event)
        case happened.ReturnedUnrepaired():
            return _ended(job, one, "returned unrepaired", event)
        case happened.ReturnedInPart():
            return _ended(job, one, "returned repaired in part", event)
        case happened.WorkProposed():
            proposal = Proposal(event.lines, one.by, one.moment, line)
            return changed(job, proposed=grown(job, job.proposed, proposal))
        case happened.OwnerAgreed():
            agreement = Agreement(event.scope, event.who, one.by, one.moment, line)
            return changed(job, agreed=grown(job, job.agreed, agreement))
        case happened.Jotted():
            jotting = Jotting(event.point, event.value, event.meter, one.by, one.moment)
            return changed(job, jottings=grown(job, job.jottings, jotting))
        case happened.SequenceRevised():
            return _revised(job, one, event, read_sequence(event.sequence_text))
        case happened.Mended() | happened.Moved():
            return job
        case happened.Unrecognised():
            return changed(job, unrecognised=grown(job, job.unrecognised, event))
        case _:
            assert_never(event)


def told_now(job: Job) -> dict[str, PowerChange]:
    """The latest that was told of each supply; the passing of time is not looked at (see `power.py`)."""
    return {change.supply: change for change in job.told}


def _told(
    job: Job, one: Recorded, supplies: tuple[str, ...], told: Told, volts: str = "", current_limit: str = ""
) -> Job:
    changes = [PowerChange(one.number, name, told, one.moment, volts, current_limit) for name in supplies]
    leg = job.open_soak
    if leg is not None and leg.supply in supplies and told != "soaking":
        job = fold_soak.ended(job, one.number, f"the supply was told {told}")
    latest_told = told_now(job) | {change.supply: change for change in changes}
    return changed(job, power=grown(job, job.power, *changes), told=tuple(latest_told.values()))


def _lost(job: Job, one: Recorded) -> Job:
    """Nothing may be believed any more of the supplies that were told on."""
    return _told(job, one, tuple(name for name, told in told_now(job).items() if told.told == "on"), "unknown")


def _voided(job: Job, event: happened.AttemptVoided) -> Job:
    """A soak check that failed by the bench's own fault, shown gone, revokes nothing."""
    place = latest(job.attempts, lambda attempt: attempt.number == event.attempt)
    if place is None:
        return job
    attempt = job.attempts[place]
    after = changed(job, attempts=exchanged(job, job.attempts, place, replace(attempt, void=event)))
    if not (event.bench_cause and event.shown_gone):
        return after
    changes = (it for it in job.changes if not (it.kind == "failed soak check" and it.line == attempt.line))
    return changed(after, changes=tuple(changes))


def _closed(job: Job, event: happened.RunClosed) -> Job:
    place = latest(job.runs, lambda run: run.number == event.run)
    if place is None:
        return job
    closed = replace(job.runs[place], outcome=event.outcome)
    return changed(job, runs=exchanged(job, job.runs, place, closed))


def _broken_off(job: Job, why: str) -> Job:
    """Taps that were begun and never judged came to nothing."""
    if job.timing is None:
        return job
    return changed(job, timing=None, broken_off=grown(job, job.broken_off, replace(job.timing, broken_off=why)))


def _made_safe(job: Job, one: Recorded, event: happened.MadeSafe) -> Job:
    after = changed(_told(job, one, tuple(job.sequence.supplies), "off"), made_safe_line=one.number)
    if not event.shorting_lead or any(it.change == SHORTING_LEAD for it in job.fitted):
        return after
    where = ", ".join(point.at for point in event.points) or "the supply's terminals"
    lead = Fitted(SHORTING_LEAD, f"shorting lead at {where}", one.number, forbids_power=True)
    return changed(after, fitted=grown(job, job.fitted, lead))


def _attempted(job: Job, one: Recorded, event: happened.AttemptJudged) -> Job:
    last = job.runs[-1]
    run = last if last.number == event.run else next(one for one in reversed(job.runs) if one.number == event.run)
    attempt = Attempt(
        number=event.attempt,
        line=one.number,
        run=event.run,
        purpose=run.purpose,
        revision=job.sequence.revision,
        step=event.step,
        answer=event.answer,
        judgement=event.judgement,
        instrument=event.instrument,
        note=event.note,
        photos=event.photos,
        by=one.by,
        second=event.second,
        moment=one.moment,
        measured_at=event.measured_at,
        typed_twice=event.typed_twice,
        latency_s=event.latency_s,
        latency_u_s=event.latency_u_s,
        reference=event.reference,
        measured_ms=job.measured.total_ms,
        conditions=event.conditions,
    )
    timing = None if job.timing is not None and job.timing.step == event.step else job.timing
    after = changed(job, attempts=grown(job, job.attempts, attempt), timing=timing)
    if job.open_soak is not None and attempt.purpose == "burn-in":
        after = _walked_on_soak(after, one, event, job.open_soak)
    words = job.sequence.step(event.step).restore
    if words is None or any(it.change == event.step for it in job.fitted):
        return after
    return changed(after, fitted=grown(job, job.fitted, Fitted(event.step, words, one.number)))


def _walked_on_soak(job: Job, one: Recorded, event: happened.AttemptJudged, leg: SoakLeg) -> Job:
    """The soak's own step ends it; a step of a look that fails revokes what stood before it."""
    if event.step == leg.step:
        return _told(fold_soak.ended(job, one.number, "walked to its end"), one, (leg.supply,), "on")
    if event.judgement.verdict != "fail":
        return job
    title = job.sequence.step(event.step).title
    lost = _told(fold_soak.ended(job, one.number, f"{title} failed"), one, (leg.supply,), "unknown")
    return _changed(lost, one, "failed soak check", _count(job, "failed soak check"), (), title)


def _reworked(job: Job, one: Recorded, event: happened.ReworkLogged) -> Job:
    """It may answer an incident, put right what an earlier rework left, and leave something itself."""
    change = Change(
        one.number,
        "rework",
        event.rework,
        event.blocks,
        event.reason,
        one.moment,
        one.by,
        firmware=event.action == "firmware",
        repair=event.repair,
    )
    left = left_behind(event, one.number)
    after = _with_change(job, change)
    return changed(
        after,
        reworks=grown(job, job.reworks, event),
        open_incidents=tuple(number for number in job.open_incidents if number != event.incident),
        fitted=(*still_fitted(job.fitted, event), *((left,) if left is not None else ())),
    )


def _changed(
    job: Job,
    one: Recorded,
    kind: ChangeKind,
    number: int,
    blocks: tuple[str, ...],
    words: str,
) -> Job:
    return _with_change(job, Change(one.number, kind, number, blocks, words, one.moment, one.by))


def _with_change(job: Job, change: Change) -> Job:
    return changed(job, changes=grown(job, job.changes, change), alerts=grown(job, job.alerts, change.line))


def _revised(job: Job, one: Recorded, event: happened.SequenceRevised, sequence: Sequence) -> Job:
    """Supplies that are new are off, as all are now; points that are new were never proved dead."""
    change = revision_change(job, sequence, one.number, one.moment, one.by, event.why)
    added = tuple(name for name in sequence.supplies if name not in job.sequence.supplies)
    known = {place.at for place in job.sequence.stored_energy}
    unproved = any(place.at not in known for place in sequence.stored_energy)
    after = changed(
        job, sequence=sequence, sequence_digest=event.sequence_digest, changes=grown(job, job.changes, change)
    )
    if unproved:
        return _told(after, one, tuple(sequence.supplies), "unknown")
    return _told(after, one, added, "off") if added else after


def _put_back(job: Job, one: Recorded, event: happened.ChangeUndone) -> Job:
    """It leaves the list of what is still on the unit; what was done stays told."""
    words = next((it.words for it in job.fitted if it.change == event.change), event.change)
    fitted = tuple(it for it in job.fitted if it.change != event.change)
    back = PutBack(words, event.how, one.by, one.moment)
    return changed(job, fitted=fitted, put_back=grown(job, job.put_back, back))


def _ended(job: Job, one: Recorded, ending: Ending, facts: Left) -> Job:
    return changed(job, ended=ending, ended_by=one.by, left=facts)


def _count(job: Job, kind: ChangeKind) -> int:
    return 1 + sum(change.kind == kind for change in job.changes)
