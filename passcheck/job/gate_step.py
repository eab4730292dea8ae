"""What stands against release that belongs to one step, and which of it does walking the step again lift?

One question a function; the gate asks them all, and the plan asks them for what is still to be walked.
"""

from collections.abc import Callable
from datetime import timedelta

from passcheck.job import cautions
from passcheck.job.blocker import Blocker
from passcheck.job.instruments import overdue
from passcheck.job.late_entry import day_read
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.soak import short_words, soak_now
from passcheck.job.staleness import call, stale_by
from passcheck.job.standing import (
    COUNTING,
    Unexplained,
    counted,
    counting,
    failed_since,
    made_at,
    standing_attempts,
    unexplained,
    withdrawn,
)
from passcheck.job.state import Attempt, Job
from passcheck.job.steps import by_id, needed_for_release
from passcheck.job.symptoms import failed_as_found, failed_symptoms
from passcheck.sequence.model import SoakStep, Step


def steps(job: Job, _outside: Outside | None, _moment: Moment) -> tuple[Blocker, ...]:
    """Every step of acceptance and burn-in: blank, not measured, failed, in doubt, stale or unexplained."""
    return tuple(found for step, attempt in counted(job) if (found := _step(job, step, attempt)) is not None)


def _step(job: Job, step: Step, attempt: Attempt | None) -> Blocker | None:
    if step.role == "final" and (waits := _before_its_time(job, step, attempt)) is not None:
        return waits
    if attempt is None:
        return _blank(job, step)
    verdict, sentence = attempt.judgement.verdict, attempt.judgement.sentence
    again = "Find the cause, rework, walk it again."
    match verdict:
        case "fail":
            return Blocker(f"{step.title}: fails. {sentence}", again, step.id, verdict)
        case "in doubt":
            return Blocker(f"{step.title}: in doubt. {sentence}", "Use a better method.", step.id, verdict)
        case "not measured":
            return Blocker(f"{step.title}: not measured. {sentence}", "Measure it again.", step.id, verdict)
        case "pass":
            if (fail := failed_since(job, step)) is not None:
                words = f"{step.title}: failed since it passed as left. {fail.judgement.sentence}"
                return Blocker(words, again, step.id, "failed since")
            question = unexplained(job, step)
            if question is not None and not question.explained:
                return _unexplained(step, question)
    return _papers_missing(job, step, attempt)


def _before_its_time(job: Job, step: Step, attempt: Attempt | None) -> Blocker | None:
    """The last look comes after the burn-in, which fits and takes off things of its own."""
    soaked = [ended for soak, ended in counted(job) if soak.kind == "soak"]
    if any(one is None for one in soaked):
        if attempt is not None and attempt.judgement.verdict == "fail":
            return None
        return Blocker(f"{step.title}: comes after the burn-in.", "Finish the burn-in first.", step.id)
    if attempt is not None and any(one is not None and one.line > attempt.line for one in soaked):
        words = f"{step.title}: was walked before the burn-in ended."
        return Blocker(words, "Walk it again.", step.id, "walked before the burn-in ended")
    return None


def _blank(job: Job, step: Step) -> Blocker:
    if isinstance(step, SoakStep):
        return _soak(job, step)
    spoiled = [
        (attempt, change)
        for attempt in made_at(job, step.id)
        if not withdrawn(attempt) and (change := stale_by(job, attempt)) is not None
    ]
    if spoiled:
        attempt, change = spoiled[-1]
        words = f"{step.title}: the {attempt.judgement.verdict} went stale with {call(change)}."
        return Blocker(words, "Walk it again.", step.id, "stale: walk it again")
    if any(attempt.purpose == "as-found" for attempt in made_at(job, step.id)):
        words = f"{step.title}: blank as left; an as-found result never counts."
        return Blocker(words, "Walk acceptance.", step.id, "not walked yet")
    return Blocker(f"{step.title}: blank as left.", "Walk acceptance.", step.id, "not walked yet")


def _soak(job: Job, step: SoakStep) -> Blocker:
    now = soak_now(job, step)
    if now.leg is None and not now.credit.stretches:
        begun = any(leg.step == step.id for leg in job.soaks)
        what = "begun, and nothing of it counts" if begun else "not done"
        return Blocker(f"{step.title}: burn-in {what}.", "Start the soak.", step.id, "not walked yet")
    if now.complete:
        return Blocker(f"{step.title}: done and not ended.", "End the soak.", step.id, "end it")
    lift = "Start the soak again." if now.leg is None else "Leave it at power and look at it in time."
    return Blocker(f"{step.title}: {short_words(now)}.", lift, step.id, "short")


def _unexplained(step: Step, question: Unexplained) -> Blocker:
    repeats = question.repeats_done < question.repeats_needed
    walk = f"unexplained: clean repeat {question.repeats_done + 1} of {question.repeats_needed}" if repeats else ""
    under = f" under {', '.join(question.conditions)}" if question.conditions and repeats else ""
    lift = "Walk the step again and note the cause."
    words = _why_unexplained(step, question, under)
    return Blocker(words, lift, step.id, f"{walk}{under}" if walk else "", question.conditions)


def _why_unexplained(step: Step, question: Unexplained, under: str) -> str:
    seen = (
        f"failed {question.fails} of {question.tries} as found, and may only be hiding since the rework"
        if question.intermittent
        else f"failed {question.fails} of {question.tries}, then passed with no rework between"
    )
    missing = []
    if question.repeats_done < question.repeats_needed:
        missing.append(f"{question.repeats_done} of {question.repeats_needed} clean repeats done{under}")
    if not question.noted:
        missing.append("no note says why")
    return f"{step.title}: the pass is unexplained ({seen}); {', '.join(missing)}."


