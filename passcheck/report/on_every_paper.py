"""What stands on every paper, whichever it is?"""

from datetime import datetime

from passcheck.job.fixed_words import MORE_ASKED, bench_test
from passcheck.job.moment import Moment
from passcheck.job.replay import stamp
from passcheck.job.state import Job
from passcheck.report.document import Attached, Code, Facts, Heading, Kind, Paper, Part, Words
from passcheck.report.source import Source

JOURNAL_MEDIA = "application/jsonl"
PRACTISED = "PRACTICE. This unit doesn't exist; the paper is of an exercise."


def paper(kind: Kind, title: str, job: Job, source: Source, parts: tuple[Part, ...]) -> Paper:
    """The paper with what none may lack: head, fixed sentences, code, and the sealed journal inside."""
    attached = () if source.journal is None else (_journal(job, source.journal),)
    practised: tuple[Part, ...] = (Words(PRACTISED, "notice"),) if job.facts.practice else ()
    return Paper(
        kind=kind,
        title=title,
        shop=f"{source.shop}, {source.place}" if source.place else source.shop,
        job=job.id,
        serial=job.serial,
        made=stamp(job.last)[:19] + "Z",
        parts=(*practised, *parts, *closing(job, source)),
        footer=bench_test(job.sequence.revision) or "",
        attached=attached,
        practice=job.facts.practice,
    )


def closing(job: Job, source: Source) -> tuple[Part, ...]:
    """The end of each paper: what it is not, and how it is checked against the record."""
    return (
        Heading("What this paper rests on"),
        Words(MORE_ASKED, "small"),
        Words("The results relate only to the unit named here. Copy this paper whole or not at all.", "small"),
        code(job, source),
    )


def code(job: Job, source: Source) -> Code:
    """The journal's digest and the ledger's head, to be read by eyes and by a reader of QR codes."""
    head = source.head
    state = "sealed" if head.sealed else "open"
    text = f"{job.id} {job.serial} journal {head.size}:{head.digest} ledger {head.noted}"
    return Code(
        text,
        (
            f"Job {job.id}, unit {job.serial}",
            f"journal, {state}, {head.size} bytes, SHA-256",
            head.digest[:32],
            head.digest[32:],
            f"ledger head {head.noted}",
            f"passcheck verify {job.id} --head {head.noted}",
        ),
    )


def unit_facts(job: Job, source: Source) -> Facts:
    """Which unit, when it came, and by which sequence it was walked."""
    variants = ", ".join(job.sequence.variants[one] for one in job.facts.variants if one in job.sequence.variants)
    return Facts(
        (
            ("Unit", f"{job.sequence.title}, serial {job.serial}"),
            ("Job", job.id),
            ("Received", local(job.opened)),
            ("Condition on arrival", job.facts.condition or "nothing noted"),
            ("Variant", variants or "as the sequence has it"),
            ("Sequence", f"{job.sequence.sequence} revision {job.sequence.revision}, SHA-256 {job.sequence_digest}"),
            ("Received by", person(job.opened_by, source)),
        )
    )


def person(who: str, source: Source) -> str:
    """The id of the records, with the name that bench.yaml has for it."""
    name = dict(source.people).get(who)
    return f"{who} ({name})" if name else who


def local(moment: Moment) -> str:
    """Date and time as the bench's clock on the wall showed them, with its distance from UTC."""
    hours, minutes = divmod(abs(moment.offset_min), 60)
    sign = "-" if moment.offset_min < 0 else "+"
    return f"{_shown(moment.local())} (UTC{sign}{hours:02d}:{minutes:02d})"


def _shown(when: datetime) -> str:
    return when.strftime("%Y-%m-%d %H:%M")


def _journal(job: Job, data: bytes) -> Attached:
    return Attached(f"{job.id}.jsonl", "The job's journal, sealed, byte for byte", JOURNAL_MEDIA, data)
