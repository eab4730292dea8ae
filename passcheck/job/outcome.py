"""What did an as-found run show of the complaint?

A table, so that two people close the same run with the same words. An as-found run is closed with an outcome; it can
never be the basis of a release. "Not reproduced" is said only when every listed condition was tried.
"""

from passcheck.job.plan import plan
from passcheck.job.staleness import stale_by
from passcheck.job.standing import tried_as, withdrawn
from passcheck.job.state import Attempt, Job, Run
from passcheck.job.steps import steps_of
from passcheck.job.symptoms import Wanted, conditions_to_try, linked_steps


def outcome(job: Job, run: Run) -> str:
    """The words that close a run: for as-found the row of the table that applies, otherwise how far it got."""
    if run.purpose != "as-found":
        return _progress(job, run, tuple(a for a in job.attempts if a.run == run.number and not withdrawn(a)))
    made = _as_found(job, run)
    linked = frozenset(linked_steps(job))
    blocked = _unpowered_fault(job, made)
    others = tuple(a for a in made if a.step not in linked and a.judgement.verdict == "fail")
    if blocked and not any(a.step in linked and a.judgement.verdict != "not measured" for a in made):
        return f"powered confirmation not safe: {blocked}"
    if not linked:
        return "complaint not mapped to a symptom" + (f"; {len(others)} step(s) fail" if others else "")
    if any(a.step in linked and a.judgement.verdict == "fail" for a in made):
        outright, again = _outright(made, linked), _intermittent(made, linked)
        words = (["complaint reproduced"] if outright else []) + ([f"intermittent: {again}"] if again else [])
        return "; ".join(words + (["further faults found"] if others else []))
    different = "; different fault found" if others else ""
    untried = linked - {a.step for a in made if a.judgement.verdict == "pass"}
    if untried:
        return f"inconclusive: {len(linked) - len(untried)} of {len(linked)} linked steps tried{different}"
    listed = conditions_to_try(job)
    tried = conditions_tried(job, run)
    if len(tried) < len(listed):
        return f"inconclusive: {len(tried)} of {len(listed)} conditions tried{different}"
    if others:
        return "complaint not reproduced; different fault found"
    named = dict.fromkeys(wanted.words for wanted in tried)
    return f"not reproduced under: {', '.join(named) or 'the conditions of the bench'}"


def conditions_tried(job: Job, run: Run) -> tuple[Wanted, ...]:
    """The listed conditions under which a step that they belong to was answered as found."""
    under = {
        (a.step, words)
        for a in _as_found(job, run)
        if a.judgement.verdict in ("pass", "fail")
        for words in a.conditions
    }
    return tuple(
        wanted for wanted in conditions_to_try(job) if any((step, wanted.words) in under for step in wanted.steps)
    )


def _as_found(job: Job, run: Run) -> tuple[Attempt, ...]:
    """What this as-found run showed, and those before it as far as nothing was done to the unit since."""
    made = (a for a in job.attempts if a.purpose == "as-found" and a.run <= run.number and not withdrawn(a))
    return tuple(a for a in made if a.run == run.number or stale_by(job, a) is None)


def _outright(made: tuple[Attempt, ...], linked: frozenset[str]) -> bool:
    """Did a linked step fail each time it was tried as it has to be tried to show?"""
    for step in linked:
        tried = [a for a in made if a.step == step and a.judgement.verdict in ("pass", "fail")]
        fails = [a for a in tried if a.judgement.verdict == "fail"]
        if fails and all(a in fails for a in tried if tried_as(a, fails)):
            return True
    return False


def _intermittent(made: tuple[Attempt, ...], linked: frozenset[str]) -> str | None:
    """ "k of n" for the first linked step that both failed and passed under the conditions that showed it."""
    for step in sorted(linked):
        tried = [a for a in made if a.step == step and a.judgement.verdict in ("pass", "fail")]
        fails = [a for a in tried if a.judgement.verdict == "fail"]
        alike = [a for a in tried if tried_as(a, fails)]
        if 0 < len(fails) < len(alike):
            return f"{len(fails)} of {len(alike)}"
    return None


def _unpowered_fault(job: Job, made: tuple[Attempt, ...]) -> str | None:
    for attempt in made:
        step = job.sequence.step(attempt.step)
        if step.power == "none" and step.role != "arrival" and attempt.judgement.verdict == "fail":
            return attempt.judgement.sentence
    return None


def _progress(job: Job, run: Run, made: tuple[Attempt, ...]) -> str:
    passed = {a.step for a in made if a.judgement.verdict == "pass"}
    if run.purpose == "retest":
        # What it asks for and leaves to acceptance; what was walked is in the plan no more.
        asked = {a.step for a in made} | {planned.step.id for planned in plan(job, "retest", again=run.facts.again)}
        return f"{len(passed)} of {len(asked)} steps of this retest passed"
    return f"{len(passed)} of {len(steps_of(job, run.purpose))} steps passed"
