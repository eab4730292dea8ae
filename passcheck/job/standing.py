"""How does a step stand: which of its attempts counts, and is a pass explained?

As left counts the latest attempt of an acceptance or retest run that is neither void nor stale and was made on the
current revision. An inspection on arrival counts from any run. A fail and a doubt stay when their attempt is voided,
unless a bench cause was named and shown gone.
"""

from dataclasses import dataclass

from passcheck.job.staleness import reaches, stale_by
from passcheck.job.state import Attempt, Job
from passcheck.judge.repeats import clean_repeats_needed
from passcheck.sequence.model import Step

COUNTING = ("acceptance", "retest")


@dataclass(frozen=True, slots=True)
class Unexplained:
    """A pass that doesn't count yet: how often the step failed in how many tries, and what would explain it.

    `intermittent` is True where it came and went as found and a rework lies between: the rework's reason is the note,
    the clean repeats are those since.
    """

    fails: int
    tries: int
    repeats_needed: int
    repeats_done: int
    noted: bool
    intermittent: bool = False

    @property
    def explained(self) -> bool:
        """True once the clean repeats and the note are there."""
        return self.repeats_done >= self.repeats_needed and self.noted


def withdrawn(attempt: Attempt) -> bool:
    """True for a void that takes the attempt out of the count: what spoke against the unit needs a bench cause."""
    if attempt.void is None:
        return False
    harmless = attempt.judgement.verdict in ("pass", "not measured")
    return harmless or bool(attempt.void.bench_cause and attempt.void.shown_gone)


def standing_attempts(job: Job, step: Step) -> tuple[Attempt, ...]:
    """All attempts of a step, of every purpose but good-unit, that are neither withdrawn nor stale, in order."""
    return tuple(
        attempt
        for attempt in job.attempts
        if attempt.step == step.id
        and attempt.purpose != "good-unit"
        and not withdrawn(attempt)
        and stale_by(job, attempt) is None
    )


def latest(job: Job, step: Step) -> Attempt | None:
    """The latest attempt that stands, whatever the purpose of its run: what a guard is judged by."""
    standing = standing_attempts(job, step)
    return standing[-1] if standing else None


def counting(job: Job, step: Step) -> Attempt | None:
    """The attempt that counts for the release, or None."""
    for attempt in reversed(standing_attempts(job, step)):
        if step.role == "arrival" or step.kind == "soak" or attempt.purpose in COUNTING:
            return attempt
    return None


def failed_since(job: Job, step: Step) -> Attempt | None:
    """A fail that stands after the attempt that counts; no purpose of a run makes it unseen."""
    counts = counting(job, step)
    later = [a for a in standing_attempts(job, step) if counts is not None and a.line > counts.line]
    return next((a for a in later if a.judgement.verdict == "fail"), None)


def unmet_needs(job: Job, step: Step) -> tuple[Step, ...]:
    """The guards of a step that haven't passed or have gone stale."""
    guards = (job.sequence.step(name) for name in step.needs)
    return tuple(guard for guard in guards if not _passed(latest(job, guard)))


def unexplained(job: Job, step: Step) -> Unexplained | None:
    """What makes a step's latest pass unexplained, or None where no fail stands before it and it never came and went.

    The fails and tries are counted up to the first pass after the last fail; what follows it are the repeats
    (binomial: a fault that showed k times in n stays hidden in N repeats with probability (1 - k/n)^N).
    """
    tried = [a for a in standing_attempts(job, step) if a.judgement.verdict in ("pass", "fail")]
    fails = [index for index, attempt in enumerate(tried) if attempt.judgement.verdict == "fail"]
    if not fails:
        return _intermittent(job, step, len(tried)) if tried else None
    if fails[-1] == len(tried) - 1:
        return None
    first_pass = fails[-1] + 1
    tries = first_pass + 1
    after = tried[first_pass].line
    return Unexplained(
        fails=len(fails),
        tries=tries,
        repeats_needed=clean_repeats_needed(len(fails), tries),
        repeats_done=len(tried) - tries,
        noted=_noted_since(job, step, after),
    )


def _intermittent(job: Job, step: Step, clean: int) -> Unexplained | None:
    """The same question for a fault that came and went as found and was reworked: it may only be hiding."""
    seen = [
        attempt.judgement.verdict
        for attempt in job.attempts
        if attempt.step == step.id and attempt.purpose == "as-found" and not withdrawn(attempt)
    ]
    fails, tries = seen.count("fail"), seen.count("fail") + seen.count("pass")
    if not 0 < fails < tries:
        return None
    return Unexplained(fails, tries, clean_repeats_needed(fails, tries), clean, noted=True, intermittent=True)


def passes_standing(job: Job, step: Step) -> bool:
    """True when the step's counting attempt is a pass that needs no further explanation."""
    attempt = counting(job, step)
    if attempt is None or not _passed(attempt) or failed_since(job, step) is not None:
        return False
    open_question = unexplained(job, step)
    return open_question is None or open_question.explained


def reworked_since(job: Job, step: Step, line: int) -> bool:
    """Was anything done after that line that reaches the step?"""
    return any(change.line > line and reaches(job, change, step) for change in job.changes)


def _passed(attempt: Attempt | None) -> bool:
    return attempt is not None and attempt.judgement.verdict == "pass"


def _noted_since(job: Job, step: Step, line: int) -> bool:
    on_step = any(note.step == step.id and note.line > line for note in job.notes)
    return on_step or any(a.step == step.id and a.line >= line and a.note for a in job.attempts)
