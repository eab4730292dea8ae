"""What did the unit show as it came in, and what may be done about it?

For the owner, after the as-found run and before any work: they answer on it.
"""

from passcheck.job.state import Job, Proposal
from passcheck.report.as_found import (
    as_found_runs,
    conditions,
    failed_steps,
    rest_words,
    that_matter,
    told_outcome,
    tries_as_found,
    waiting,
)
from passcheck.report.document import Facts, Heading, Outcome, Paper, Part, Table, Words
from passcheck.report.fixed_parts import fixed_parts
from passcheck.report.how_many import many
from passcheck.report.on_every_paper import local, paper, person, unit_facts
from passcheck.report.owners_part import agreed_parts, answer_parts, complaint_parts
from passcheck.report.readings import COLUMNS, reading_row
from passcheck.report.source import Source
from passcheck.report.suggested import suggested_parts

NOTHING_PROPOSED = "No work has been proposed yet."


def findings(job: Job, source: Source) -> Paper:
    """The paper that goes to the owner with the question what to do."""
    return paper("findings", "Findings", job, source, _parts(job, source, job.proposed[-1] if job.proposed else None))


def _parts(job: Job, source: Source, proposal: Proposal | None) -> tuple[Part, ...]:
    told = told_outcome(job)
    return (
        unit_facts(job, source),
        *complaint_parts(job),
        Heading("What was found"),
        Outcome(told.word, told.sentence.removeprefix(f"{told.word}. ")),
        *how_tried(job, source),
        *readings_parts(job),
        *suggested_parts(job, failed_steps(job)),
        *fixed_parts(job),
        *proposed_parts(job, source, proposal),
        Words(holds_for(job), "notice"),
    )


def how_tried(job: Job, source: Source) -> tuple[Part, ...]:
    """When, by whom, under which conditions and under which not."""
    runs = as_found_runs(job)
    when = tuple(("As-found run", f"{local(run.started)} by {person(run.by, source)}") for run in runs)
    return (Facts((*when, *conditions(job))),) if runs else ()


def readings_parts(job: Job) -> tuple[Part, ...]:
    """The complaint's steps and what failed or was in doubt, then the rest in a sentence."""
    if not as_found_runs(job):
        return ()
    tries = tries_as_found(job)
    rows = tuple(reading_row(job, step, tries.get(step.id, ())) for step in that_matter(job))
    blocked = tuple(
        Words(
            f"{job.sequence.step(one.guard.step).title} failed without power: {one.guard.judgement.sentence} "
            f"Not walked because of it: {many(len(one.steps), 'powered step')}. This finding stands as the evidence.",
            "strong",
        )
        for one in waiting(job)
    )
    table: tuple[Part, ...] = (Table(COLUMNS, rows),) if rows else ()
    return (Heading("Readings that matter"), *table, *blocked, Words(rest_words(job)))


def proposed_parts(job: Job, source: Source, proposal: Proposal | None) -> tuple[Part, ...]:
    """What the shop proposes, what was agreed, and where the owner answers."""
    lines = () if proposal is None else proposal.lines
    by = f"Proposed by {person(proposal.by, source)}, {local(proposal.moment)}." if proposal else NOTHING_PROPOSED
    return (
        Heading("What is proposed"),
        Words(by),
        Heading("Agreed so far", 2),
        *agreed_parts(job, source),
        Heading("The owner's answer"),
        *answer_parts(lines),
    )


def holds_for(job: Job) -> str:
    """For which unit, day and conditions this was found, and that nothing was repaired by finding it."""
    made = [one.moment for tries in tries_as_found(job).values() for one in tries]
    days = sorted({f"{moment.local():%Y-%m-%d}" for moment in made})
    day = " to ".join(dict.fromkeys((days[0], days[-1]))) if days else "no day yet"
    worked = [change for change in job.changes if change.kind == "rework"]
    done = (
        f"Work was begun on this unit on {local(worked[0].moment)}; this paper tells only how it came in."
        if worked
        else "Nothing was repaired yet."
    )
    return f"{done} The findings hold for this unit, for {day} and for the conditions named here."
