"""What goes with a unit that leaves without a release?

Two papers with two titles, so that nobody takes one for the other or for a release: as it came, unrepaired, or
repaired in part by its owner's choice.
"""

from passcheck.job.events import ReturnedInPart, ReturnedUnrepaired
from passcheck.job.fixed_words import NOT_A_RELEASE
from passcheck.job.state import Job
from passcheck.report.as_found import told_outcome
from passcheck.report.document import Facts, Heading, Outcome, Paper, Part, Table, Words
from passcheck.report.ended_as import demand_ending
from passcheck.report.findings import readings_parts
from passcheck.report.fixed_parts import fixed_parts
from passcheck.report.on_every_paper import local, paper, person, unit_facts
from passcheck.report.open_points import last_seen, open_points, open_row
from passcheck.report.owners_part import agreed_parts, complaint_parts
from passcheck.report.readings import COLUMNS, NOT_WALKED
from passcheck.report.shown_after import before_and_after, still_open, tested_words
from passcheck.report.source import Source
from passcheck.report.state_of_unit import state_parts, work_parts
from passcheck.report.suggested import suggested_parts
from passcheck.sequence.model import Step

FITTER = (
    "To whoever fits or powers this unit: the points above are open. Whether it may be used with them is for you to "
    "decide, by the law, the rules of the place and the maker's instructions."
)


def returned_unrepaired(job: Job, source: Source) -> Paper:
    """The paper of a unit that goes back without having passed.

    Raises:
        FileFault: the job did not end so.
    """
    demand_ending(job, "returned unrepaired", "paper of a return unrepaired")
    return paper("returned-unrepaired", "Returned unrepaired", job, source, _unrepaired(job, source))


def returned_in_part(job: Job, source: Source) -> Paper:
    """The paper of a unit that goes back with open points by its owner's choice.

    Raises:
        FileFault: the job did not end so.
    """
    demand_ending(job, "returned repaired in part", "paper of a return in part")
    return paper("returned-in-part", "Returned repaired in part", job, source, _in_part(job, source))


def _unrepaired(job: Job, source: Source) -> tuple[Part, ...]:
    reason = job.left.reason if isinstance(job.left, ReturnedUnrepaired) else ""
    told = told_outcome(job)
    return (
        Outcome("Returned unrepaired", f"{NOT_A_RELEASE} {_when(job, source)}", good=False),
        unit_facts(job, source),
        *complaint_parts(job),
        Heading("Why it goes back"),
        Words(reason, "quote"),
        Heading("Agreed with the owner", 2),
        *agreed_parts(job, source),
        Heading("What was found"),
        Words(told.sentence),
        *readings_parts(job),
        *_failed_since(job),
        *state_parts(job, source),
        *fixed_parts(job),
        *_would_need(job),
    )


def _in_part(job: Job, source: Source) -> tuple[Part, ...]:
    left = job.left if isinstance(job.left, ReturnedInPart) else ReturnedInPart((), "")
    return (
        Outcome("Returned repaired in part", f"{NOT_A_RELEASE} {_when(job, source)}", good=False),
        unit_facts(job, source),
        *complaint_parts(job),
        *open_points(job, left.points),
        Heading("What the owner agreed to"),
        Words(left.agreed, "quote"),
        Words(f"Noted by {person(job.ended_by or '', source)}, {local(job.last)}, when the unit was given back."),
        *(agreed_parts(job, source) if job.agreed else ()),
        Heading("What was repaired"),
        *work_parts(job, source),
        Heading("What was shown after it"),
        Words(f"{tested_words(job)}."),
        *before_and_after(job),
        *state_parts(job, source)[:2],
        *fixed_parts(job),
        Words(FITTER, "notice"),
    )


def _when(job: Job, source: Source) -> str:
    return f"Given back {local(job.last)} by {person(job.ended_by or '', source)}."


def _failing(job: Job) -> tuple[Step, ...]:
    """The open steps whose latest try failed, whatever run it was of."""
    open_now = (step for step, _attempt in still_open(job))
    return tuple(step for step in open_now if any(a.judgement.verdict == "fail" for a in last_seen(job, step)))


def _failed_since(job: Job) -> tuple[Part, ...]:
    """What failed in a later run than as found."""
    later = tuple(step for step in _failing(job) if last_seen(job, step)[-1].purpose != "as-found")
    if not later:
        return ()
    return (Heading("What failed since"), Table(COLUMNS, tuple(open_row(job, step) for step in later)))


def _would_need(job: Job) -> tuple[Part, ...]:
    """What stands between this unit and a release, counted, with what was proposed and what the sequence suggests."""
    open_now = still_open(job)
    last = [attempt.judgement.verdict if attempt is not None else NOT_WALKED for _step, attempt in open_now]
    counts = ", ".join(f"{last.count(word)} {word}" for word in dict.fromkeys(last))
    proposal = job.proposed[-1] if job.proposed else None
    asked = tuple(("Proposed", line) for line in proposal.lines) if proposal is not None else ()
    rows = (
        *asked,
        ("Steps that would have to pass", f"{len(open_now)} (as left now: {counts})" if open_now else "none"),
    )
    return (Heading("What it would need"), Facts(rows), *suggested_parts(job, _failing(job)))
