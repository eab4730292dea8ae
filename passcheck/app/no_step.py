"""What lies on the bench where there is no step to walk: what is said, the big word, and the one act?"""

from dataclasses import dataclass

from passcheck.app.lifting import LABELS
from passcheck.app.still_open import open_words, papers_open
from passcheck.job import power
from passcheck.job.moment import Moment
from passcheck.job.state import Job, Run
from passcheck.judge.rounding import counted


@dataclass(frozen=True, slots=True)
class NoStep:
    """A ticket without a step; `state` is the big word, `act` what the button does, each "" where there is none."""

    title: str
    do: str = ""
    state: str = ""
    act: str = ""


def no_step(job: Job, moment: Moment) -> NoStep:
    """What is to be shown of a job that has ended, has no run open, or whose run was walked to its end."""
    if job.ended is not None:
        return NoStep(f"This job has ended: {job.ended}")
    if job.open_run is None:
        return NoStep("No run is open", act="Start a run")
    return _all_walked(job, job.open_run, moment)


def _all_walked(job: Job, run: Run, moment: Moment) -> NoStep:
    """What the steps still want is said before anything is called done."""
    do = "\n".join(filter(None, (open_words(job, run), "Switch off and make safe (F8), then close the run.")))
    papers = papers_open(job, run)
    if papers:
        missing = counted(len(papers), "note or photo", "notes or photos")
        return NoStep(f"Every step was walked; {missing} still missing", do, "NOTE", "Note or photo (F4)")
    act = "Close the run" if power.all_off(job, moment) else LABELS["make safe"]
    return NoStep("Every step of this run was walked", do, "DONE", act)
