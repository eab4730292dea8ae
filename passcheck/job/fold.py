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
    Note,
    PowerChange,
    Recorded,
    Reference,
    Run,
    SoakLeg,
    Timing,
    Told,
)
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
    job: Job | None = None
    for one in recorded:
        job = opened(one, read_sequence) if job is None else evolve(job, one, read_sequence)
    if job is None:
        raise FileFault("the journal holds no event: there is no job in it")
    return job


def opened(first: Recorded, read_sequence: ReadSequence) -> Job:
    """The job as its first event leaves it: stored energy makes power unknown before anything is touched."""
    facts = first.event
    if not isinstance(facts, happened.JobOpened):
        raise FileFault("the journal doesn't begin with the opening of a job")
    sequence = read_sequence(facts.sequence_text)
    told: Told = "unknown" if sequence.stored_energy else "off"
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
        power=tuple(PowerChange(first.number, supply, told, first.moment) for supply in sequence.supplies),
        made_safe_line=None if sequence.stored_energy else first.number,
    )


def evolve(job: Job, one: Recorded, read_sequence: ReadSequence) -> Job:
    """The job after one more event."""
    measured = job.measured.on(one.moment)
    now = replace(_after_absence(job, one), measured=measured, last=one.moment, lines=job.lines + 1)
    return _after(now, one, read_sequence)


def _after_absence(job: Job, one: Recorded) -> Job:
    """What a long absence leaves: power that was told on is unknown, and cautions are asked for again."""
    if not one.moment.absent_since(job.last):
        return job
    before = replace(one, number=one.number - 1)  # the absence came before the event that ends it
    return replace(_lost(job, before), alerts=(*job.alerts, before.number))


def _after(job: Job, one: Recorded, read_sequence: ReadSequence) -> Job:  # noqa: PLR0912 - one row an event
    event, line = one.event, one.number
    match event:
        case happened.JobOpened():
            raise FileFault("the journal opens a second job")
        case happened.ComplaintMapped():
            return replace(job, symptoms=event.symptoms, conditions=event.conditions)
        case happened.RunStarted():
            run = Run(event.run, line, event.purpose, one.moment, one.by, event)
            return replace(job, runs=(*job.runs, run))
        case happened.CautionAcknowledged():
            return replace(job, acknowledged=(*job.acknowledged, Acknowledged(line, one.by, one.moment, event)))
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
        case happened.AttemptJudged():
            return _attempted(job, one, event)
        case happened.AttemptVoided():
            return _voided(job, event)
        case happened.TimingBegun():
            return replace(_broken_off(job, "begun again"), timing=Timing(event.step, line, one.by))
        case happened.TimingInterrupted():
            return _broken_off(job, event.why)
        case happened.ReferenceTapped():
            block = Reference(event.block, line, event.run, one.by, one.moment, event)
            return replace(job, references=(*job.references, block))
        case happened.NoteAdded():
            note = Note(line, event.text, event.step, event.photos, one.by, one.moment)
            return replace(job, notes=(*job.notes, note))
        case happened.IncidentReported():
            after = _changed(job, one, "incident", event.incident, event.blocks, event.what)
            return replace(after, open_incidents=(*job.open_incidents, event.incident))
        case happened.ReworkLogged():
            return _reworked(job, one, event)
        case happened.CaseOpened():
            return _changed(job, one, "case opened", _count(job, "case opened"), (), event.why)
        case happened.ChangeUndone():
            return replace(job, fitted=tuple(it for it in job.fitted if it.change != event.change))
        case happened.SoakStarted():
            after = _told(job, one, (event.supply,), "soaking", event.volts)
            return fold_soak.started(after, one, event)
        case happened.SoakChecked():
            return fold_soak.looked_at(job, one, event)
        case happened.SoakInterrupted():
            soaking = tuple(name for name, told in told_now(job).items() if told.told == "soaking")
            return _told(fold_soak.ended(job, line, event.why), one, soaking, "unknown")
        case happened.HandedOver():
            return replace(job, holder=event.to, alerts=(*job.alerts, line))
        case happened.Resumed():
            return replace(_broken_off(_lost(job, one), "the program ended"), alerts=(*job.alerts, line))
        case happened.RunClosed():
            runs = (replace(run, outcome=event.outcome) if run.number == event.run else run for run in job.runs)
            return replace(_broken_off(job, "the run was closed"), runs=tuple(runs))
        case happened.SignOffRefused():
            return replace(job, refused=event.blockers)
        case happened.SignedOff():
            return _ended(job, one, "signed off")
        case happened.ReturnedUnrepaired():
            return _ended(job, one, "returned unrepaired")
        case happened.ReturnedInPart():
            return _ended(job, one, "returned repaired in part")
        case happened.OwnerAgreed():
            agreement = Agreement(event.scope, event.who, one.by, one.moment)
            return replace(job, agreed=(*job.agreed, agreement))
        case happened.Jotted():
            jotting = Jotting(event.point, event.value, event.meter, one.by, one.moment)
            return replace(job, jottings=(*job.jottings, jotting))
        case happened.SequenceRevised():
            return _revised(job, one, event, read_sequence(event.sequence_text))
        case happened.Mended() | happened.Moved():
            return job
        case happened.Unrecognised():
            return replace(job, unrecognised=(*job.unrecognised, event))
        case _:
            assert_never(event)


