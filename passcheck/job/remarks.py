"""What should whoever takes this unit in hand know at once, beside its stamps?"""

from passcheck.job.state import Job
from passcheck.job.work_done import REPAIR, repairs


def remarks(job: Job) -> tuple[str, ...]:
    """Sentences, the weightiest first; none for a unit of which there is nothing to say."""
    return _repairs(job)


def _repairs(job: Job) -> tuple[str, ...]:
    found = repairs(job)
    return (f"{', '.join(found)}: {REPAIR}.",) if found else ()
