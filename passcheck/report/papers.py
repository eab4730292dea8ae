"""Which paper was asked for, and who writes it?"""

from collections.abc import Callable
from dataclasses import replace

from passcheck.job.state import Job
from passcheck.report.blank_sheet import blank_sheet
from passcheck.report.document import Kind, Paper, Words, texts
from passcheck.report.findings import findings
from passcheck.report.possible import demand_possible
from passcheck.report.release_note import release_note
from passcheck.report.returned import returned_in_part, returned_unrepaired
from passcheck.report.source import Source
from passcheck.report.test_record import test_record

WRITERS: dict[Kind, Callable[[Job, Source], Paper]] = {
    "findings": findings,
    "test-record": test_record,
    "release-note": release_note,
    "returned-unrepaired": returned_unrepaired,
    "returned-in-part": returned_in_part,
    "blank-sheet": blank_sheet,
}


def make(kind: Kind, job: Job, source: Source) -> Paper:
    """A paper of the job as it stands.

    What the records say against themselves stands on every paper, whoever writes it.

    Raises:
        FileFault: the job has no such paper; the sentence says why, and which it has.
    """
    demand_possible(kind, job)
    paper = WRITERS[kind](job, source)
    said = texts(paper.parts)
    against = (*source.outside.records_faults, *source.outside.records_marks)
    unsaid = tuple(Words(one, "notice") for one in against if not any(one in text for text in said))
    return replace(paper, parts=(*unsaid, *paper.parts))
