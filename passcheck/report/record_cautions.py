"""Which hazard messages were answered, how often and by whom?"""

from collections import Counter

from passcheck.job.state import Job
from passcheck.judge.rounding import counted
from passcheck.report.document import Column, Heading, Part, Table, Words
from passcheck.report.on_every_paper import person
from passcheck.report.source import Source

TITLE = "Cautions answered"
NO_PROOF = (
    "An answer shows that the message stood before the person who gave it. It is no proof that anybody is competent "
    "for the work, or that the work was done without danger."
)
COLUMNS = (Column("Signal word", 1), Column("Hazard", 4), Column("Answers", 2.4), Column("In runs", 1))


def cautions(job: Job, source: Source) -> tuple[Part, ...]:
    """A row a message, in the sequence's order; those that a newer revision dropped come last."""
    if not job.acknowledged:
        return Heading(TITLE), Words("No hazard message was answered in this job.")
    given = dict.fromkeys(one.facts.caution for one in job.acknowledged)
    names = sorted(given, key=lambda name: _place(job, name))
    return Heading(TITLE), Words(NO_PROOF, "small"), Table(COLUMNS, tuple(_row(job, name, source) for name in names))


def _place(job: Job, name: str) -> int:
    known = list(job.sequence.cautions)
    return known.index(name) if name in known else len(known)


def _row(job: Job, name: str, source: Source) -> tuple[str, ...]:
    known = job.sequence.cautions.get(name)
    given = [one for one in job.acknowledged if one.facts.caution == name]
    people = Counter(one.by for one in given)
    who = ", ".join(f"{person(one, source)} {count}" for one, count in people.items())
    facts = sum(one.facts.given is not None for one in given)
    answers = f"{counted(len(given), 'answer')}, {facts} with a fact read off: {who}"
    hazard = name if known is None else f"{name}: {known.hazard}"
    runs = ", ".join(dict.fromkeys(str(one.facts.run) for one in given))
    return "" if known is None else known.signal, hazard, answers, runs
