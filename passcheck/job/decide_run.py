"""May this run begin or end, and may the job change hands?"""

from passcheck.job import events as happened
from passcheck.job.arrival import serial_refusal
from passcheck.job.commands import HandOver, MapComplaint, Refusal, ReviseSequence, StartRun
from passcheck.job.decide_attempt import touch_refusal
from passcheck.job.events import Event, InstrumentInUse
from passcheck.job.instruments import instrument_for
from passcheck.job.moment import Moment
from passcheck.job.outcome import outcome
from passcheck.job.outside import Outside
from passcheck.job.permission import NO_RUN, stranger
from passcheck.job.power import on_now, unknown_now
from passcheck.job.serial import read_serial
from passcheck.job.state import Job
from passcheck.job.steps import steps_of
from passcheck.job.symptoms import failed_symptoms

SCAN_GOOD = "Scan the known-good unit."


def map_complaint(job: Job, command: MapComplaint) -> tuple[Event, ...] | Refusal:
    """The owner's words stay; the technician says which symptoms of the sequence they are."""
    strange = [name for name in command.symptoms if name not in job.sequence.symptoms]
    if strange:
        return Refusal(
            "entry", f"The sequence knows no symptom '{strange[0]}'.", "Choose from the sequence's symptoms."
        )
    return (happened.ComplaintMapped(command.symptoms, command.conditions),)


def start_run(job: Job, command: StartRun, moment: Moment, outside: Outside) -> tuple[Event, ...] | Refusal:
    """A run begins with the serial read off the unit, and with instruments that are good enough for its steps."""
    if job.open_run is not None:
        return Refusal("order", f"Run {job.open_run.number} is still open.", "Close it first.")
    wrong = _good_unit_refusal(job, command, moment) if command.purpose == "good-unit" else _unit_refusal(job, command)
    if wrong is not None:
        return wrong
    if not steps_of(job, command.purpose):
        return Refusal("order", f"The sequence has no steps for {command.purpose}.", "Choose another purpose.")
    if command.again and (command.purpose != "retest" or not failed_symptoms(job)):
        return Refusal("order", "There is no failed symptom to walk again.", "Choose another purpose.")
    if command.second is not None and (unknown := stranger(command.second, outside.settings)) is not None:
        return unknown
    taken = _instruments(job, command, outside)
    if isinstance(taken, Refusal):
        return taken
    return (
        happened.RunStarted(
            run=len(job.runs) + 1,
            purpose=command.purpose,
            revision=job.sequence.revision,
            sequence_digest=job.sequence_digest,
            serial_scanned=read_serial(command.serial),
            instruments=taken,
            ambient_c=command.ambient_c,
            second=command.second,
            again=command.again,
        ),
    )


def _unit_refusal(job: Job, command: StartRun) -> Refusal | None:
    if read_serial(command.serial) == job.serial:
        return None
    return Refusal(
        "unit",
        f"The unit in hand reads {command.serial.strip() or 'nothing'}; this job is for unit {job.serial}.",
        "Fetch the right unit, or open its own job.",
    )


def _good_unit_refusal(job: Job, command: StartRun, moment: Moment) -> Refusal | None:
    """Another unit of the board, while this one lies off and proved dead: what is told of power is then the other's."""
    scanned = read_serial(command.serial)
    if scanned == job.serial:
        return Refusal("unit", f"{scanned} is the unit under repair: a good-unit run reads another one.", SCAN_GOOD)
    if (strange := serial_refusal(scanned, job.sequence)) is not None:
        return strange
    if touch_refusal(job, moment) is not None:
        words = "This unit was not told off and proved dead: it has to be, before another one takes its place."
        return Refusal("power", words, "Make safe first.")
    return None


def _instruments(job: Job, command: StartRun, outside: Outside) -> tuple[InstrumentInUse, ...] | Refusal:
    taken = []
    for role, name in command.instruments:
        found = instrument_for(job, role, name, outside)
        if isinstance(found, Refusal):
            return found
        taken.append(found)
    return tuple(taken)


def close_run(job: Job, moment: Moment) -> tuple[Event, ...] | Refusal:
    """The run ends with what it showed; the good unit leaves the bench off and proved dead."""
    run = job.open_run
    if run is None:
        return NO_RUN
    if job.open_soak is not None:
        return Refusal("order", "The unit is on soak.", "End the soak, or make safe; then close the run.")
    if run.purpose == "good-unit" and touch_refusal(job, moment) is not None:
        words = f"Unit {run.facts.serial_scanned} was not told off and proved dead."
        return Refusal("power", words, "Make it safe first; then close the run.")
    return (happened.RunClosed(run.number, outcome(job, run)),)


def hand_over(job: Job, command: HandOver, outside: Outside) -> tuple[Event, ...] | Refusal:
    """Another person takes the job; cautions are asked of them afresh."""
    if (unknown := stranger(command.to, outside.settings)) is not None:
        return unknown
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
    if not command.why.strip():
        return Refusal("entry", "A new revision needs its reason.", "Say why this job goes on under it.")
    return (happened.SequenceRevised(command.sequence_text, command.sequence_digest, command.why.strip()),)
