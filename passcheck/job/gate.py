"""What still stands between this unit and the door?

`blockers` is the only thing that may say yes, and it says it by being empty. There is no override. The screen, the
command and the paper print this same tuple.
"""

from collections.abc import Callable
from dataclasses import dataclass

from passcheck.job import cautions, power
from passcheck.job.instruments import overdue
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.staleness import call, stale_by
from passcheck.job.standing import Unexplained, counting, failed_since, unexplained, withdrawn
from passcheck.job.state import Attempt, Job
from passcheck.job.steps import needed_for_release
from passcheck.sequence.model import Step
from passcheck.sequence.reach import group_of


@dataclass(frozen=True, slots=True)
class Blocker:
    """One reason against release.

    Attributes:
        sentence: the reason, as everybody reads it.
        lift: the act that lifts it.
        step: the step it leads to, or None.
    """

    sentence: str
    lift: str
    step: str | None = None


Question = Callable[[Job, Outside, Moment], tuple[Blocker, ...]]


def blockers(job: Job, outside: Outside, moment: Moment) -> tuple[Blocker, ...]:
    """Everything that stands against signing this unit off now; empty means go."""
    if job.ended is not None:
        return (Blocker(f"This job has ended: {job.ended}.", "Open a new job for the unit."),)
    return tuple(found for question in QUESTIONS for found in question(job, outside, moment))


def _steps(job: Job, _outside: Outside, _moment: Moment) -> tuple[Blocker, ...]:
    """Every step of acceptance and burn-in: blank, not measured, failed, in doubt, stale or unexplained."""
    return tuple(found for step in needed_for_release(job) if (found := _step(job, step)) is not None)


def _step(job: Job, step: Step) -> Blocker | None:
    attempt = counting(job, step)
    if attempt is None:
        return _blank(job, step)
    match attempt.judgement.verdict:
        case "fail":
            return Blocker(
                f"{step.title}: fails. {attempt.judgement.sentence}", "Find the cause, rework, walk it again.", step.id
            )
        case "in doubt":
            return Blocker(f"{step.title}: in doubt. {attempt.judgement.sentence}", "Use a better method.", step.id)
        case "not measured":
            return Blocker(f"{step.title}: not measured. {attempt.judgement.sentence}", "Measure it again.", step.id)
        case "pass":
            if (fail := failed_since(job, step)) is not None:
                return Blocker(
                    f"{step.title}: failed since it passed as left. {fail.judgement.sentence}",
                    "Find the cause, rework, walk it again.",
                    step.id,
                )
            open_question = unexplained(job, step)
            if open_question is not None and not open_question.explained:
                return Blocker(
                    _why_unexplained(step, open_question), "Walk the step again and note the cause.", step.id
                )
    return _papers_missing(job, step, attempt)


def _blank(job: Job, step: Step) -> Blocker:
    spoiled = [
        (attempt, change)
        for attempt in job.attempts
        if attempt.step == step.id and not withdrawn(attempt) and (change := stale_by(job, attempt)) is not None
    ]
    if spoiled:
        attempt, change = spoiled[-1]
        return Blocker(
            f"{step.title}: the {attempt.judgement.verdict} went stale with {call(change)}.", "Walk it again.", step.id
        )
    if step.kind == "soak":
        return Blocker(f"{step.title}: burn-in not done.", "Start the soak.", step.id)
    if any(attempt.step == step.id and attempt.purpose == "as-found" for attempt in job.attempts):
        return Blocker(f"{step.title}: blank as left; an as-found result never counts.", "Walk acceptance.", step.id)
    return Blocker(f"{step.title}: blank as left.", "Walk acceptance.", step.id)


def _why_unexplained(step: Step, question: Unexplained) -> str:
    seen = (
        f"failed {question.fails} of {question.tries} as found, and may only be hiding since the rework"
        if question.intermittent
        else f"failed {question.fails} of {question.tries}, then passed with no rework between"
    )
    missing = []
    if question.repeats_done < question.repeats_needed:
        missing.append(f"{question.repeats_done} of {question.repeats_needed} clean repeats done")
    if not question.noted:
        missing.append("no note says why")
    return f"{step.title}: the pass is unexplained ({seen}); {', '.join(missing)}."


def _papers_missing(job: Job, step: Step, attempt: Attempt) -> Blocker | None:
    noted = attempt.note or any(note.step == step.id and note.line > attempt.line for note in job.notes)
    pictured = attempt.photos or any(n.step == step.id and n.photos and n.line > attempt.line for n in job.notes)
    if step.note and not noted:
        return Blocker(f"{step.title}: the note it asks for is missing.", "Add the note.", step.id)
    if step.photo and not pictured:
        return Blocker(f"{step.title}: the photo it asks for is missing.", "Add the photo's path.", step.id)
    if step.witness and attempt.second is None:
        return Blocker(f"{step.title}: nobody else saw it.", "Walk it again with a second person.", step.id)
    if step.witness and attempt.second == attempt.by:
        return Blocker(f"{step.title}: the second person is the one who tested.", "Another person is needed.", step.id)
    return None


