"""Which one act lifts what stands against a step?

The reasons come from the core; this only says which screen or command answers which of them.
"""

from dataclasses import dataclass
from typing import Literal

from passcheck.job import power
from passcheck.job.commands import Refusal
from passcheck.job.moment import Moment
from passcheck.job.soak import going_on
from passcheck.job.standing import unmet_needs
from passcheck.job.state import Job
from passcheck.job.steps import is_powered
from passcheck.sequence.model import Step

ActName = Literal[
    "caution", "power on", "make safe", "read supply", "guard", "put back", "start soak", "look", "end soak"
]
LABELS: dict[ActName, str] = {
    "caution": "Answer the caution",
    "power on": "The supply is on: tell what its display shows",
    "make safe": "Make safe (F8)",
    "read supply": "Read the supply's display",
    "guard": "Go to {title}",
    "put back": "It is off the unit: say so",
    "start soak": "Start the soak",
    "look": "Look at the unit",
    "end soak": "End the soak",
}


@dataclass(frozen=True, slots=True)
class Act:
    """What lifts the refusal; `subject` is a step's id, a supply's name or what is still fitted."""

    name: ActName
    label: str
    subject: str = ""


def lifting(job: Job, step: Step, refusal: Refusal, moment: Moment) -> Act | None:
    """The act for this refusal of this step, or None where only a person elsewhere can lift it."""
    match refusal.code:
        case "caution":
            return _act("caution")
        case "needs":
            guard = unmet_needs(job, step)[0]
            return Act("guard", LABELS["guard"].format(title=guard.title), guard.id)
        case "soak":
            return _of_soak(job)
        case "power":
            return _of_power(job, step, moment)
        case _:
            return None


def _of_soak(job: Job) -> Act:
    now = going_on(job)
    if now is None:
        return _act("start soak")
    if now.still_to_pass:
        step = job.sequence.step(now.still_to_pass[0])
        return Act("guard", LABELS["guard"].format(title=step.title), step.id)
    return _act("end soak" if now.complete else "look")


def _of_power(job: Job, step: Step, moment: Moment) -> Act:
    fitted = power.forbids_power(job)
    if is_powered(step) and fitted is not None:
        return _act("put back", fitted.change)
    unknown = power.unknown_now(job, moment)
    if unknown:
        return _of_unknown(job, step, unknown)
    told_off = power.all_off(job, moment)
    return _act("power on", step.power) if is_powered(step) and told_off else _act("make safe")


def _of_unknown(job: Job, step: Step, unknown: tuple[str, ...]) -> Act:
    """A supply that was told on before may be read again where little energy allows it; all else is made safe."""
    readable = (
        is_powered(step)
        and unknown == (step.power,)
        and power.little_energy(job.sequence)
        and power.last_told_on(job, step.power) is not None
    )
    return _act("read supply", step.power) if readable else _act("make safe")


def _act(name: ActName, subject: str = "") -> Act:
    return Act(name, LABELS[name], subject)
