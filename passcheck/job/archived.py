"""What does the archive keep of one job?

Its rows are made of the folded state, so that what counts, what is stale and what is confirmed is asked where everybody
asks it. Only who said what and how long a try took are read from the events themselves.
"""

from collections.abc import Sequence

from passcheck.job.archive_rows import JobRow, JobRows
from passcheck.job.archived_attempts import attempt_rows
from passcheck.job.archived_said import said_rows
from passcheck.job.archived_seconds import seconds_of_work
from passcheck.job.archived_time import utc_text
from passcheck.job.archived_work import part_rows, touch_rows
from passcheck.job.standing import withdrawn
from passcheck.job.state import Job, Recorded


def archived(job: Job, recorded: Sequence[Recorded], digest: str) -> JobRows:
    """All rows of a job.

    Args:
        job: as its events fold.
        recorded: those events.
        digest: SHA-256 of the journal, in hexadecimal.
    """
    return JobRows(
        job=_job_row(job, digest),
        attempts=attempt_rows(job, seconds_of_work(recorded)),
        touched=touch_rows(job),
        parts=part_rows(job),
        said=said_rows(recorded),
    )


def _job_row(job: Job, digest: str) -> JobRow:
    facts, sequence = job.facts, job.sequence
    last_at = utc_text(job.last.utc)
    return JobRow(
        job=job.id,
        bench=facts.bench,
        serial=job.serial,
        board=sequence.sequence,
        revision=sequence.revision,
        title=sequence.title,
        complaint=facts.complaint,
        condition=facts.condition,
        symptoms=" ".join(job.symptoms),
        opened_at=utc_text(job.opened.utc),
        opened_by=job.opened_by,
        last_at=last_at,
        outcome=_outcome(job),
        ended=job.ended or "",
        ended_at=last_at if job.ended else "",  # nothing follows the line that ended it
        ended_by=job.ended_by or "",
        first_try=_first_try(job),
        arrived_with=facts.arrived_with,
        practice=int(facts.practice),
        digest=digest,
    )


def _outcome(job: Job) -> str:
    closed = [run.outcome for run in job.runs if run.purpose == "as-found" and run.outcome is not None]
    return closed[-1] if closed else ""


def _first_try(job: Job) -> int | None:
    """Whether the first acceptance run passed without another try; a try that was withdrawn says nothing of the unit.

    A run that was closed before anything was tried is no try at all.
    """
    first = next((run for run in job.runs if run.purpose == "acceptance"), None)
    if first is None or first.outcome is None:
        return None
    tried = [one for one in job.attempts if one.run == first.number and not withdrawn(one)]
    return int(all(one.judgement.verdict == "pass" for one in tried)) if tried else None
