"""Which parts are new, and which of their like were left old beside them?

A part that was tried and put back is the old one again.
"""

from passcheck.job.state import Job
from passcheck.sequence.reach import group_of


def renewed(job: Job) -> frozenset[str]:
    """Parts that the last rework on them left new."""
    new: set[str] = set()
    for rework in job.reworks:
        if rework.action == "replaced":
            new |= set(rework.parts)
        elif rework.action in ("put back", "swapped in"):
            new -= set(rework.parts)
    return frozenset(new)


def left_old(job: Job, also_new: tuple[str, ...] = ()) -> tuple[tuple[str, ...], ...]:
    """Of each group that is renewed together and was begun, the parts that are still old; in the order of the parts.

    Args:
        job: the job.
        also_new: parts that are about to be renewed; with them only their own groups are looked at.
    """
    new = renewed(job) | set(also_new)
    groups = dict.fromkeys(group_of(job.sequence, part) for part in (also_new or sorted(new)))
    return tuple(left for group in groups if (left := tuple(part for part in group if part not in new)))


def explained(job: Job) -> frozenset[str]:
    """Parts of which it is said why they stayed old."""
    return frozenset(old.part for rework in job.reworks for old in rework.left_old if old.reason.strip())
