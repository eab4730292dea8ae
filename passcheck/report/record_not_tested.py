"""What was not tested?"""

from passcheck.job.before_after import before_after
from passcheck.job.standing import counted
from passcheck.job.state import Job
from passcheck.report.document import Facts, Heading, Part, Words
from passcheck.report.source import Source
from passcheck.sequence.model import Step

TITLE = "What was not tested"
BEYOND = "What the sequence doesn't ask for was not tested."
ALL_TRIED = "Every step that the sequence asks of this variant has a result that counts."


def not_tested(job: Job, _source: Source) -> tuple[Part, ...]:
    """Steps of other variants, and steps that nothing counts for."""
    absent = tuple((step.title, _variant(job, step)) for step in job.sequence.steps if _is_absent(job, step))
    blank = tuple((step.title, _why(job, step)) for step, attempt in counted(job) if attempt is None)
    found = (Facts((*absent, *blank)),) if absent or blank else ()
    whole = () if blank else (Words(ALL_TRIED),)
    return Heading(TITLE), *whole, *found, Words(BEYOND)


def _is_absent(job: Job, step: Step) -> bool:
    return step.variant is not None and step.variant not in job.facts.variants


def _variant(job: Job, step: Step) -> str:
    name = step.variant or ""
    return f"not of this unit: belongs to the variant '{job.sequence.variants.get(name, name)}'"


def _why(job: Job, step: Step) -> str:
    """Blank, struck, or tried as found only, which never counts."""
    told = before_after(job, step)
    if told.open:
        return f"nothing counts as left: {told.open}"
    if told.as_found is not None:
        return "tried as found only, which never counts for a release"
    return "blank as left"
