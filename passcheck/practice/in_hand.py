"""In which circumstances is the unit of this job now, by what the journal says?"""

from passcheck.job.moment import Moment
from passcheck.job.state import Job
from passcheck.practice.effects import Around
from passcheck.practice.unit import Reworks

AT_POWER = ("on", "soaking")


def reworks_of(job: Job) -> Reworks:
    """The blocks that each rework touched, the earliest first; incidents and opened cases mend nothing."""
    return tuple(frozenset(change.blocks) for change in job.changes if change.kind == "rework")


def around_now(job: Job, moment: Moment, under: tuple[str, ...] = ()) -> Around:
    """How long the unit has been at power or off, and what it is put to.

    What was told of power decides, not what may be believed of it: a unit stays as warm as it is when its technician
    was away for too long. The call to make safe tells it off: that is when the hand switches.
    """
    powered_min, off_s = 0.0, Around().off_s
    for supply in job.sequence.supplies:
        changes = [change for change in job.power if change.supply == supply]
        if not changes:
            continue
        last = changes[-1]
        if last.told in AT_POWER:
            first = last
            for change in reversed(changes):
                if change.told not in AT_POWER:
                    break
                first = change
            powered_min = max(powered_min, _seconds(moment, first.moment) / 60)
            off_s = 0.0
        elif any(change.told in AT_POWER for change in changes):
            off_s = min(off_s, _seconds(moment, last.moment))
    return Around(powered_min, off_s, frozenset(under))


def _seconds(moment: Moment, earlier: Moment) -> float:
    gone = moment.since(earlier)
    return max(0.0, (moment.utc - earlier.utc if gone is None else gone).total_seconds())
