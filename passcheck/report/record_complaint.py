"""What did the owner say, what was it taken for, and what did the unit show of it as found?"""

from passcheck.job.outcome import conditions_tried
from passcheck.job.state import Job, Run
from passcheck.job.symptoms import conditions_to_try, mapped
from passcheck.report.document import Facts, Heading, Part, Words
from passcheck.report.record_words import title_of
from passcheck.report.source import Source
from passcheck.sequence.model import Symptom

TITLE = "Complaint"
UNMAPPED = "The complaint was not matched to a symptom of the sequence."


def complaint(job: Job, _source: Source) -> tuple[Part, ...]:
    """The owner's own words, the symptoms, and how each as-found run ended."""
    said = job.facts.complaint or "Nothing was said."
    return (
        Heading(TITLE),
        Words("In the owner's own words:", "small"),
        Words(said, "quote"),
        *_symptoms(job),
        *_as_found(job),
    )


def _symptoms(job: Job) -> tuple[Part, ...]:
    found = mapped(job)
    gone = tuple(name for name in job.symptoms if name not in dict(found))
    rows = [("Taken for the symptom", _symptom(job, symptom)) for _name, symptom in found]
    rows += [("Taken for the symptom", f"{name}, which this revision doesn't have") for name in gone]
    if not rows:
        return (Words(UNMAPPED),)
    wanted = ", ".join(dict.fromkeys(one.words for one in conditions_to_try(job)))
    return (Facts((*rows, *((("To be tried under", wanted),) if wanted else ()))),)


def _symptom(job: Job, symptom: Symptom) -> str:
    return f"{symptom.says} (shown by: {', '.join(title_of(job, step) for step in symptom.steps)})"


def _as_found(job: Job) -> tuple[Part, ...]:
    runs = [run for run in job.runs if run.purpose == "as-found"]
    if not runs:
        return (Words("No as-found run was made: whether the complaint shows on the bench is not known."),)
    return (Facts(tuple(row for run in runs for row in _of_run(job, run))),)


def _of_run(job: Job, run: Run) -> tuple[tuple[str, str], ...]:
    tried = ", ".join(dict.fromkeys(one.words for one in conditions_tried(job, run)))
    under = ((f"Run {run.number} tried under", tried),) if tried else ()
    return (f"As found, run {run.number}", run.outcome or "open, no outcome yet"), *under