def told_now(job: Job) -> dict[str, PowerChange]:
    """The latest that was told of each supply; the passing of time is not looked at (see `power.py`)."""
    return {change.supply: change for change in job.power}


def _told(
    job: Job, one: Recorded, supplies: tuple[str, ...], told: Told, volts: str = "", current_limit: str = ""
) -> Job:
    changes = (PowerChange(one.number, name, told, one.moment, volts, current_limit) for name in supplies)
    leg = job.open_soak
    if leg is not None and leg.supply in supplies and told != "soaking":
        job = fold_soak.ended(job, one.number, f"the supply was told {told}")
    return replace(job, power=(*job.power, *changes))


def _lost(job: Job, one: Recorded) -> Job:
    """Nothing may be believed any more of the supplies that were told on."""
    return _told(job, one, tuple(name for name, told in told_now(job).items() if told.told == "on"), "unknown")


def _voided(job: Job, event: happened.AttemptVoided) -> Job:
    """A soak check that failed by the bench's own fault, shown gone, revokes nothing."""
    kept = tuple(replace(a, void=event) if a.number == event.attempt else a for a in job.attempts)
    lines = {a.line for a in kept if a.number == event.attempt and event.bench_cause and event.shown_gone}
    changes = tuple(it for it in job.changes if not (it.kind == "failed soak check" and it.line in lines))
    return replace(job, attempts=kept, changes=changes)


def _broken_off(job: Job, why: str) -> Job:
    """Taps that were begun and never judged came to nothing."""
    if job.timing is None:
        return job
    return replace(job, timing=None, broken_off=(*job.broken_off, replace(job.timing, broken_off=why)))


def _made_safe(job: Job, one: Recorded, event: happened.MadeSafe) -> Job:
    after = replace(_told(job, one, tuple(job.sequence.supplies), "off"), made_safe_line=one.number)
    if not event.shorting_lead or any(it.change == SHORTING_LEAD for it in job.fitted):
        return after
    where = ", ".join(point.at for point in event.points) or "the supply's terminals"
    lead = Fitted(SHORTING_LEAD, f"shorting lead at {where}", one.number, forbids_power=True)
    return replace(after, fitted=(*job.fitted, lead))


def _attempted(job: Job, one: Recorded, event: happened.AttemptJudged) -> Job:
    run = next(run for run in reversed(job.runs) if run.number == event.run)
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
    after = replace(job, attempts=(*job.attempts, attempt), timing=timing)
    if job.open_soak is not None and attempt.purpose == "burn-in":
        after = _walked_on_soak(after, one, event, job.open_soak)
    words = job.sequence.step(event.step).restore
    if words is None or any(it.change == event.step for it in job.fitted):
        return after
    return replace(after, fitted=(*job.fitted, Fitted(event.step, words, one.number)))


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
    return replace(
        after,
        reworks=(*job.reworks, event),
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
    return replace(job, changes=(*job.changes, change), alerts=(*job.alerts, change.line))


def _revised(job: Job, one: Recorded, event: happened.SequenceRevised, sequence: Sequence) -> Job:
    """Supplies that are new are off, as all are now; points that are new were never proved dead."""
    change = revision_change(job, sequence, one.number, one.moment, one.by, event.why)
    added = tuple(name for name in sequence.supplies if name not in job.sequence.supplies)
    known = {place.at for place in job.sequence.stored_energy}
    unproved = any(place.at not in known for place in sequence.stored_energy)
    after = replace(job, sequence=sequence, sequence_digest=event.sequence_digest, changes=(*job.changes, change))
    if unproved:
        return _told(after, one, tuple(sequence.supplies), "unknown")
    return _told(after, one, added, "off") if added else after


def _ended(job: Job, one: Recorded, ending: Ending) -> Job:
    return replace(job, ended=ending, ended_by=one.by)


def _count(job: Job, kind: ChangeKind) -> int:
    return 1 + sum(change.kind == kind for change in job.changes)
