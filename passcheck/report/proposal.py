"""What was proposed to the owner, by whom and when?"""

from typing import Protocol

from passcheck.job.moment import Moment
from passcheck.job.state import Job


class Proposal(Protocol):
    """Lines that an owner says yes or no to, one by one."""

    @property
    def lines(self) -> tuple[str, ...]:
        """What is proposed, a line each."""
        ...

    @property
    def by(self) -> str:
        """Who proposed it."""
        ...

    @property
    def moment(self) -> Moment:
        """When."""
        ...


def proposed(job: Job) -> tuple[Proposal, ...]:
    """Every proposal of the job, the latest last; no event of a job holds one yet."""
    return job.proposed


def latest_proposal(job: Job) -> Proposal | None:
    """The one that stands: a later proposal takes the place of an earlier one."""
    every = proposed(job)
    return every[-1] if every else None