def _cautions(job: Job, _outside: Outside, _moment: Moment) -> tuple[Blocker, ...]:
    """A result under a hazard message that nobody answered doesn't count."""
    found = []
    for step in needed_for_release(job):
        attempt = counting(job, step)
        if attempt is None:
            continue
        for name in cautions.of_step(job, step):
            if job.sequence.cautions[name].signal != "NOTICE" and not _answered_in(job, attempt, name):
                found.append(
                    Blocker(
                        f"{step.title}: the caution '{name}' was not answered in that run.", "Walk it again.", step.id
                    )
                )
    return tuple(found)


def _answered_in(job: Job, attempt: Attempt, name: str) -> bool:
    return any(
        it.facts.caution == name and it.facts.run == attempt.run and it.line < attempt.line for it in job.acknowledged
    )


def _instruments(job: Job, _outside: Outside, _moment: Moment) -> tuple[Blocker, ...]:
    """A calibration due date counts at the time of the reading."""
    found = []
    for step in needed_for_release(job):
        attempt = counting(job, step)
        if attempt is None or attempt.instrument is None:
            continue
        if overdue(attempt.instrument, attempt.moment.local().date()):
            used = attempt.instrument
            found.append(
                Blocker(
                    f"{step.title}: {used.instrument} was overdue since {used.due} when it was read.",
                    "Measure with an instrument that is in date.",
                    step.id,
                )
            )
    return tuple(found)


def _symptoms(job: Job, _outside: Outside, _moment: Moment) -> tuple[Blocker, ...]:
    """A symptom that was confirmed has to be tried again under the conditions in which it showed."""
    found = []
    for name in job.symptoms:
        symptom = job.sequence.symptoms.get(name)
        if symptom is None or not any(_failed_as_found(job, step) for step in symptom.steps):
            continue
        for step_id in symptom.steps:
            step = next((one for one in needed_for_release(job) if one.id == step_id), None)
            if step is not None and counting(job, step) is None:
                found.append(
                    Blocker(f"Symptom '{symptom.says}': {step.title} not tried again since.", "Walk it again.", step.id)
                )
    return tuple(found)


def _failed_as_found(job: Job, step_id: str) -> bool:
    return any(
        a.step == step_id and a.purpose == "as-found" and a.judgement.verdict == "fail" and not withdrawn(a)
        for a in job.attempts
    )


def _groups(job: Job, _outside: Outside, _moment: Moment) -> tuple[Blocker, ...]:
    """Parts that age alike are renewed together, or it is said why one was left."""
    renewed = {part for rework in job.reworks if rework.action == "replaced" for part in rework.parts}
    explained = {old.part for rework in job.reworks for old in rework.left_old if old.reason.strip()}
    found = []
    for group in dict.fromkeys(group_of(job.sequence, part) for part in sorted(renewed)):
        left = [part for part in group if part not in renewed and part not in explained]
        if left:
            found.append(
                Blocker(
                    f"Renewed together: {', '.join(left)} left old without a stated reason.",
                    "Enter the rework, or the reason for leaving it.",
                )
            )
    return tuple(found)


def _changes(job: Job, _outside: Outside, _moment: Moment) -> tuple[Blocker, ...]:
    """Incidents open, and things fitted for a test that are still on the unit."""
    open_ones = tuple(
        Blocker(f"Incident {number} is open.", "Enter what was inspected or reworked because of it.")
        for number in job.open_incidents
    )
    fitted = tuple(Blocker(f"Not put back: {it.words}.", "Put it back and say so.") for it in job.fitted)
    return open_ones + fitted


def _power(job: Job, _outside: Outside, moment: Moment) -> tuple[Blocker, ...]:
    """A unit leaves the bench with every supply off and proved dead."""
    states = power.told(job, moment)
    still = tuple(
        Blocker(f"Supply {name}: told {state}.", "Make safe.") for name, state in states.items() if state != "off"
    )
    if still or power.proved_dead(job):
        return still
    return (Blocker("The unit was not proved dead since it was last powered.", "Make safe."),)


def _identity(job: Job, outside: Outside, _moment: Moment) -> tuple[Blocker, ...]:
    """One serial, one revision, and the author's word on what a newer revision changed."""
    other = tuple(
        Blocker(
            f"Run {run.number} scanned serial {run.facts.serial_scanned}, not this unit's.", "Walk its steps again."
        )
        for run in job.runs
        if run.facts.serial_scanned != job.serial and any(_counts_in(job, run.number))
    )
    newer = tuple(
        Blocker(
            f"{job.sequence.step(name).title}: changed in today's sequence file.", "Go on under the new revision.", name
        )
        for name in outside.changed_steps
        if any(step.id == name for step in job.sequence.steps)
    )
    return other + newer


def _counts_in(job: Job, run: int) -> tuple[Attempt, ...]:
    counted = (counting(job, step) for step in needed_for_release(job))
    return tuple(attempt for attempt in counted if attempt is not None and attempt.run == run)


def _records(job: Job, outside: Outside, _moment: Moment) -> tuple[Blocker, ...]:
    """Evidence that isn't whole is no evidence."""
    faults = tuple(Blocker(fault, "Settle the records first.") for fault in outside.records_faults)
    unknown = tuple(
        Blocker(f"The journal holds '{it.tag}', which this version doesn't know.", "Use the version that wrote it.")
        for it in job.unrecognised
    )
    return faults + unknown


QUESTIONS: tuple[Question, ...] = (
    _steps,
    _symptoms,
    _cautions,
    _instruments,
    _groups,
    _changes,
    _power,
    _identity,
    _records,
)
