"""What does a newcomer do next at this point of a job's life, and with which key?

One short sentence at a time, about the next key and never about what is wrong with the unit: that is found at the
bench, and told once the job is over.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from passcheck.job import power
from passcheck.job.moment import Moment
from passcheck.job.outcome import outcome
from passcheck.job.plan import plan
from passcheck.job.run_choice import suggested
from passcheck.job.standing import latest, passes_standing
from passcheck.job.state import Job
from passcheck.job.steps import present
from passcheck.job.summary import waits_for
from passcheck.job.symptoms import failed_symptoms
from passcheck.job.timed import way_of
from passcheck.practice.forward import Soaks, soaking_of
from passcheck.sequence.model import Step

Spot = Literal[
    "shelf",
    "history",
    "rack",
    "traveller",
    "bench",
    "caution",
    "make safe",
    "power on",
    "supply read",
    "run start",
    "close run",
    "suspects",
    "rework",
    "put back",
    "start soak",
    "look",
    "taps",
    "sign-off",
    "how tried",
    "complaint",
    "note",
    "elsewhere",
]


@dataclass(frozen=True, slots=True)
class Where:
    """What the screen knows of where the newcomer is.

    Attributes:
        spot: which screen.
        step: the step at hand on the bench.
        act: the name of the act that the bench offers before the step can be tried, "" where it is open; "fact"
            where a caution asks for one, "sign" where nothing stands against a signature.
        again: an answer outside its limits waits to be given once more.
        soaks: on the shelf and the rack, what is to be done first about the units that soak.
        units: how many units wait on the shelf.
        by_hand: is the step at hand timed by taps, as far as it can be?
        over: once the job has ended, what was wrong with the unit.
    """

    spot: Spot
    step: Step | None = None
    act: str = ""
    again: bool = False
    soaks: Soaks = "none"
    units: int = 1
    by_hand: bool = True
    over: str = ""


FIRST_SAFE: Final = "F8: make safe. The unit panel (F10) shows what you measure."
CLOSE: Final = "Make safe (F8), then close the run (F12)."
CLOSE_OFF: Final = "F12: close the run."
_SHEETS: Final[Mapping[Spot, str]] = {
    "caution": "Read it. Type what the display shows, below, all its digits; Enter.",
    "make safe": "Type what each display shows, below; Enter after each. Then wait.",
    "power on": "Your hand switches. Type volts and limit off the display; Enter.",
    "supply read": "Look at the supply. Type what its display shows, below; Enter.",
    "run start": "Read the serial off the unit, type it, Enter; the air's degrees too.",
    "close run": "The outcome follows from what you entered. F4 closes the run.",
    "suspects": "A help where to look, no verdict. Esc goes back; then R: rework.",
    "rework": "Type the block or parts, Tab to the reason; see what goes stale; F4.",
    "put back": "Choose what you took off or set back, say how, then F4.",
    "start soak": "Type what the displays show, below. You stay: leave the rest empty.",
    "look": "Serial off the unit first, then what each display shows; Enter.",
    "taps": "Tap when you see it. A bad tap: F4 takes it back. Esc breaks off.",
    "sign-off": "Read the serial off the unit once more, type it, then F4 signs.",
    "how tried": "Tick what the unit is put to now, then F4: the next try is under it.",
    "note": "A few words, or a photo's path below (any name); F4 keeps it.",
    "complaint": "The owner's words stay. Tick the symptoms that match them, then F4.",
}
_ACTS: Final[Mapping[str, str]] = {
    "caution": "Enter: read the caution and answer it.",
    "power on": "Enter: tell what the supply's display shows now that it is on.",
    "make safe": "F8: make safe, so that power is known again.",
    "read supply": "Enter: read the supply's display after the absence.",
    "guard": "Another step comes first. Enter goes there.",
    "put back": "Something is still on the unit. Enter: take it off and say so.",
    "start soak": "Enter: start the soak; the unit stays at power from then on.",
    "end soak": "Hours and looks are there. Enter ends the soak.",
}
_KINDS: Final[Mapping[str, str]] = {
    "reading": "Probe as it says. Read the unit panel (F10), type the figure; Enter.",
    "table": "Feed each row, read the unit panel (F10), type the figures; Enter.",
    "power-up": "Type current and limit light off the unit panel (F10); Enter.",
    "lamps": "Look at the lamps on the unit panel (F10). All as it says: Enter.",
    "look": "Look at the unit panel (F10). All as it says: Enter.",
    "codes": "Do it on the unit panel (F10); type the codes seen, or none; Enter.",
    "marks": "Read the pointer on the unit panel (F10) at each mark; Enter.",
    "grade": "Watch the unit panel (F10): type the class and the time; Enter.",
    "count": "Count on the unit panel (F10), type how many; Enter.",
    "presses": "Press on the unit panel (F10), type how many answered; Enter.",
    "response": "Type what the instrument shows on the unit panel (F10); Enter.",
    "sweep": "Watch the pointer on the unit panel (F10), type both times; Enter.",
}
_RACK: Final[Mapping[Soaks, str]] = {
    "none": "Nothing soaks here. Esc goes back to the shelf.",
    "waiting": "Nothing is due. Ctrl+G lets time go by up to the next look.",
    "due": "A look is due. Type the serial off the unit, then Enter.",
    "open": "A look is begun: type the serial, Enter, and walk its steps.",
    "done": "It has its hours. Type the serial, Enter, then end the soak.",
}
_NEXT_RUN: Final[Mapping[str, str]] = {
    "as-found": "Enter starts a run as found: is the owner's complaint there?",
    "retest": "Enter starts a retest: it walks what the rework reaches.",
    "acceptance": "Enter starts the acceptance: every step has to pass as left.",
    "burn-in": "Enter starts the burn-in: hours at power, with looks between.",
}


def advice(job: Job | None, moment: Moment, where: Where) -> str:
    """One sentence, or "" where nothing needs saying."""
    if where.spot == "rack":
        return _RACK[where.soaks]
    if where.spot == "history":
        return "Read what was found and done at earlier visits. Esc goes on."
    if where.spot == "shelf" or job is None:
        return _shelf(where)
    if job.ended is not None:
        return where.over
    if where.spot == "traveller":
        return _traveller(job, moment)
    if where.spot == "bench":
        return _bench(job, moment, where)
    if where.spot == "caution" and where.act != "fact":
        return "Read it. Press U once you have understood it and the bench is so."
    if where.spot == "sign-off" and not where.act:
        return "Enter on a line leads to the step that lifts it. Esc: back."
    return _SHEETS.get(where.spot, "")


def _shelf(where: Where) -> str:
    if where.soaks not in ("none", "done"):
        return "A unit soaks: F7 goes to the rack. Ctrl+G there lets time go by."
    if not where.units:
        return "No unit waits. Ctrl+Q ends it; 'passcheck practice' brings another."
    return "Down, then Enter: take the unit that waits in hand."


def _traveller(job: Job, moment: Moment) -> str:
    if job.open_run is not None:
        left = plan(job) or job.open_soak is not None
        return (
            "Enter takes the step where you stand to the bench." if left else "C closes the run; F8 first if powered."
        )
    if job.fitted:
        return "O: put back what was changed for a test, before it leaves."
    if not job.runs and _is_unknown(job, moment):
        return FIRST_SAFE
    if waits_for(job) == "rework" and not _reworked_since(job):
        return "Which block? Ctrl+F weighs what failed. R: enter the rework you do."
    if all(passes_standing(job, step) for step in present(job)):
        if any(_lacks_paper(job, step, _begun(job, step)) for step in present(job)):
            return "A photo or a note is missing: Tab, Enter on its line, then N."
        return "S: the signature, or what still stands against it."
    purpose = suggested(job)
    if purpose == "acceptance" and _only_final(job):
        return "Enter starts the acceptance: only the final look is left."
    return _NEXT_RUN[purpose]


def _bench(job: Job, moment: Moment, where: Where) -> str:
    run, step = job.open_run, where.step
    if run is None:
        return "Esc: back to the traveller." if job.attempts else FIRST_SAFE
    if where.again:
        return "Outside the limits: read it anew and type it again; slips show so."
    if (soak := soaking_of(job, moment)) is not None and (step is None or step.kind == "soak"):
        return _at_soak(soak.state)
    if run.purpose == "as-found" and _confirmed(job):
        return f"The complaint is seen. {CLOSE_OFF if power.all_off(job, moment) else CLOSE}"
    if step is None:
        return _walked(job, run.purpose, moment)
    if where.act:
        return _ACTS.get(where.act, "")
    if (run.purpose != "as-found" or step.role == "arrival") and (lacks := _lacks_paper(job, step, run.line)):
        return f"It asks for a {lacks}: F4 takes it, any words will do. Then answer."
    if where.by_hand and way_of(job, step) is not None:
        return "Enter begins the taps: tap when the unit answers. F5: by instrument."
    return _KINDS.get(step.kind, "")


def _lacks_paper(job: Job, step: Step, since: int) -> str:
    """What of photo and note the step asks for and nobody gave since this line, or ""."""
    own = [note for note in job.notes if note.step == step.id and note.line > since]
    if step.photo and not any(note.photos for note in own):
        return "photo"
    return "note" if step.note and not any(note.text.strip() for note in own) else ""


def _begun(job: Job, step: Step) -> int:
    """The line of the run in which the step's latest attempt was made."""
    attempt = latest(job, step)
    return -1 if attempt is None else next((run.line for run in job.runs if run.number == attempt.run), -1)


