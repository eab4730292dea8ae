"""In which circumstances is the unit of this job now, by what the journal says?"""

from collections.abc import Sequence as Many
from dataclasses import dataclass

from passcheck.job.moment import Moment
from passcheck.job.power import proved_dead
from passcheck.job.state import Job, PowerChange
from passcheck.practice.effects import Around
from passcheck.practice.unit import Reworks

AT_POWER = ("on", "soaking")


def is_at_power(job: Job, supply: str) -> bool:
    """Has the unit this supply, by what was told last? Nobody's doubt switches it off."""
    told = [change.told for change in job.power if change.supply == supply and change.told != "unknown"]
    return bool(told) and told[-1] in AT_POWER


def reworks_of(job: Job) -> Reworks:
    """The blocks that each rework touched, the earliest first; incidents and opened cases mend nothing."""
    return tuple(frozenset(change.blocks) for change in job.changes if change.kind == "rework")


def around_now(job: Job, moment: Moment, under: tuple[str, ...] = ()) -> Around:
    """How long the unit has been at power or off, and what it is put to.

    What was told of power decides, not what may be believed of it: a unit stays as warm as it is when its technician
    was away for too long. The call to make safe is when the hand switches, so what is stored decays from there on, and
    once the unit is proved dead nothing is left to decay.
    """
    seen = {name: _seen_at(job, name) for name in job.sequence.supplies}
    last = max((name for name in seen if seen[name].powered), key=lambda name: seen[name].line, default="")
    warm = [one.since for one in seen.values() if one.since is not None]
    powered_min = max((_seconds(moment, since) / 60 for since in warm), default=0.0)
    off_s = Around().off_s
    if last and not proved_dead(job):
        off = [one.off for one in seen.values() if one.powered]
        off_s = min(0.0 if one is None else _seconds(moment, one) for one in off)
    return Around(powered_min, off_s, frozenset(under), last)


@dataclass(frozen=True, slots=True)
class _Course:
    """What one supply did: was it ever on, since when without a break, when switched off, the line it came on."""

    powered: bool = False
    since: Moment | None = None
    off: Moment | None = None
    line: int = 0


def _seen_at(job: Job, supply: str) -> _Course:
    changes = [change for change in job.power if change.supply == supply]
    places = [place for place, change in enumerate(changes) if change.told in AT_POWER]
    if not places:
        return _Course()
    after = changes[places[-1] + 1 :]
    line = changes[places[-1]].line
    if any(change.told == "off" for change in after):
        return _Course(True, None, _switched(after), line)
    return _Course(True, _came_on(changes[: places[-1] + 1]), after[-1].moment if after else None, line)


def _switched(after: Many[PowerChange]) -> Moment:
    """The telling of *off*, or the call to make safe that it answers: power has been unknown since."""
    nth = next(place for place, change in enumerate(after) if change.told == "off")
    return after[max(0, nth - 1)].moment


def _came_on(changes: Many[PowerChange]) -> Moment:
    """The first telling since it was last told off; doubt between switches nothing."""
    first = changes[-1].moment
    for change in reversed(changes):
        if change.told == "off":
            break
        first = change.moment if change.told in AT_POWER else first
    return first


def _seconds(moment: Moment, earlier: Moment) -> float:
    gone = moment.since(earlier)
    return max(0.0, (moment.utc - earlier.utc if gone is None else gone).total_seconds())
