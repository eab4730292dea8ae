"""In which words does the test record say when, with what and by whom, and what took a result's worth away?

Times are those of the bench's clock on the wall, short, because the paper says once how far that was from UTC; a time
under another distance says so itself.
"""

from datetime import UTC, datetime, timedelta

from passcheck.job.doubt import measured_with
from passcheck.job.moment import Moment
from passcheck.job.staleness import call, stale_by
from passcheck.job.standing import withdrawn
from passcheck.job.state import Attempt, Job
from passcheck.sequence.model import Step


def when(job: Job, moment: Moment) -> str:
    """Date and minute; with the distance from UTC where it isn't that of the arrival."""
    return _shown(job, moment.local(), moment.offset_min)


def entered(job: Job, attempt: Attempt) -> str:
    """When an attempt was entered; of a late entry both times."""
    said = when(job, attempt.moment)
    if attempt.measured_at is None:
        return said
    return f"late entry: measured {_measured(job, attempt, attempt.measured_at)}, entered {said}"


def offset_words(minutes: int) -> str:
    """The distance from UTC: `UTC+02:00`."""
    hours, rest = divmod(abs(minutes), 60)
    return f"UTC{'-' if minutes < 0 else '+'}{hours:02d}:{rest:02d}"


def struck_by(job: Job, attempt: Attempt) -> str:
    """What took an attempt's worth away: `rework 1`, `void`, or ""."""
    if withdrawn(attempt):
        return "void"
    change = stale_by(job, attempt)
    return call(change) if change is not None else ""


def made_with(job: Job, attempt: Attempt) -> str:
    """Instrument or hand, when, and by whom, in one line."""
    seen = f"seen by {attempt.second}" if attempt.second else ""
    return ", ".join(filter(None, (measured_with(attempt), entered(job, attempt), attempt.by, seen)))


def step_of(job: Job, step_id: str) -> Step | None:
    """The step as the job's sequence has it now; None where a newer revision dropped it."""
    return next((step for step in job.sequence.steps if step.id == step_id), None)


def title_of(job: Job, step_id: str) -> str:
    """The step's title, or its id where a newer revision dropped it."""
    step = step_of(job, step_id)
    return step_id if step is None else step.title


def _measured(job: Job, attempt: Attempt, said: str) -> str:
    """The time of a late entry, whatever offset it was given with; as it was given where it can't be read."""
    try:
        moment = datetime.fromisoformat(said)
        if moment.tzinfo is None:
            return said
        offset_min = attempt.moment.offset_min
        local = (moment.astimezone(UTC) + timedelta(minutes=offset_min)).replace(tzinfo=None)
    except (ValueError, OverflowError):
        return said
    return _shown(job, local, offset_min)


def _shown(job: Job, local: datetime, offset_min: int) -> str:
    other = "" if offset_min == job.opened.offset_min else f" ({offset_words(offset_min)})"
    return f"{local:%Y-%m-%d %H:%M}{other}"
