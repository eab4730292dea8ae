"""Which unit is it, how did it come in, and when and by whom was it tested?"""

from passcheck.job.state import Job
from passcheck.report.document import Facts, Heading, Part, ToWrite, Words
from passcheck.report.on_every_paper import local, person, unit_facts
from passcheck.report.record_words import offset_words
from passcheck.report.source import Source

TITLE = "Unit and arrival"
OWNER = ToWrite((("Owner, by hand: the record names none", 0.6), ("Owner's own reference", 0.4)))


def unit(job: Job, source: Source) -> tuple[Part, ...]:
    """The unit's facts, the dates, and the people."""
    return Heading(TITLE), unit_facts(job, source), Facts(_further(job, source)), Words(_times(job), "small"), OWNER


def _further(job: Job, source: Source) -> tuple[tuple[str, str], ...]:
    facts = job.facts
    tested = [one.moment for one in job.attempts]
    people = dict.fromkeys(one.by for one in job.attempts)
    rows = [
        ("Tested from", local(tested[0]) if tested else "not tested yet"),
        ("Tested to", local(tested[-1]) if tested else "not tested yet"),
        ("Tested by", ", ".join(person(one, source) for one in people) or "nobody yet"),
        ("Record to", local(job.last)),
        ("Bench", f"{facts.bench}, kept with {facts.tool}, paper made with {source.tool}"),
    ]
    if job.ended is None:
        rows.append(("In hand of", person(job.holder, source)))
    if facts.arrived_with:
        rows.append(("Came in together with", facts.arrived_with))
    if facts.sequence_digest != job.sequence_digest:
        rows.append(("Opened under another text of the sequence", f"SHA-256 {facts.sequence_digest}"))
    return tuple(rows)


def _times(job: Job) -> str:
    offset = offset_words(job.opened.offset_min)
    return f"Times are those of the bench's clock, {offset}, unless another distance stands beside one."
