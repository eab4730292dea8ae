"""Which fault codes were there, and which were cleared?"""

from collections.abc import Iterable

from passcheck.job.answers import CodesAnswer
from passcheck.job.fixed_words import CLEARING
from passcheck.job.state import Attempt, Job
from passcheck.report.document import Column, Heading, Part, Table, Words
from passcheck.report.record_words import entered, title_of
from passcheck.report.source import Source

TITLE = "Fault codes"
COLUMNS = (
    Column("Attempt", 0.7, right=True),
    Column("Step", 2),
    Column("Present before", 1.8),
    Column("Came when provoked", 1.6),
    Column("Cleared", 1.8),
    Column("After clearing and power off and on", 1.8),
    Column("When, who", 1.8),
)


def codes(job: Job, _source: Source) -> tuple[Part, ...]:
    """A row an attempt that read codes; nothing where none did."""
    read = [(one, one.answer) for one in job.attempts if isinstance(one.answer, CodesAnswer)]
    if not read:
        return ()
    cleared = any(answer.after_clear is not None for _one, answer in read)
    told = (Words(CLEARING, "notice"),) if cleared else (Words("No code was cleared."),)
    return Heading(TITLE), Table(COLUMNS, tuple(_row(job, one, answer) for one, answer in read)), *told


def _row(job: Job, one: Attempt, answer: CodesAnswer) -> tuple[str, ...]:
    cleared = "nothing cleared" if answer.after_clear is None else _listed((*answer.present, *answer.provoked))
    after = "" if answer.after_clear is None else _listed(answer.after_clear)
    return (
        str(one.number),
        title_of(job, one.step),
        _listed(answer.present),
        _listed(answer.provoked),
        cleared,
        after,
        f"{entered(job, one)}, {one.by}",
    )


def _listed(found: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(found)) or "none"
