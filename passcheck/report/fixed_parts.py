"""Which of the fixed sentences belong on a paper of this unit, beside those at the end of every paper?"""

from passcheck.job.answers import CodesAnswer
from passcheck.job.fixed_words import CLEARING, LICENSED, REBOUND
from passcheck.job.standing import withdrawn
from passcheck.job.state import Job
from passcheck.report.bounded import listed
from passcheck.report.document import Part, Words

CODES_SHOWN, CODES_ROOM = 12, 44


def fixed_parts(job: Job, *, opens: bool = True) -> tuple[Part, ...]:
    """The sentences on hazardous-live parts, on stored energy and on cleared codes, each where it applies.

    Args:
        job: whose unit it is.
        opens: whoever reads the paper may come to open the unit and discharge it.
    """
    places = job.sequence.stored_energy
    points = ", ".join(place.at for place in places)
    said: list[Part] = [Words(LICENSED, "notice")] if hazardous_live(job) else []
    if opens and places:
        said.append(
            Words(f"This unit stays charged after power is off: {points}. On discharging it: {REBOUND}", "notice")
        )
    cleared = codes_cleared(job)
    if cleared:
        shown = listed(cleared, CODES_SHOWN, CODES_ROOM)
        said.append(Words(f"{CLEARING} Cleared on the bench, after they were written down: {shown}."))
    return tuple(said)


def hazardous_live(job: Job) -> bool:
    """Is any supply of the sequence one that can kill?"""
    return any(supply.supply_class == "hazardous-live" for supply in job.sequence.supplies.values())


def codes_cleared(job: Job) -> tuple[str, ...]:
    """Codes that were read or made to come, then cleared, and were gone after that."""
    found: dict[str, None] = {}
    for attempt in job.attempts:
        answer = attempt.answer
        if attempt.purpose == "good-unit" or withdrawn(attempt) or not isinstance(answer, CodesAnswer):
            continue
        if answer.after_clear is not None:
            found |= dict.fromkeys(
                code for code in (*answer.present, *answer.provoked) if code not in answer.after_clear
            )
    return tuple(found)
