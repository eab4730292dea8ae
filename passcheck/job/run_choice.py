"""Which runs may be begun now, what would each of them walk, and which one comes to mind?"""

from dataclasses import dataclass
from decimal import Decimal

from passcheck.job.events import Purpose
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.plan import Planned, minutes_left, plan
from passcheck.job.standing import passes_standing
from passcheck.job.state import Job
from passcheck.job.steps import present, steps_of
from passcheck.job.symptoms import failed_symptoms


@dataclass(frozen=True, slots=True)
class RunChoice:
    """A run that may be begun: its purpose, and the steps that it would walk now.

    `again` narrows a retest to the symptom that failed.
    """

    purpose: Purpose
    again: bool
    planned: tuple[Planned, ...]

    @property
    def minutes(self) -> Decimal:
        """Hands-on time of these steps."""
        return minutes_left(self.planned)


def choices(job: Job, outside: Outside, moment: Moment) -> tuple[RunChoice, ...]:
    """Every run that the sequence and the job so far allow, in the order in which a job comes to need them."""
    offered: list[tuple[Purpose, bool]] = [("as-found", False), ("retest", False)]
    if failed_symptoms(job):
        offered.append(("retest", True))
    offered += [("acceptance", False), ("burn-in", False), ("good-unit", False)]
    return tuple(
        RunChoice(purpose, again, plan(job, purpose, again=again, outside=outside, moment=moment))
        for purpose, again in offered
        if steps_of(job, purpose)
    )


def suggested(job: Job) -> Purpose:
    """Confirm the complaint first, ask after a rework whether it helped, soak what passes, else walk what counts."""
    own = [attempt for attempt in job.attempts if attempt.purpose != "good-unit"]
    if not own:
        return "as-found"
    begun = max((run.line for run in job.runs if run.purpose != "good-unit"), default=-1)
    if any(change.kind == "rework" and change.line > begun for change in job.changes) and plan(job, "retest"):
        return "retest"
    open_steps = [step for step in present(job) if not passes_standing(job, step)]
    soaks = [step for step in open_steps if step.kind == "soak"]
    others = [step for step in open_steps if step.kind != "soak" and step.role != "final"]
    return "burn-in" if soaks and not others else "acceptance"
