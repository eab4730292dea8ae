"""Will this instrument do for that role, and is it in date?"""

from datetime import date

from passcheck.job.commands import Refusal
from passcheck.job.events import InstrumentInUse
from passcheck.job.outside import Outside
from passcheck.job.state import Job, Run
from passcheck.judge.accuracy import Accuracy, at_ambient, no_worse, parse_accuracy
from passcheck.judge.quantity import QuantityError, parse_quantity


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


def taken_up(run: Run, role: str) -> InstrumentInUse | None:
    """The instrument that a run took up for a role, if it took one."""
    return next((one for one in run.facts.instruments if one.role == role), None)


def overdue(used: InstrumentInUse, day: date) -> bool:
    """True when the calibration due date lies before that day."""
    return date.fromisoformat(used.due) < day


def accuracy_in(run: Run, used: InstrumentInUse) -> Accuracy:
    """The instrument's accuracy at the ambient temperature that the run was begun with."""
    written = run.facts.ambient_c
    try:
        ambient_c = None if written is None else float(parse_quantity(written, "°C").value)
    except QuantityError:
        ambient_c = None  # an old record's text, not to be read as a temperature
    return at_ambient(parse_accuracy(used.accuracy), ambient_c)
