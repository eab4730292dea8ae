"""What still stands between this unit and the door?

`blockers` is the only thing that may say yes, and it says it by being empty. There is no override. The screen, the
command and the paper print this same tuple.
"""

from collections.abc import Callable

from passcheck.job import power
from passcheck.job.blocker import Blocker
from passcheck.job.gate_step import OF_A_STEP
from passcheck.job.left_by_rework import lift_of
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.renewed import explained, left_old
from passcheck.job.standing import counted
from passcheck.job.state import Attempt, Job

Question = Callable[[Job, Outside, Moment], tuple[Blocker, ...]]


def blockers(job: Job, outside: Outside, moment: Moment) -> tuple[Blocker, ...]:
    """Everything that stands against signing this unit off now; empty means go."""
    if job.ended is not None:
        return (Blocker(f"This job has ended: {job.ended}.", "Open a new job for the unit."),)
    return tuple(found for question in QUESTIONS for found in question(job, outside, moment))


def _groups(job: Job, _outside: Outside, _moment: Moment) -> tuple[Blocker, ...]:
    """Parts that age alike are renewed together, or it is said why one was left."""
    why = explained(job)
    unsaid = ([part for part in group if part not in why] for group in left_old(job))
    return tuple(
        Blocker(
            f"Renewed together: {', '.join(left)} left old without a stated reason.",
            "Enter the rework, or the reason for leaving it.",
        )
        for left in unsaid
        if left
    )


def _changes(job: Job, _outside: Outside, _moment: Moment) -> tuple[Blocker, ...]:
    """Incidents open, and things fitted for a test that are still on the unit."""
    open_ones = tuple(
        Blocker(f"Incident {number} is open.", "Enter what was inspected or reworked because of it.")
        for number in job.open_incidents
    )
    fitted = tuple(Blocker(f"Not put back: {it.words}.", lift_of(it)) for it in job.fitted)
    return open_ones + fitted


def _power(job: Job, _outside: Outside, moment: Moment) -> tuple[Blocker, ...]:
    """A unit leaves the bench with every supply off and proved dead."""
    states = power.told(job, moment)
    still = tuple(
        Blocker(f"Supply {name}: told {state}.", "Make safe.") for name, state in states.items() if state != "off"
    )
    if still or power.proved_dead(job):
        return still
    return (Blocker("The unit was not proved dead since it was last powered.", "Make safe."),)


def _identity(job: Job, outside: Outside, _moment: Moment) -> tuple[Blocker, ...]:
    """One serial, one revision, and the author's word on what a newer revision changed."""
    other = tuple(
        Blocker(
            f"Run {run.number} scanned serial {run.facts.serial_scanned}, not this unit's.", "Walk its steps again."
        )
        for run in job.runs
        if run.purpose != "good-unit" and run.facts.serial_scanned != job.serial and any(_counts_in(job, run.number))
    )
    newer = tuple(
        Blocker(
            f"{job.sequence.step(name).title}: changed in today's sequence file.", "Go on under the new revision.", name
        )
        for name in outside.changed_steps
        if any(step.id == name for step in job.sequence.steps)
    )
    return other + newer


def _counts_in(job: Job, run: int) -> tuple[Attempt, ...]:
    return tuple(attempt for _step, attempt in counted(job) if attempt is not None and attempt.run == run)


def _records(job: Job, outside: Outside, _moment: Moment) -> tuple[Blocker, ...]:
    """Evidence that isn't whole is no evidence."""
    faults = tuple(Blocker(fault, "Settle the records first.") for fault in outside.records_faults)
    unknown = tuple(
        Blocker(f"The journal holds '{it.tag}', which this version doesn't know.", "Use the version that wrote it.")
        for it in job.unrecognised
    )
    return faults + unknown


QUESTIONS: tuple[Question, ...] = (*OF_A_STEP, _groups, _changes, _power, _identity, _records)
