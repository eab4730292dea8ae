"""Will this instrument do for that role, and is it in date?"""

from datetime import date

from passcheck.job.commands import Refusal
from passcheck.job.events import InstrumentInUse
from passcheck.job.outside import Outside
from passcheck.job.state import Job
from passcheck.judge.accuracy import no_worse


def instrument_for(job: Job, role: str, name: str, outside: Outside) -> InstrumentInUse | Refusal:
    """The instrument as it stands today, or why it won't do for that role."""
    owned = outside.settings.instruments.get(name)
    if owned is None or owned.withdrawn:
        return Refusal("instrument", f"{name} is not an instrument in use at this bench.", "Enter it in bench.yaml.")
    accuracy = owned.fills.get(role)
    if accuracy is None:
        return Refusal("instrument", f"{name} does not serve as {role}.", "Choose another instrument.")
    need = job.sequence.instruments.get(role)
    if need is not None and not no_worse(accuracy, need.accuracy):
        return Refusal(
            "instrument",
            f"{name} ({accuracy.text}) is worse than the {role} this sequence needs ({need.accuracy.text}).",
            "Choose a better instrument.",
        )
    return InstrumentInUse(role, name, owned.title, accuracy.text, owned.due.isoformat())


def overdue(used: InstrumentInUse, day: date) -> bool:
    """True when the calibration due date lies before that day."""
    return date.fromisoformat(used.due) < day
