"""May this run begin or end, and may the job change hands?"""

from datetime import date

from passcheck.job import events as happened
from passcheck.job.commands import CloseRun, HandOver, MapComplaint, Refusal, ReviseSequence, StartRun
from passcheck.job.events import Event, InstrumentInUse
from passcheck.job.moment import Moment
from passcheck.job.outcome import outcome
from passcheck.job.outside import Outside
from passcheck.job.power import on_now, unknown_now
from passcheck.job.serial import read_serial
from passcheck.job.state import Job
from passcheck.job.steps import steps_of
from passcheck.judge.accuracy import no_worse

NO_RUN = Refusal("no run", "No run is open.", "Start a run.")


def map_complaint(job: Job, command: MapComplaint) -> tuple[Event, ...] | Refusal:
    """The owner's words stay; the technician says which symptoms of the sequence they are."""
    strange = [name for name in command.symptoms if name not in job.sequence.symptoms]
    if strange:
        return Refusal(
            "entry", f"The sequence knows no symptom '{strange[0]}'.", "Choose from the sequence's symptoms."
        )
    return (happened.ComplaintMapped(command.symptoms, command.conditions),)


def start_run(job: Job, command: StartRun, outside: Outside) -> tuple[Event, ...] | Refusal:
    """A run begins with the serial read off the unit, and with instruments that are good enough for its steps."""
    if job.open_run is not None:
        return Refusal("order", f"Run {job.open_run.number} is still open.", "Close it first.")
    if read_serial(command.serial) != job.serial:
        return Refusal(
            "unit",
            f"The unit in hand reads {command.serial.strip() or 'nothing'}; this job is for unit {job.serial}.",
            "Fetch the right unit, or open its own job.",
        )
    if not steps_of(job, command.purpose):
        return Refusal("order", f"The sequence has no steps for {command.purpose}.", "Choose another purpose.")
    if command.second is not None and command.second not in outside.settings.people:
        return Refusal(
            "person", f"'{command.second}' is not among the bench's people.", "Enter the person in bench.yaml."
        )
    taken = _instruments(job, command, outside)
    if isinstance(taken, Refusal):
        return taken
    return (
        happened.RunStarted(
            run=len(job.runs) + 1,
            purpose=command.purpose,
            revision=job.sequence.revision,
            sequence_digest=job.sequence_digest,
            serial_scanned=job.serial,
            instruments=taken,
            ambient_c=command.ambient_c,
            second=command.second,
        ),
    )


def _instruments(job: Job, command: StartRun, outside: Outside) -> tuple[InstrumentInUse, ...] | Refusal:
    taken = []
    for role, name in command.instruments:
        found = instrument_for(job, role, name, outside)
        if isinstance(found, Refusal):
            return found
        taken.append(found)
    return tuple(taken)


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


def close_run(job: Job, _command: CloseRun | None = None) -> tuple[Event, ...] | Refusal:
    """The run ends with what it showed."""
    run = job.open_run
    if run is None:
        return NO_RUN
    return (happened.RunClosed(run.number, outcome(job, run)),)


def hand_over(job: Job, command: HandOver, outside: Outside) -> tuple[Event, ...] | Refusal:
    """Another person takes the job; cautions are asked of them afresh."""
    if command.to not in outside.settings.people:
        return Refusal("person", f"'{command.to}' is not among the bench's people.", "Enter the person in bench.yaml.")
    if command.to == job.holder:
        return Refusal("person", f"{command.to} has the job already.", "Name the person who takes over.")
    return (happened.HandedOver(command.to, command.note),)


def revise_sequence(job: Job, command: ReviseSequence, moment: Moment) -> tuple[Event, ...] | Refusal:
    """The only way to another sequence text: said aloud, with the unit unpowered and no run open."""
    if command.sequence_digest == job.sequence_digest:
        return Refusal("order", "Today's file is the one this job already uses.", "Nothing needs doing.")
    if job.open_run is not None:
        return Refusal("order", f"Run {job.open_run.number} is still open.", "Close it first.")
    if on_now(job, moment) or unknown_now(job, moment):
        return Refusal("power", "A supply is told on or unknown.", "Make safe first.")
    return (happened.SequenceRevised(command.sequence_text, command.sequence_digest, command.why),)
