"""Which steps does a retest walk after a rework?

What the last rework reaches, what failed before it, and the guards of both; nothing else, so that the question "did it
help?" is answered before the rest is walked. `again` is narrower still: the symptom that failed, with what comes before
its power.
"""

from passcheck.job.staleness import reaches
from passcheck.job.standing import withdrawn
from passcheck.job.state import Change, Job
from passcheck.job.steps import by_id
from passcheck.job.symptoms import failed_symptoms

WORK = ("rework", "incident")


def concerned(job: Job, *, again: bool = False) -> frozenset[str]:
    """Ids of the steps that a retest walks now."""
    if again:
        wanted = tuple(dict.fromkeys(step for _name, symptom in failed_symptoms(job) for step in symptom.steps))
        return frozenset(with_needs(job, wanted))
    work = last_work(job)
    touched = tuple(
        step.id
        for step in job.sequence.steps
        if step.kind != "soak" and step.role != "final" and any(reaches(job, change, step) for change in work)
    )
    return frozenset(with_needs(job, (*failed_before(job), *touched)))


def last_work(job: Job) -> tuple[Change, ...]:
    """The reworks and incidents since a run was last begun before them: what was done in one go."""
    done = [change for change in job.changes if change.kind in WORK]
    if not done:
        return ()
    begun = max((run.line for run in job.runs if run.line < done[-1].line), default=-1)
    return tuple(change for change in done if change.line > begun)


def failed_before(job: Job) -> tuple[str, ...]:
    """Steps whose latest word, stale or not, is a fail; in the order of the file."""
    latest = {
        a.step: a.judgement.verdict
        for a in job.attempts
        if a.judgement.verdict != "not measured" and a.purpose != "good-unit" and not withdrawn(a)
    }
    return tuple(step.id for step in job.sequence.steps if latest.get(step.id) == "fail")


def with_needs(job: Job, wanted: tuple[str, ...]) -> set[str]:
    """These steps and all that they need, through whatever chain."""
    known = by_id(job.sequence.steps)
    found: set[str] = set()
    ahead = [name for name in wanted if name in known]
    while ahead:
        name = ahead.pop()
        if name not in found:
            found.add(name)
            ahead.extend(need for need in known[name].needs if need in known)
    return found
