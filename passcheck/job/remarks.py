"""What should whoever takes this unit in hand know at once, beside its stamps?"""

from passcheck.job.outside import Outside
from passcheck.job.state import Job
from passcheck.job.work_done import REPAIR, repairs


def remarks(job: Job, outside: Outside) -> tuple[str, ...]:
    """Sentences, the weightiest first; none for a unit of which there is nothing to say."""
    owner = (*_proposed(job), *_agreed(job))
    return (*_other_file(job, outside), *outside.records_marks, *_arrival(job), *_repairs(job), *owner)


def _other_file(job: Job, outside: Outside) -> tuple[str, ...]:
    """A job keeps its own text of the sequence; nobody should find out at the door that the author changed it."""
    if job.ended is not None or outside.todays_digest in (None, job.sequence_digest):
        return ()
    marked = len(outside.changed_steps)
    what = f"{marked} of this job's steps changed in it" if marked else "no step is marked as changed in it"
    return (f"Today's file of {job.sequence.sequence} is another than this job's: {what}.",)


def _arrival(job: Job) -> tuple[str, ...]:
    return (f"Came with {job.facts.arrived_with}.",) if job.facts.arrived_with else ()


def _proposed(job: Job) -> tuple[str, ...]:
    """A proposal that nobody answered yet: until then nothing of it is agreed."""
    if job.ended is not None or not job.proposed:
        return ()
    last = job.proposed[-1]
    if job.agreed and job.agreed[-1].line > last.line:
        return ()
    return (f"Proposed to the owner on {last.moment.local():%Y-%m-%d}, no answer entered yet.",)


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
