"""How does a step stand: which of its attempts counts, and is a pass explained?

As left counts the latest attempt of an acceptance or retest run that is neither void nor stale and was made on the
current revision. An inspection on arrival counts from any run. A fail and a doubt stay when their attempt is voided,
unless a bench cause was named and shown gone.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from passcheck.job.asked_once import asked_once
from passcheck.job.staleness import reaches, spoilers, stale_by
from passcheck.job.state import Attempt, Change, Job
from passcheck.job.steps import by_id, needed_for_release
from passcheck.judge.repeats import clean_repeats_needed
from passcheck.sequence.model import Sequence, Step

COUNTING = ("acceptance", "retest")


@dataclass(frozen=True, slots=True)
class Unexplained:
    """A pass that doesn't count yet: how often the step failed in how many tries, and what would explain it.

    `intermittent` is True where it came and went as found and a rework lies between: the rework's reason is the note,
    the clean repeats are those since. Only tries under `conditions`, those under which it showed, are counted.
    """

    fails: int
    tries: int
    repeats_needed: int
    repeats_done: int
    noted: bool
    intermittent: bool = False
    conditions: tuple[str, ...] = ()

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


def made_at(job: Job, step_id: str) -> tuple[Attempt, ...]:
    """All attempts of a step, whatever became of them, in order."""
    return _made(job.attempts).get(step_id, ())


@asked_once
def _made(attempts: tuple[Attempt, ...]) -> Mapping[str, tuple[Attempt, ...]]:
    return _by_step(attempts)


def _by_step(attempts: Iterable[Attempt]) -> Mapping[str, tuple[Attempt, ...]]:
    found: dict[str, list[Attempt]] = {}
    for attempt in attempts:
        found.setdefault(attempt.step, []).append(attempt)
    return {step: tuple(made) for step, made in found.items()}


def standing_attempts(job: Job, step: Step) -> tuple[Attempt, ...]:
    """All attempts of a step, of every purpose but good-unit, that are neither withdrawn nor stale, in order."""
    return _standing(job.sequence, job.attempts, job.changes).get(step.id, ())


@asked_once
def _standing(
    sequence: Sequence, attempts: tuple[Attempt, ...], changes: tuple[Change, ...]
) -> Mapping[str, tuple[Attempt, ...]]:
    spoiled = spoilers(sequence, changes).of
    return _by_step(a for a in attempts if a.purpose != "good-unit" and not withdrawn(a) and spoiled(a) is None)


def on_unit_in_hand(job: Job, step: Step) -> tuple[Attempt, ...]:
    """The attempts that stand of the unit in hand: this job's, or in a good-unit run those of that run alone.

    Nothing that this unit showed opens a guard of another, and no doubt of one is averaged with the other's reading.
    """
    return _in_hand(job).get(step.id, ())


@asked_once
def _in_hand(job: Job) -> Mapping[str, tuple[Attempt, ...]]:
    run = job.open_run
    if run is None or run.purpose != "good-unit":
        return _standing(job.sequence, job.attempts, job.changes)
    made = (a for a in job.attempts if a.run == run.number)
    return _by_step(a for a in made if not withdrawn(a) and stale_by(job, a) is None)


def other_unit(job: Job, attempt: Attempt) -> str:
    """The serial of the good unit that an attempt was made on, or "" where it was this job's own."""
    if attempt.purpose != "good-unit":
        return ""
    return next(run.facts.serial_scanned for run in job.runs if run.number == attempt.run)


def latest(job: Job, step: Step) -> Attempt | None:
    """The latest attempt that stands of the unit in hand, whatever the run's purpose: what a guard is judged by."""
    standing = on_unit_in_hand(job, step)
    return standing[-1] if standing else None


def counting(job: Job, step: Step) -> Attempt | None:
    """The attempt that counts for the release, or None."""
    return _counting(standing_attempts(job, step), step)


