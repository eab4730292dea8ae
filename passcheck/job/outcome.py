"""What did an as-found run show of the complaint?

A table, so that two people close the same run with the same words. An as-found run is closed with an outcome; it can
never be the basis of a release.
"""

from passcheck.job.standing import withdrawn
from passcheck.job.state import Attempt, Job, Run
from passcheck.job.steps import steps_of


def outcome(job: Job, run: Run) -> str:
    """The words that close a run: for as-found the row of the table that applies, otherwise how far it got."""
    made = tuple(a for a in job.attempts if a.run == run.number and not withdrawn(a))
    if run.purpose != "as-found":
        return _progress(job, run, made)
    linked = frozenset(
        step for name in job.symptoms if name in job.sequence.symptoms for step in job.sequence.symptoms[name].steps
    )
    blocked = _unpowered_fault(job, made)
    shown = _fails(made, linked)
    others = tuple(a for a in made if a.step not in linked and a.judgement.verdict == "fail")
    if blocked and not any(a.step in linked for a in made):
        return f"powered confirmation not safe: {blocked}"
    if not linked:
        return "complaint not mapped to a symptom" + (f"; {len(others)} step(s) fail" if others else "")
    if shown and (again := _intermittent(made, linked)) is not None:
        return f"intermittent: {again}"
    if shown:
        return "complaint reproduced" + ("; further faults found" if others else "")
    untried = linked - {a.step for a in made if a.judgement.verdict == "pass"}
    if untried:
        tried = f"inconclusive: {len(linked) - len(untried)} of {len(linked)} linked steps tried"
        return tried + ("; different fault found" if others else "")
    if others:
        return "complaint not reproduced; different fault found"
    return f"not reproduced under: {', '.join(job.conditions) or 'the conditions of the bench'}"


def _fails(made: tuple[Attempt, ...], linked: frozenset[str]) -> bool:
    return any(a.step in linked and a.judgement.verdict == "fail" for a in made)


def _intermittent(made: tuple[Attempt, ...], linked: frozenset[str]) -> str | None:
    """ "k of n" for the first linked step that both failed and passed."""
    for step in sorted(linked):
        tried = [a.judgement.verdict for a in made if a.step == step and a.judgement.verdict in ("pass", "fail")]
        if "pass" in tried and "fail" in tried:
            return f"{tried.count('fail')} of {len(tried)}"
    return None


def _unpowered_fault(job: Job, made: tuple[Attempt, ...]) -> str | None:
    for attempt in made:
        step = job.sequence.step(attempt.step)
        if step.power == "none" and step.role != "arrival" and attempt.judgement.verdict == "fail":
            return attempt.judgement.sentence
    return None


def _progress(job: Job, run: Run, made: tuple[Attempt, ...]) -> str:
    passed = {a.step for a in made if a.judgement.verdict == "pass"}
    return f"{len(passed)} of {len(steps_of(job, run.purpose))} steps passed"
