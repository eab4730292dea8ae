"""How long did each try take at the bench?

A try is counted from the line before it in its run: the run's beginning, an answered caution, taps that were begun or
the try before. Where somebody was away in between, nobody knows how much of it was work.
"""

from collections.abc import Iterable, Mapping
from typing import cast

from passcheck.job.events import AttemptJudged, CautionAcknowledged, ReferenceTapped, RunStarted, TimingBegun
from passcheck.job.moment import Moment
from passcheck.job.state import Recorded

_OF_A_RUN = frozenset({RunStarted, CautionAcknowledged, TimingBegun, ReferenceTapped, AttemptJudged})
_OfARun = RunStarted | CautionAcknowledged | TimingBegun | ReferenceTapped | AttemptJudged


def seconds_of_work(recorded: Iterable[Recorded]) -> Mapping[int, int]:
    """Whole seconds by the attempt's number; one that isn't known has none.

    An absence is what `Moment.absent_since` calls one, between any two lines. A late entry was measured at another
    time, so it has none itself.
    """
    found: dict[int, int] = {}
    since: dict[int, Moment | None] = {}
    """By run: when its last line was written; None since somebody was away."""
    last: Moment | None = None
    for one in recorded:
        moment, event = one.moment, one.event
        if last is not None and moment.absent_since(last):
            since = dict.fromkeys(since)
        last = moment
        if type(event) not in _OF_A_RUN:
            continue
        run = cast(_OfARun, event)
        if isinstance(run, AttemptJudged) and run.measured_at is None:
            _note(found, run.attempt, moment, since.get(run.run))
        since[run.run] = moment
    return found


def _note(found: dict[int, int], attempt: int, moment: Moment, before: Moment | None) -> None:
    passed = moment.since(before) if before is not None else None
    if passed is not None:
        found[attempt] = max(0, round(passed.total_seconds()))  # make safe is stamped at its key and may overtake
