"""Did the job end in the way that a paper is for?"""

from passcheck.errors import FileFault
from passcheck.job.state import Ending, Job


def demand_ending(job: Job, ending: Ending, paper: str) -> None:
    """Let no paper say of a unit how it left when it didn't leave so.

    Raises:
        FileFault: the job is open, or it ended otherwise.
    """
    if job.ended != ending:
        stands = f"has ended: {job.ended}" if job.ended else "is open"
        raise FileFault(f"{job.id}: no {paper}, because the job {stands}. Only a job that was {ending} gets one.")
