"""Which steps belong to a run of this purpose, on this unit?

A step is absent only by a variant chosen on arrival; there is no other way for a step not to be there.
"""

from passcheck.job.events import Purpose
from passcheck.job.state import Job
from passcheck.sequence.model import NO_SUPPLY, Step


def present(job: Job) -> tuple[Step, ...]:
    """All steps of the sequence that the unit's variants leave in, in the author's order."""
    chosen = job.facts.variants
    return tuple(step for step in job.sequence.steps if step.variant is None or step.variant in chosen)


def steps_of(job: Job, purpose: Purpose) -> tuple[Step, ...]:
    """The steps that a run of this purpose walks: burn-in is the soak and what it checks, the final look acceptance."""
    match purpose:
        case "burn-in":
            checked = {name for step in present(job) if step.kind == "soak" for name in step.check}
            return tuple(step for step in present(job) if step.kind == "soak" or step.id in checked)
        case "as-found" | "good-unit":
            return tuple(step for step in present(job) if step.kind != "soak" and step.role != "final")
        case "retest" | "acceptance":
            return tuple(step for step in present(job) if step.kind != "soak")


def needed_for_release(job: Job) -> tuple[Step, ...]:
    """Every step that has to stand before the unit may go: acceptance and burn-in."""
    return present(job)


def is_powered(step: Step) -> bool:
    """True where the step names a supply."""
    return step.power != NO_SUPPLY
