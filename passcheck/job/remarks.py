"""What should whoever takes this unit in hand know at once, beside its stamps?"""

from passcheck.job.state import Job
from passcheck.job.work_done import REPAIR, repairs


def remarks(job: Job) -> tuple[str, ...]:
    """Sentences, the weightiest first; none for a unit of which there is nothing to say."""
    return (*_arrival(job), *_repairs(job), *_agreed(job))


def _arrival(job: Job) -> tuple[str, ...]:
    return (f"Came with {job.facts.arrived_with}.",) if job.facts.arrived_with else ()


def _agreed(job: Job) -> tuple[str, ...]:
    """The last agreement; a new one may widen or narrow those before it."""
    if not job.agreed:
        return ()
    last, more = job.agreed[-1], len(job.agreed) - 1
    before = f" ({more} before it)" if more else ""
    return (f"Owner agreed: {last.scope} ({last.who}, {last.moment.local():%Y-%m-%d}){before}.",)


def _repairs(job: Job) -> tuple[str, ...]:
    found = repairs(job)
    return (f"{', '.join(found)}: {REPAIR}.",) if found else ()
