"""Which step next, and why?

The order of a run: what failed before comes first after a rework, unpowered steps before powered ones, one supply at a
time, then the author's order; the final look comes last.
"""

from dataclasses import dataclass
from decimal import Decimal

from passcheck.job.events import Purpose
from passcheck.job.staleness import stale_by
from passcheck.job.standing import failed_since, latest, standing_attempts, unexplained, unmet_needs
from passcheck.job.state import Attempt, Job
from passcheck.job.steps import is_powered, steps_of
from passcheck.sequence.model import Step


@dataclass(frozen=True, slots=True)
class Planned:
    """A step still to be walked, the reason, and the minutes its author expects."""

    step: Step
    why: str
    minutes: Decimal


def plan(job: Job, purpose: Purpose | None = None) -> tuple[Planned, ...]:
    """The steps still to walk, in order, for this purpose (the open run's, or acceptance)."""
    run = job.open_run
    wanted: Purpose = purpose or (run.purpose if run else "acceptance")
    open_steps = [(step, why) for step in steps_of(job, wanted) if (why := _why(job, step, wanted)) is not None]
    ordered = sorted(open_steps, key=lambda pair: _place(job, pair[0]))
    return tuple(Planned(step, why, step.minutes) for step, why in ordered)


def _why(job: Job, step: Step, purpose: Purpose) -> str | None:
    attempt = _of_purpose(job, step, purpose)
    if attempt is None:
        spoiled = any(a.step == step.id and stale_by(job, a) is not None for a in job.attempts)
        return "stale: walk it again" if spoiled else "not walked yet"
    if purpose in ("as-found", "good-unit"):
        return "not measured" if attempt.judgement.verdict == "not measured" else None
    if attempt.judgement.verdict != "pass":
        return attempt.judgement.verdict
    if failed_since(job, step) is not None:
        return "failed since"
    question = unexplained(job, step)
    if question is not None and question.repeats_done < question.repeats_needed:
        return f"unexplained: clean repeat {question.repeats_done + 1} of {question.repeats_needed}"
    return None


def _of_purpose(job: Job, step: Step, purpose: Purpose) -> Attempt | None:
    """The latest standing attempt that does for a run of this purpose."""
    if purpose == "good-unit":
        run = job.open_run
        made = [a for a in job.attempts if a.step == step.id and run is not None and a.run == run.number]
    elif purpose == "as-found":
        made = [a for a in standing_attempts(job, step) if a.purpose == "as-found"]
    else:
        counts = ("acceptance", "retest", "burn-in")
        made = [a for a in standing_attempts(job, step) if a.purpose in counts or step.role == "arrival"]
    return made[-1] if made else None


def _place(job: Job, step: Step) -> tuple[int, int, int, int]:
    """Sort key: final look last, unpowered before powered, a supply's steps together, then the author's order."""
    supplies = list(job.sequence.supplies)
    group = 1 + supplies.index(step.power) if is_powered(step) else 0
    waits = 1 if any(latest(job, guard) is None for guard in unmet_needs(job, step)) and group == 0 else 0
    place = next(index for index, one in enumerate(job.sequence.steps) if one.id == step.id)
    return (int(step.role == "final"), group, waits, place)
