"""What has made an attempt worthless?

One table, one row an event. A result that went stale stays readable and says which event did it. An inspection on
arrival never goes stale: it tells how the unit came in.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import assert_never

from passcheck.job.asked_once import asked_once
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
    return bool(proves(sequence, step) & _area(sequence, change.blocks))


@asked_once
def _area(sequence: Sequence, blocks: tuple[str, ...]) -> frozenset[str]:
    return reached(sequence, blocks)


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
    return _reaches(job.sequence, change, step)


def _reaches(sequence: Sequence, change: Change, step: Step) -> bool:
    if step.role == "arrival":
        return False
    return _row(change.kind)(sequence, change, step)


@dataclass(frozen=True, slots=True)
class Spoilers:
    """All events that made results worthless, and for each step of the sequence those that reach it, in order."""

    every: tuple[Change, ...]
    by_step: Mapping[str, tuple[Change, ...]]

    def of(self, attempt: Attempt) -> Change | None:
        """The first event after the attempt that made it worthless, or None while it stands."""
        known = self.by_step.get(attempt.step)
        if known is None:  # a newer revision dropped the step
            return next((change for change in self.every if change.line > attempt.line), None)
        for change in known:
            if change.line > attempt.line and _hits(change, attempt):
                return change
        return None


@asked_once
def spoilers(sequence: Sequence, changes: tuple[Change, ...]) -> Spoilers:
    """What these events reach; whoever asks of many attempts asks for it once."""
    by_step: dict[str, tuple[Change, ...]] = {}
    for step in sequence.steps:
        by_step.setdefault(step.id, tuple(change for change in changes if _reaches(sequence, change, step)))
    return Spoilers(changes, by_step)


def stale_by(job: Job, attempt: Attempt) -> Change | None:
    """The first event after the attempt that made it worthless, or None while it stands."""
    return spoilers(job.sequence, job.changes).of(attempt)


def would_go_stale(job: Job, change: Change) -> tuple[Attempt, ...]:
    """The attempts that still stand and would not after this change: the preview before it is saved."""
    standing = (a for a in job.attempts if a.void is None and stale_by(job, a) is None)
    return tuple(a for a in standing if _hits(change, a) and reaches(job, change, job.sequence.step(a.step)))


def _hits(change: Change, attempt: Attempt) -> bool:
    """What is done to this unit leaves the readings of another one as they are."""
    return attempt.purpose != "good-unit" or change.kind in ("incident", "new revision")


def call(change: Change) -> str:
    """How stamps and sentences name an event: "rework 2", "incident 1", "new revision 4"."""
    return f"{change.kind} {change.number}"
