"""May this be entered as done to the unit, or as said about it?"""

from passcheck.job import events as happened
from passcheck.job.commands import (
    AddNote,
    AgreeOwner,
    Jot,
    LogRework,
    OpenCase,
    Propose,
    Refusal,
    ReportIncident,
    UndoChange,
)
from passcheck.job.decide_attempt import touch_refusal
from passcheck.job.events import Event
from passcheck.job.fold import SHORTING_LEAD
from passcheck.job.left_by_rework import CLEARED_BY, lift_of
from passcheck.job.moment import Moment
from passcheck.job.power import on_now
from passcheck.job.serial import is_serial, read_serial
from passcheck.job.state import Job

Answered = tuple[Event, ...] | Refusal
MOST_PROPOSED, LONGEST_PROPOSED = 20, 400
"""Lines of a proposal and characters of a line: what an owner still reads, and what one page of a paper holds."""


def add_note(job: Job, command: AddNote) -> Answered:
    """Keep words and photo paths."""
    if not command.text.strip() and not command.photos:
        return Refusal("entry", "The note is empty.", "Write what you saw, or give a photo's path.")
    if command.step is not None and all(step.id != command.step for step in job.sequence.steps):
        return Refusal("entry", f"There is no step '{command.step}'.", "Choose a step of the sequence.")
    return (happened.NoteAdded(command.text, command.step, command.photos),)


def report_incident(job: Job, command: ReportIncident) -> Answered:
    """Something went wrong: results on these blocks are worthless from now, and power is unknown."""
    if (strange := _strange_block(job, command.blocks)) is not None:
        return strange
    if not command.what.strip():
        return Refusal("entry", "Say what happened.", "One sentence will do.")
    number = 1 + sum(change.kind == "incident" for change in job.changes)
    unknown = happened.PowerTold("unknown", tuple(job.sequence.supplies), f"incident {number}")
    return (unknown, happened.IncidentReported(number, command.blocks, command.what.strip()))


def log_rework(job: Job, command: LogRework, moment: Moment) -> Answered:
    """Work on an unpowered unit that was proved dead, with its reason; parts belong to the blocks named."""
    refusal = _hands_off(job, moment) or _where_refusal(job, command) or _donor_refusal(job, command)
    if refusal is not None:
        return refusal
    if not command.reason.strip():
        return Refusal("entry", "A rework needs its reason.", "Say what was found and why this was done.")
    if command.incident is not None and command.incident not in job.open_incidents:
        return Refusal("entry", f"Incident {command.incident} is not open.", "Choose an open incident.")
    return (
        happened.ReworkLogged(
            rework=len(job.reworks) + 1,
            blocks=command.blocks,
            parts=command.parts,
            action=command.action,
            reason=command.reason.strip(),
            part_number=command.part_number,
            repair=command.repair or command.action == "jumper",
            left_old=command.left_old,
            photos=command.photos,
            incident=command.incident,
            donor=read_serial(command.donor),
        ),
    )


def _hands_off(job: Job, moment: Moment) -> Refusal | None:
    """Why nobody works on this unit now: it isn't dead, or another one lies on the bench."""
    run = job.open_run
    if run is not None and run.purpose == "good-unit":
        words = (
            f"Run {run.number} reads unit {run.facts.serial_scanned}; what is done to that one belongs to no job here."
        )
        return Refusal("order", words, "Close the run; then enter what is done to this unit.")
    return touch_refusal(job, moment)


def _where_refusal(job: Job, command: LogRework) -> Refusal | None:
    """Known blocks, and parts that belong to them; what has to be undone by its parts names them."""
    if (strange := _strange_block(job, command.blocks)) is not None:
        return strange
    known = {part for block in command.blocks for part in job.sequence.blocks[block].parts}
    foreign = [part for part in command.parts if part not in known]
    if foreign:
        return Refusal(
            "entry", f"{foreign[0]} is not a part of {', '.join(command.blocks)}.", "Name the block it belongs to."
        )
    if command.action in CLEARED_BY and not command.parts:
        return Refusal("entry", f"No part is named as '{command.action}'.", "Name it: it has to be put right later.")
    return None


def _donor_refusal(job: Job, command: LogRework) -> Refusal | None:
    """A part swapped in has a unit that it came from, and no other part has one."""
    donor = read_serial(command.donor)
    if command.action != "swapped in":
        lift = "Choose 'swapped in', or leave the serial out."
        return Refusal("entry", "Only a part swapped in comes from another unit.", lift) if donor else None
    if donor == job.serial:
        return Refusal("unit", f"{donor} is this unit: nothing can be swapped in from it.", "Scan the donor unit.")
    if not is_serial(donor):
        said = f"'{donor}' is no serial number." if donor else "The serial of the unit it came from is missing."
        return Refusal("unit", said, "Scan the donor unit.")
    return None


def open_case(job: Job, command: OpenCase, moment: Moment) -> Answered:
    """The case came off an unpowered unit; nothing inside was touched."""
    if (unsafe := _hands_off(job, moment)) is not None:
        return unsafe
    return (happened.CaseOpened(command.why),)


def undo_change(job: Job, command: UndoChange, moment: Moment) -> Answered:
    """Something fitted for a test is put back."""
    chosen = next((it for it in job.fitted if it.change == command.change), None)
    if chosen is None:
        return Refusal(
            "entry", f"'{command.change}' is not on the list of what to put back.", "Choose one of the list."
        )
    if chosen.cleared_by:
        return Refusal("order", f"{chosen.words}. That is work on the unit, and is entered as such.", lift_of(chosen))
    if on_now(job, moment) and command.change == SHORTING_LEAD:
        return Refusal("power", "A supply is told on.", "Make safe first.")
    return (happened.ChangeUndone(command.change, command.how),)


def propose(command: Propose) -> Answered:
    """Keep what the owner is asked to agree to; each line is one thing, so that he can agree to it by itself."""
    lines = tuple(line.strip() for line in command.lines)
    if not lines or not all(lines):
        return Refusal("entry", "A line of the proposal is empty.", "Write what is to be done, a line a thing.")
    if len(lines) > MOST_PROPOSED:
        said = f"The proposal has {len(lines)} lines; {MOST_PROPOSED} is the most."
        return Refusal("entry", said, "Put together what belongs together.")
    if any(len(line) > LONGEST_PROPOSED or len(line.splitlines()) > 1 for line in lines):
        said = f"A line of the proposal is longer than {LONGEST_PROPOSED} characters, or not one line."
        return Refusal("entry", said, "Write it shorter, or as two things.")
    return (happened.WorkProposed(lines),)


def agree_owner(command: AgreeOwner) -> Answered:
    """Keep what the owner agreed to, and who took the word."""
    if not command.scope.strip() or not command.who.strip():
        return Refusal("entry", "Say what was agreed and by whom.", "Both are needed.")
    return (happened.OwnerAgreed(command.scope.strip(), command.who.strip()),)


def jot(command: Jot) -> Answered:
    """Keep a loose reading."""
    if not command.point.strip() or not command.value.strip():
        return Refusal("entry", "A jotting is a point and a value.", "Give both.")
    return (happened.Jotted(command.point.strip(), command.value.strip(), command.meter.strip()),)


def _strange_block(job: Job, blocks: tuple[str, ...]) -> Refusal | None:
    if not blocks:
        return Refusal("entry", "No block was named.", "Name the blocks that were touched.")
    strange = [name for name in blocks if name not in job.sequence.blocks]
    return (
        Refusal("entry", f"The sequence has no block '{strange[0]}'.", "Choose from its blocks.") if strange else None
    )
