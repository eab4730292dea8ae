"""What has made an attempt worthless?

One table, one row an event. A result that went stale stays readable and says which event did it. An inspection on
arrival never goes stale: it tells how the unit came in.
"""

from collections.abc import Callable
from typing import assert_never

from passcheck.job.state import Attempt, Change, ChangeKind, Job
from passcheck.sequence.model import NO_SUPPLY, Sequence, Step
from passcheck.sequence.reach import proves, reached, short_round

Reaches = Callable[[Sequence, Change, Step], bool]


def _touched_blocks(sequence: Sequence, change: Change, step: Step) -> bool:
    """Work on a block reaches what proves it or anything it feeds, the first power-up, the final look and the soak.

    New firmware, parameters or an address reach every powered step besides.
    """
    if step.kind == "soak" or step.role in ("first-power", "final"):
        return True
    if change.firmware and step.power != NO_SUPPLY:
        return True
    return bool(proves(sequence, step) & reached(sequence, change.blocks))


def _case_only(sequence: Sequence, _change: Change, step: Step) -> bool:
    """An opened case with nothing touched: the final look, a short functional round, the soak where it asks so."""
    if step.kind == "soak":
        return step.again_after_opening
    return step.role == "final" or step.id in short_round(sequence)


def _new_revision(_sequence: Sequence, change: Change, step: Step) -> bool:
    """Only the steps that the author marked as changed; all of them where nothing was marked."""
    return change.changed_steps is None or step.id in change.changed_steps


def _everything(_sequence: Sequence, _change: Change, _step: Step) -> bool:
    """A unit that failed under soak has shown that its acceptance proved too little: it is tested anew."""
    return True


def _row(kind: ChangeKind) -> Reaches:
    match kind:
        case "rework" | "incident":
            return _touched_blocks
        case "case opened":
            return _case_only
        case "new revision":
            return _new_revision
        case "failed soak check":
            return _everything
        case _:
            assert_never(kind)


def reaches(job: Job, change: Change, step: Step) -> bool:
    """Does this event make earlier results of this step worthless?"""
    if step.role == "arrival":
        return False
    return _row(change.kind)(job.sequence, change, step)


def stale_by(job: Job, attempt: Attempt) -> Change | None:
    """The first event after the attempt that made it worthless, or None while it stands."""
    try:
        step = job.sequence.step(attempt.step)
    except KeyError:  # a newer revision dropped the step
        return next((change for change in job.changes if change.line > attempt.line), None)
    later = (change for change in job.changes if change.line > attempt.line)
    return next((change for change in later if _spoils(job, change, attempt, step)), None)


def would_go_stale(job: Job, change: Change) -> tuple[Attempt, ...]:
    """The attempts that still stand and would not after this change: the preview before it is saved."""
    standing = (a for a in job.attempts if a.void is None and stale_by(job, a) is None)
    return tuple(a for a in standing if _spoils(job, change, a, job.sequence.step(a.step)))


def _spoils(job: Job, change: Change, attempt: Attempt, step: Step) -> bool:
    """What is done to this unit leaves the readings of another one as they are."""
    elsewhere = attempt.purpose == "good-unit" and change.kind not in ("incident", "new revision")
    return not elsewhere and reaches(job, change, step)


def call(change: Change) -> str:
    """How stamps and sentences name an event: "rework 2", "incident 1", "new revision 4"."""
    return f"{change.kind} {change.number}"
