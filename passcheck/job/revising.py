"""What would going on under today's sequence file change for this job?"""

from dataclasses import dataclass, replace

from passcheck.job.moment import Moment
from passcheck.job.staleness import stale_by
from passcheck.job.state import Attempt, Change, Job
from passcheck.sequence.model import Sequence


@dataclass(frozen=True, slots=True)
class Revising:
    """The difference, in ids and titles that a technician knows.

    Attributes:
        marked: titles of the steps that the author marked as changed since; none means that all count as changed.
        added: titles of the steps that the new text has and the old one hasn't.
        dropped: titles of the steps that only the old text has.
        stale: attempts that stand now and would not under the new text.
    """

    old: int
    new: int
    marked: tuple[str, ...]
    added: tuple[str, ...]
    dropped: tuple[str, ...]
    stale: tuple[Attempt, ...]


def marked_since(sequence: Sequence, revision: int) -> tuple[str, ...]:
    """Ids of the steps that were changed after that revision, by their author's word."""
    return tuple(step.id for step in sequence.steps if (step.changed_in or 0) > revision)


def revision_change(job: Job, sequence: Sequence, line: int, moment: Moment, by: str, why: str) -> Change:
    """The event that going on under this text is."""
    marked = marked_since(sequence, job.sequence.revision)
    return Change(line, "new revision", sequence.revision, (), why, moment, by, changed_steps=marked or None)


def revising(job: Job, sequence: Sequence, moment: Moment) -> Revising:
    """What would be different; nothing happens."""
    before = {step.id: step.title for step in job.sequence.steps}
    now = {step.id: step.title for step in sequence.steps}
    change = revision_change(job, sequence, job.lines, moment, "", "")
    after = replace(job, sequence=sequence, changes=(*job.changes, change))
    standing = (a for a in job.attempts if a.void is None and stale_by(job, a) is None)
    return Revising(
        old=job.sequence.revision,
        new=sequence.revision,
        marked=tuple(now[name] for name in marked_since(sequence, job.sequence.revision)),
        added=tuple(title for name, title in now.items() if name not in before),
        dropped=tuple(title for name, title in before.items() if name not in now),
        stale=tuple(a for a in standing if stale_by(after, a) is not None),
    )
