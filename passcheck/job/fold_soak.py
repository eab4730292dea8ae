"""What becomes of a soak when it is started, looked at, cycled and ended?"""

from dataclasses import replace

from passcheck.job import events as happened
from passcheck.job.history import changed, exchanged, grown
from passcheck.job.state import Job, Recorded, SoakLeg, SoakLook


def started(job: Job, one: Recorded, event: happened.SoakStarted) -> Job:
    """A leg begins, and its start is its first look."""
    start = SoakLook(one.number, one.moment, job.measured, event.volts, event.amps, event.witness, event.ambient)
    leg = SoakLeg(event.step, event.supply, one.number, event.unattended, (start,))
    return changed(job, soaks=grown(job, job.soaks, leg))


def looked_at(job: Job, one: Recorded, event: happened.SoakChecked) -> Job:
    """One more look at the open leg."""
    leg = job.open_soak
    if leg is None:
        return job
    look = SoakLook(
        line=one.number,
        moment=one.moment,
        measured=job.measured,
        volts=event.volts,
        amps=event.amps,
        continuity=event.continuity,
        ambient=event.ambient,
        good=event.good,
        cycles=event.cycles,
        lost=event.lost,
    )
    return _open(job, replace(leg, looks=grown(job, leg.looks, look)))


def cycled(job: Job, line: int) -> Job:
    """Power was told off and on again, as planned."""
    leg = job.open_soak
    return job if leg is None else _open(job, replace(leg, cycled=grown(job, leg.cycled, line)))


def ended(job: Job, line: int, why: str) -> Job:
    """The open leg ends at this line."""
    leg = job.open_soak
    return job if leg is None else _open(job, replace(leg, ended_line=line, ended=why))


def _open(job: Job, leg: SoakLeg) -> Job:
    return changed(job, soaks=exchanged(job, job.soaks, len(job.soaks) - 1, leg))
