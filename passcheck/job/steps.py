"""Which steps belong to a run of this purpose, on this unit?

A step is absent only by a variant chosen on arrival; there is no other way for a step not to be there.
"""

from collections.abc import Mapping

from passcheck.job.asked_once import asked_once
from passcheck.job.events import Purpose
from passcheck.job.state import Job
from passcheck.sequence.model import NO_SUPPLY, Step


def present(job: Job) -> tuple[Step, ...]:
    """All steps of the sequence that the unit's variants leave in, in the author's order."""
    return _present(job.sequence.steps, job.facts.variants)


@asked_once
def _present(steps: tuple[Step, ...], chosen: tuple[str, ...]) -> tuple[Step, ...]:
    return tuple(step for step in steps if step.variant is None or step.variant in chosen)


@asked_once
def by_id(steps: tuple[Step, ...]) -> Mapping[str, Step]:
    """The steps of a sequence by their ids; whoever looks up many of them asks for it once."""
    return {step.id: step for step in reversed(steps)}  # the first of an id, as `Sequence.step` finds it


def steps_of(job: Job, purpose: Purpose) -> tuple[Step, ...]:
    """The steps that a run of this purpose walks: burn-in is the soak and what it checks, the final look acceptance."""
    return _steps_of(present(job), purpose)


@asked_once
def _steps_of(here: tuple[Step, ...], purpose: Purpose) -> tuple[Step, ...]:
    match purpose:
        case "burn-in":
            checked = {name for step in here if step.kind == "soak" for name in step.check}
            return tuple(step for step in here if step.kind == "soak" or step.id in checked)
        case "as-found" | "good-unit":
            return tuple(step for step in here if step.kind != "soak" and step.role != "final")
        case "retest" | "acceptance":
            return tuple(step for step in here if step.kind != "soak")


def needed_for_release(job: Job) -> tuple[Step, ...]:
    """Every step that has to stand before the unit may go: acceptance and burn-in."""
    return present(job)


def is_powered(step: Step) -> bool:
    """True where the step names a supply."""
    return step.power != NO_SUPPLY
