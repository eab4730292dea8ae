"""May this unit leave, and as what?"""

from passcheck.job import events as happened
from passcheck.job.blocker import Blocker
from passcheck.job.commands import Refusal, ReturnInPart, ReturnUnrepaired, SignOff
from passcheck.job.decide_attempt import touch_refusal
from passcheck.job.events import Event
from passcheck.job.gate import blockers
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.permission import identified
from passcheck.job.serial import read_serial
from passcheck.job.standing import passes_standing
from passcheck.job.state import Job
from passcheck.job.steps import needed_for_release

MEANING = "Released: every step of the sequence passed as left, on the record of this journal."
Answered = tuple[Event, ...] | Refusal


def sign_off(job: Job, command: SignOff, moment: Moment, outside: Outside) -> Answered:
    """Release the unit when nothing stands against it; otherwise keep what stood against it."""
    if (stranger := identified(command.by, command.pin, outside)) is not None:
        return stranger
    if command.second is not None and (stranger := identified(command.second, command.second_pin, outside)) is not None:
        return stranger
    found = blockers(job, outside, moment) + at_the_door(job, command)
    if found:
        return (happened.SignOffRefused(tuple(one.sentence for one in found)),)
    run = job.open_run
    closing: tuple[Event, ...] = (happened.RunClosed(run.number, "signed off"),) if run is not None else ()
    return (*closing, happened.SignedOff(job.serial, MEANING, command.second))


def at_the_door(job: Job, command: SignOff) -> tuple[Blocker, ...]:
    """What only the moment of signing shows: the serial in hand, and who stands beside the signer."""
    found = []
    if read_serial(command.serial) != job.serial:
        read = command.serial.strip() or "nothing"
        found.append(Blocker(f"The unit in hand reads {read}; this job is for {job.serial}.", "Fetch the right unit."))
    if command.second is not None and command.second == command.by:
        found.append(Blocker("The second person is the signer.", "Another person is needed."))
    return tuple(found)


def return_unrepaired(job: Job, command: ReturnUnrepaired, moment: Moment, outside: Outside) -> Answered:
    """Let the unit go without a release; it still has to be off and proved dead."""
    refusal = identified(command.by, command.pin, outside) or unrepaired_refusal(job, command, moment)
    return refusal or (happened.ReturnedUnrepaired(command.reason.strip()),)


def unrepaired_refusal(job: Job, command: ReturnUnrepaired, moment: Moment) -> Refusal | None:
    """Why the unit may not go back as it is."""
    if (unsafe := touch_refusal(job, moment)) is not None:
        return unsafe
    if not command.reason.strip():
        return Refusal("entry", "Say why the unit goes back unrepaired.", "One sentence will do.")
    return None


def return_in_part(job: Job, command: ReturnInPart, moment: Moment, outside: Outside) -> Answered:
    """Let the unit go with open points that its owner agreed to; not a release."""
    refusal = identified(command.by, command.pin, outside) or in_part_refusal(job, command, moment)
    return refusal or (happened.ReturnedInPart(open_points(job), command.agreed.strip()),)


def in_part_refusal(job: Job, command: ReturnInPart, moment: Moment) -> Refusal | None:
    """Why the unit may not go back with open points."""
    if (unsafe := touch_refusal(job, moment)) is not None:
        return unsafe
    if not open_points(job):
        return Refusal("order", "Every step passes.", "Sign the unit off.")
    if not command.agreed.strip():
        return Refusal("entry", "The owner's agreement is missing.", "Note who agreed, to what, and when.")
    return None


def open_points(job: Job) -> tuple[str, ...]:
    """Titles of the steps that are needed for a release and don't pass as left."""
    return tuple(step.title for step in needed_for_release(job) if not passes_standing(job, step))