def _counting(standing: tuple[Attempt, ...], step: Step) -> Attempt | None:
    for attempt in reversed(standing):
        if step.role == "arrival" or step.kind == "soak" or attempt.purpose in COUNTING:
            return attempt
    return None


def counted(job: Job) -> tuple[tuple[Step, Attempt | None], ...]:
    """Every step that is needed for the release, with the attempt that counts for it, or None."""
    return _counted(needed_for_release(job), _standing(job.sequence, job.attempts, job.changes))


@asked_once
def _counted(
    needed: tuple[Step, ...], standing: Mapping[str, tuple[Attempt, ...]]
) -> tuple[tuple[Step, Attempt | None], ...]:
    return tuple((step, _counting(standing.get(step.id, ()), step)) for step in needed)


def failed_since(job: Job, step: Step) -> Attempt | None:
    """A fail that stands after the attempt that counts; no purpose of a run makes it unseen."""
    standing = standing_attempts(job, step)
    counts = _counting(standing, step)
    if counts is None or counts is standing[-1]:
        return None
    return next((a for a in standing if a.line > counts.line and a.judgement.verdict == "fail"), None)


def unmet_needs(job: Job, step: Step) -> tuple[Step, ...]:
    """The guards of a step that haven't passed or have gone stale."""
    if not step.needs:
        return ()
    steps, made = by_id(job.sequence.steps), _in_hand(job)
    return tuple(steps[name] for name in step.needs if not _passed(made[name][-1] if name in made else None))


def unexplained(job: Job, step: Step) -> Unexplained | None:
    """What makes a step's latest pass unexplained, or None where no fail stands before it and it never came and went.

    The fails and tries are counted up to the first pass after the last fail; what follows it are the repeats
    (binomial: a fault that showed k times in n stays hidden in N repeats with probability (1 - k/n)^N).
    """
    tried = [a for a in standing_attempts(job, step) if a.judgement.verdict in ("pass", "fail")]
    fails = [attempt for attempt in tried if attempt.judgement.verdict == "fail"]
    if not fails:
        return _intermittent(job, step, tried) if tried else None
    if tried[-1] is fails[-1]:
        return None
    alike = [attempt for attempt in tried if tried_as(attempt, fails)]
    at = alike.index(fails[-1])
    passed = at + 1 < len(alike)
    tries = at + 2  # the first pass after the last fail is a try; without one it is still to come
    return Unexplained(
        fails=len(fails),
        tries=tries if passed else at + 1,
        repeats_needed=clean_repeats_needed(len(fails), tries) + (0 if passed else 1),
        repeats_done=len(alike) - tries if passed else 0,
        noted=_noted_since(job, step, (alike[at + 1] if passed else tried[-1]).line),
        conditions=fails[-1].conditions,
    )


def tried_as(attempt: Attempt, fails: Iterable[Attempt]) -> bool:
    """Was this tried under the conditions of any of these fails? A cold pass says nothing of what shows warm."""
    return any(set(fail.conditions) <= set(attempt.conditions) for fail in fails)


def _intermittent(job: Job, step: Step, clean: list[Attempt]) -> Unexplained | None:
    """The same question for a fault that came and went as found and was reworked: it may only be hiding."""
    found = [
        attempt
        for attempt in made_at(job, step.id)
        if attempt.purpose == "as-found" and attempt.judgement.verdict in ("pass", "fail") and not withdrawn(attempt)
    ]
    fails = [attempt for attempt in found if attempt.judgement.verdict == "fail"]
    tries = sum(tried_as(attempt, fails) for attempt in found)
    if not 0 < len(fails) < tries:
        return None
    return Unexplained(
        fails=len(fails),
        tries=tries,
        repeats_needed=clean_repeats_needed(len(fails), tries),
        repeats_done=sum(tried_as(attempt, fails) for attempt in clean),
        noted=True,
        intermittent=True,
        conditions=fails[-1].conditions,
    )


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
    return on_step or any(a.line >= line and a.note for a in made_at(job, step.id))