def _begun(job: Job, attempt: Attempt) -> int:
    """The line from which notes and photos may belong to an attempt: they may be given before its answer.

    Not before its run, the try before it, or the last thing that was done to the unit.
    """
    tries = (a.line for a in made_at(job, attempt.step) if a.line < attempt.line)
    runs = (run.line for run in job.runs if run.number == attempt.run)
    changes = (change.line for change in job.changes if change.line < attempt.line)
    return max((*tries, *runs, *changes), default=-1)


def _papers_missing(job: Job, step: Step, attempt: Attempt) -> Blocker | None:
    own = [note for note in job.notes if note.step == step.id and note.line > _begun(job, attempt)]
    noted = attempt.note or any(note.text.strip() for note in own)
    pictured = attempt.photos or any(note.photos for note in own)
    if step.note and not noted:
        return Blocker(f"{step.title}: the note it asks for is missing.", "Add the note.", step.id)
    if step.photo and not pictured:
        return Blocker(f"{step.title}: the photo it asks for is missing.", "Add the photo's path.", step.id)
    if step.witness and attempt.second is None:
        words = f"{step.title}: nobody else saw it."
        return Blocker(words, "Walk it again with a second person.", step.id, "nobody else saw it")
    if step.witness and attempt.second == attempt.by:
        words = f"{step.title}: the second person is the one who tested."
        return Blocker(words, "Another person is needed.", step.id, "nobody else saw it")
    return None


def answered_cautions(job: Job, _outside: Outside | None, _moment: Moment) -> tuple[Blocker, ...]:
    """A result under a hazard message that nobody answered doesn't count."""
    found = []
    first: dict[tuple[str, int], int] = {}  # the line of the first answer to each message in each run
    for it in job.acknowledged:
        first.setdefault((it.facts.caution, it.facts.run), it.line)
    for step, attempt in counted(job):
        if attempt is None:
            continue
        for name in cautions.of_step(job, step):
            answered = first.get((name, attempt.run), attempt.line) < attempt.line
            if job.sequence.cautions[name].signal != "NOTICE" and not answered:
                words = f"{step.title}: the caution '{name}' was not answered in that run."
                found.append(Blocker(words, "Walk it again.", step.id, "caution not answered"))
    return tuple(found)


def instruments(job: Job, outside: Outside | None, _moment: Moment) -> tuple[Blocker, ...]:
    """A calibration due date counts at the time of the reading; a meter found out of tolerance later reaches back."""
    found = []
    for step, attempt in counted(job):
        if attempt is None or attempt.instrument is None:
            continue
        used, read_on = attempt.instrument, day_read(attempt.measured_at, attempt.moment)
        lift = "Measure with an instrument that is in date."
        kept = None if outside is None else outside.settings.instruments.get(used.instrument)
        doubtful = kept.doubtful_since if kept is not None else None
        if overdue(used, read_on):
            words = f"{step.title}: {used.instrument} was overdue since {used.due} when it was read."
            found.append(Blocker(words, lift, step.id, "instrument overdue"))
        elif doubtful is not None and read_on >= doubtful:
            words = f"{step.title}: read with {used.instrument}, which is doubtful since {doubtful}: under review."
            found.append(Blocker(words, "Measure with another instrument.", step.id, "instrument doubtful"))
    return tuple(found)


def ages(job: Job, _outside: Outside | None, moment: Moment) -> tuple[Blocker, ...]:
    """Results as left last as long as the author says; a unit that lay longer is tested again."""
    lasts = job.sequence.results_last
    if lasts is None:
        return ()
    oldest = timedelta(seconds=float(lasts.value))
    return tuple(
        Blocker(
            f"{step.title}: passed on {attempt.moment.local():%Y-%m-%d}, longer ago than {lasts.text}.",
            "Walk it again.",
            step.id,
            "too old",
        )
        for step, attempt in counted(job)
        if step.role != "arrival" and attempt is not None and moment.utc - attempt.moment.utc > oldest
    )


def symptoms(job: Job, _outside: Outside | None, _moment: Moment) -> tuple[Blocker, ...]:
    """A symptom that was confirmed has to be tried again, under the conditions in which it showed."""
    found = []
    needed = by_id(needed_for_release(job))
    for _name, symptom in failed_symptoms(job):
        for step_id in symptom.steps:
            step = needed.get(step_id)
            if step is None:
                continue
            if counting(job, step) is None:
                words = f"Symptom '{symptom.says}': {step.title} not tried again since."
                shown = [it.conditions for it in failed_as_found(job, step_id) if it.conditions]
                asked = shown[0] if shown else ()
                found.append(Blocker(words, "Walk it again.", step.id, "symptom not tried again", asked))
            elif (under := _untried(job, step)) is not None:
                said = ", ".join(under)
                words = f"Symptom '{symptom.says}': {step.title} showed it under {said}; not tried so since."
                found.append(Blocker(words, f"Walk it again under {said}.", step.id, f"under {said}", under))
    return tuple(found)


def _untried(job: Job, step: Step) -> tuple[str, ...] | None:
    """The conditions of a fail as found under which no pass that may count was made since, or None.

    A probe that slipped off and a reading in doubt leave the question open, however often the step passes otherwise.
    """
    counts = [a for a in standing_attempts(job, step) if a.purpose in COUNTING]
    passed = [set(a.conditions) for a in counts if a.judgement.verdict == "pass"]
    under = (fail.conditions for fail in failed_as_found(job, step.id) if fail.conditions)
    return next((words for words in under if not any(set(words) <= tried for tried in passed)), None)


OF_A_STEP: tuple[Callable[[Job, Outside | None, Moment], tuple[Blocker, ...]], ...] = (
    steps,
    symptoms,
    answered_cautions,
    instruments,
    ages,
)
"""The questions that belong to a step each, in the order in which they are printed."""