def _walked(job: Job, purpose: str, moment: Moment) -> str:
    run = job.open_run
    if purpose == "as-found" and run is not None and outcome(job, run).startswith("inconclusive"):
        return "Not seen yet. Ctrl+N: try it warm or shaken; Ctrl+G: 10 min go by."
    if power.all_off(job, moment):
        return "All is walked. Enter: close the run."
    return f"All is walked. {CLOSE}"


def _at_soak(state: Soaks) -> str:
    if state == "due":
        return "A look is due. Enter: look at the unit."
    if state == "done":
        return _ACTS["end soak"]
    if state == "open":
        return _ACTS["guard"]
    return "It soaks. Ctrl+G lets time go by up to the next look."


def _confirmed(job: Job) -> bool:
    return bool(failed_symptoms(job))


def _is_unknown(job: Job, moment: Moment) -> bool:
    return bool(power.unknown_now(job, moment))


def _reworked_since(job: Job) -> bool:
    """Was something done to the unit after the last step that failed?"""
    failed = max((one.line for one in job.attempts if one.judgement.verdict == "fail"), default=-1)
    return any(change.kind == "rework" and change.line > failed for change in job.changes)


def _only_final(job: Job) -> bool:
    return all(step.role == "final" for step in present(job) if not passes_standing(job, step))
