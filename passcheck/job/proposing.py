"""What might be proposed to the owner, judging by what fails?

A start to write on with: the technician strikes, changes and adds before anything is kept.
"""

from passcheck.job.decide_work import MOST_PROPOSED
from passcheck.job.renewed import renewed
from passcheck.job.standing import standing_attempts
from passcheck.job.state import Job
from passcheck.job.steps import present
from passcheck.sequence.model import Block, Step


def to_start_from(job: Job) -> tuple[str, ...]:
    """The lines of the latest proposal, otherwise what the fails suggest."""
    return job.proposed[-1].lines if job.proposed else suggestions(job)


def suggestions(job: Job) -> tuple[str, ...]:
    """Groups that age alike in the blocks of failing steps, and the failing steps that no group speaks of."""
    failing = [step for step in present(job) if _fails(job, step)]
    groups = {step.id: _groups(job, step) for step in failing}
    renewing = dict.fromkeys(line for lines in groups.values() for line in lines)
    others = (_repair(job, step) for step in failing if not groups[step.id])
    return (*renewing, *others)[:MOST_PROPOSED]


def _fails(job: Job, step: Step) -> bool:
    """Did the last try that stands fail, whatever the run was for?"""
    standing = standing_attempts(job, step)
    return bool(standing) and standing[-1].judgement.verdict == "fail"


def _groups(job: Job, step: Step) -> tuple[str, ...]:
    """A step that proves all blocks points to none of them."""
    new = renewed(job)
    return tuple(
        f"Renew {', '.join(group)} together ({block.title})"
        for block in _blocks(job, step)
        for group in block.renew_together
        if not new.issuperset(group)
    )


def _repair(job: Job, step: Step) -> str:
    where = " and ".join(block.title for block in _blocks(job, step))
    return f"Find and mend what fails: {step.title}" + (f" ({where})" if where else "")


def _blocks(job: Job, step: Step) -> tuple[Block, ...]:
    return tuple(job.sequence.blocks[name] for name in step.proves if name in job.sequence.blocks)
