"""What else was noted, and what should whoever reads this record know at once?"""

from passcheck.job.remarks import remarks
from passcheck.job.state import Job, Note
from passcheck.report.document import Column, Heading, Part, Table, Words
from passcheck.report.record_words import title_of, when
from passcheck.report.source import Source

NOTED = "Notes"
JOTTED = "Loose readings, kept and never counted"
REMARKS = "Remarks"


def said(job: Job, source: Source) -> tuple[Part, ...]:
    """Remarks, what the records say of themselves, notes with their photos, loose readings."""
    return (*_remarks(job, source), *_notes(job), *_jottings(job))


def _remarks(job: Job, source: Source) -> tuple[Part, ...]:
    """With what the records say is wrong; of an open job that stands against a release, and is told there."""
    unknown = tuple(f"The journal holds '{one.tag}', which this version doesn't know." for one in job.unrecognised)
    wrong = (*source.outside.records_faults, *unknown) if job.ended is not None else ()
    found = (*remarks(job, source.outside), *wrong)
    return (Heading(REMARKS), *(Words(one) for one in found)) if found else ()


def _notes(job: Job) -> tuple[Part, ...]:
    if not job.notes:
        return ()
    return Heading(NOTED), *(part for note in job.notes for part in _note(job, note))


def _note(job: Job, note: Note) -> tuple[Part, ...]:
    about = "the job" if note.step is None else title_of(job, note.step)
    head = Words(f"{when(job, note.moment)}, {note.by}, on {about}:", "small")
    photos = (Words(f"Photos: {', '.join(note.photos)}", "small"),) if note.photos else ()
    return head, *((Words(note.text, "quote"),) if note.text else ()), *photos


def _jottings(job: Job) -> tuple[Part, ...]:
    if not job.jottings:
        return ()
    heads = (Column("When", 1.4), Column("By", 0.6), Column("Point", 2), Column("Value", 1.4), Column("With", 1.4))
    rows = tuple((when(job, one.moment), one.by, one.point, one.value, one.meter) for one in job.jottings)
    return Heading(JOTTED), Table(heads, rows)
