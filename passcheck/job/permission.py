"""Who may work at this step, on which run, with what unplugged, and are they who they say?"""

from passcheck.job.commands import Refusal
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.pin import pin_matches
from passcheck.job.power import told
from passcheck.job.settings import BenchSettings
from passcheck.job.state import Job, Run
from passcheck.job.steps import steps_of
from passcheck.sequence.model import Step

NO_RUN = Refusal("no run", "No run is open.", "Start a run.")


def run_and_step(job: Job, step_id: str) -> tuple[Run, Step] | Refusal:
    """The open run and the step, where the step belongs to it."""
    run = job.open_run
    if run is None:
        return NO_RUN
    step = next((one for one in steps_of(job, run.purpose) if one.id == step_id), None)
    if step is None:
        return Refusal("order", f"Step '{step_id}' is not part of this {run.purpose} run.", "Choose one of its steps.")
    return run, step


def people_refusal(job: Job, step: Step, person: str, run: Run, outside: Outside) -> Refusal | None:
    """Hazardous-live work needs a person whom the shop authorised, and another within call."""
    supply = job.sequence.supplies.get(step.power)
    if supply is None or supply.supply_class != "hazardous-live":
        return None
    worker = outside.settings.people.get(person)
    if worker is None or not worker.hazardous_live:
        return Refusal(
            "person", f"{person} is not authorised here for hazardous-live work.", "Stop here and hand over to who is."
        )
    if run.facts.second is None or run.facts.second == person:
        return Refusal("person", "Nobody else is named as within call.", "Start a run that names the second person.")
    return None


def unplugged_refusal(job: Job, step: Step, moment: Moment) -> Refusal | None:
    """A supply that has to be physically out has to be told off first."""
    states = told(job, moment)
    still = [name for name in step.unplugged if states.get(name) != "off"]
    return (
        Refusal("power", f"Supply {still[0]} has to be out for this step.", "Switch it off and unplug it.")
        if still
        else None
    )


def stranger(person: str, settings: BenchSettings) -> Refusal | None:
    """Why nothing can be done in this name, or None when the settings know the person."""
    if person in settings.people:
        return None
    return Refusal("person", f"'{person}' is not among the bench's people.", "Enter the person in bench.yaml.")


def identified(person: str, pin: str, outside: Outside) -> Refusal | None:
    """None when this person is known here and the PIN is theirs (or none is kept of them)."""
    if (unknown := stranger(person, outside.settings)) is not None:
        return unknown
    kept = outside.settings.pin_hashes.get(person)
    if kept is None or pin_matches(kept, pin):
        return None
    return Refusal("person", f"That is not {person}'s PIN.", "Enter it again, or ask the person to sign.")
