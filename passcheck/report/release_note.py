"""What does an owner get to read when their unit comes back released?

One page in plain words, whatever happened: each section keeps to a room of its own and says where more stands. The
whole of it is in the test record.
"""

from typing import Final

from passcheck.job.events import SignedOff
from passcheck.job.state import Job
from passcheck.job.warranty import warranty_end
from passcheck.report.as_found import NOT_TRIED, as_found_runs, failed_steps, told_outcome
from passcheck.report.bounded import cut, listed
from passcheck.report.document import Facts, Outcome, Paper, Part
from passcheck.report.ended_as import demand_ending
from passcheck.report.fixed_parts import fixed_parts
from passcheck.report.how_many import many
from passcheck.report.on_every_paper import local, paper, person
from passcheck.report.owners_part import NO_WORDS
from passcheck.report.plain_work import plain_work
from passcheck.report.shown_after import before_and_after, burn_in_words, not_part_words, tested_words
from passcheck.report.source import Source

COMPLAINT_ROOM: Final = 160
FOUND_ROOM: Final = 80
FAILED_SHOWN, FAILED_ROOM = 3, 80
WORKS_SHOWN: Final = 3
TITLE_ROOM, PERSON_ROOM = 60, 36
CUT_COMPLAINT = "(The rest of these words: see the test record.)"
COMES_BACK = "Bring it with this paper. Say when it shows, how often, how warm, wet or shaken it then is."


def release_note(job: Job, source: Source) -> Paper:
    """The owner's page.

    Raises:
        FileFault: the job was not signed off.
    """
    demand_ending(job, "signed off", "release note")
    return paper("release-note", "Release note", job, source, _parts(job, source))


def _parts(job: Job, source: Source) -> tuple[Part, ...]:
    work = plain_work(job, WORKS_SHOWN)
    return (
        Outcome("Released", f"{local(job.last)}, by {_by(job, source)}.", good=True),
        _unit(job),
        Facts(
            (
                ("What the owner said", _complaint(job)),
                ("What was found", _found(job)),
                *zip(("What was done", *("",) * len(work)), work, strict=False),
            )
        ),
        *before_and_after(job),
        Facts(_then(job, source)),
        *fixed_parts(job, opens=False),
    )


def _by(job: Job, source: Source) -> str:
    second = job.left.second if isinstance(job.left, SignedOff) else None
    beside = f", seen by {cut(person(second, source), PERSON_ROOM)}" if second else ""
    return cut(person(job.ended_by or "", source), PERSON_ROOM) + beside


def _unit(job: Job) -> Facts:
    """The unit in few rows; which sequence text it was is told by the test record to the last digit."""
    sequence = job.sequence
    return Facts(
        (
            ("Unit", cut(sequence.title, TITLE_ROOM)),
            ("Serial", job.serial),
            ("Received", local(job.opened)),
            ("Sequence", f"{sequence.sequence} revision {sequence.revision}"),
        ),
        wide=True,
    )


def _complaint(job: Job) -> str:
    """The owner's words; where they are longer than their room it says where the rest stands."""
    said = job.facts.complaint.strip()
    shown = cut(said, COMPLAINT_ROOM)
    return NO_WORDS if not said else shown if shown == said else f"{shown} {CUT_COMPLAINT}"


def _found(job: Job) -> str:
    """The outcome as found and what failed."""
    if not as_found_runs(job):
        return NOT_TRIED
    outcome = next((run.outcome for run in reversed(as_found_runs(job)) if run.outcome), told_outcome(job).word)
    failed = listed((step.title for step in failed_steps(job)), FAILED_SHOWN, FAILED_ROOM)
    found = cut(outcome[:1].upper() + outcome[1:], FOUND_ROOM).rstrip(".")
    return f"{found}. Failed as it came in: {failed or 'no step'}."


def _then(job: Job, source: Source) -> tuple[tuple[str, str], ...]:
    """What was tested after the work, what wasn't, and what the shop stands for."""
    return (
        ("Tested after the work", tested_words(job)),
        ("Burn-in", burn_in_words(job)),
        ("Not part of it", not_part_words(job)),
        *((("Warranty", words),) if (words := warranty_words(job, source)) else ()),
        ("If it comes back", COMES_BACK),
    )


def warranty_words(job: Job, source: Source) -> str:
    """How long the shop's warranty runs; "" where the shop doesn't say, and for a unit that doesn't exist."""
    months = source.warranty_months
    last_day = warranty_end(job, months)
    if months is None or last_day is None or job.facts.practice:
        return ""
    return f"{many(months, 'month')}, to the end of {last_day.isoformat()}, by the terms of this shop."
