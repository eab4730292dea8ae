"""Did a job deserve its ending by its own events?

The questions are those that were asked on the day, by the same functions: of the job as it stood before the line that
ended it, at that line's moment. What a bench knows besides its journals is left out, because only today's is there to
be asked: people and PINs, instruments found doubtful since, the sequence's file of today. None of it may make a bad job
of one that was good. What the records say of themselves is not asked here either.
"""

from typing import Final

from passcheck.job.blocker import Blocker
from passcheck.job.commands import Refusal, ReturnInPart, ReturnUnrepaired, SignOff
from passcheck.job.decide_ending import at_the_door, in_part_refusal, open_points, unrepaired_refusal
from passcheck.job.events import ReturnedInPart, ReturnedUnrepaired, SignedOff
from passcheck.job.gate import blockers
from passcheck.job.outside import Outside
from passcheck.job.settings import BenchSettings
from passcheck.job.state import Job, Recorded

NO_BENCH: Final = Outside(
    BenchSettings.model_validate(
        {"people": {}, "instruments": {}, "known_source": {"title": "none", "limits": "at least 0 V"}}
    )
)
"""A bench of which nothing is known but its journals."""


def against_ending(job: Job, ending: Recorded) -> tuple[Blocker, ...]:
    """What stood against the line that ended a job; empty where the job deserved it.

    Args:
        job: as it was before that line.
        ending: that line. One that ends nothing is one that nothing stands against.
    """
    match ending.event:
        case SignedOff(serial_scanned=serial, second=second):
            door = at_the_door(job, SignOff(ending.by, serial, second=second))
            return blockers(job, NO_BENCH, ending.moment) + door
        case ReturnedUnrepaired(reason=reason):
            return _refused(unrepaired_refusal(job, ReturnUnrepaired(ending.by, reason), ending.moment))
        case ReturnedInPart(agreed=agreed) as event:
            refused = _refused(in_part_refusal(job, ReturnInPart(ending.by, agreed), ending.moment))
            return refused + _left_out(job, event)
        case _:
            return ()


def _refused(refusal: Refusal | None) -> tuple[Blocker, ...]:
    return () if refusal is None else (Blocker(refusal.sentence, refusal.lift),)


def _left_out(job: Job, event: ReturnedInPart) -> tuple[Blocker, ...]:
    """The owner agrees to the points that are open, and to no others."""
    return tuple(
        Blocker(f"{title}: doesn't pass, and is not among the points that the owner agreed to.", "Ask the owner.")
        for title in open_points(job)
        if title not in event.points
    )
