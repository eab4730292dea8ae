"""What does the tester show where a unit may still hold charge?

One answer for everybody who asks, be it a sheet that is filled in or the panel of the unit: two displays of one voltage
that differ would teach a newcomer to distrust both.
"""

from decimal import Decimal
from typing import Final

from passcheck.job.moment import Moment
from passcheck.job.state import Job
from passcheck.judge.quantity import show
from passcheck.practice.at_the_bench import PracticeBench
from passcheck.practice.serials import drawn_from
from passcheck.sequence.model import StoredEnergy

VOLT_DIGIT: Final = Decimal("0.01")
NEARLY: Final = 0.9  # the residue and the display's last digit come on top of what is held
RESIDUE_V: Final = 0.03  # what a voltmeter picks up where nothing is charged, at most


def charge(
    practice: PracticeBench, job: Job, place: StoredEnergy, moment: Moment, *, reverse: bool = False, ac: bool = False
) -> str:
    """The voltmeter at a place that stores charge, one way round or the other; on AC a charge shows next to nothing."""
    held = 0.0 if ac else practice.charge_v(job, place, moment)
    residue = drawn_from(job.serial, "residue", place.at, ac).uniform(0.0, RESIDUE_V)
    return show(-(held + residue) if reverse else held + residue, "V", VOLT_DIGIT)


def still_falls(practice: PracticeBench, job: Job, place: StoredEnergy, moment: Moment) -> bool:
    """Is more held there than the sequence calls discharged? Whoever types now has to measure once more."""
    return practice.charge_v(job, place, moment) > NEARLY * float(place.discharged_below.value)


def at_terminals(practice: PracticeBench, job: Job, moment: Moment) -> str:
    """The voltmeter at the supply's terminals, its output off: what the unit still holds."""
    held = max((practice.charge_v(job, place, moment) for place in job.sequence.stored_energy), default=0.0)
    return show(held + drawn_from(job.serial, "terminals").uniform(0.0, RESIDUE_V), "V", VOLT_DIGIT)
