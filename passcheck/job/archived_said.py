"""What did people write in a job, in the order in which they wrote it?"""

from collections.abc import Iterable, Iterator

from passcheck.job import events as happened
from passcheck.job.archive_rows import SaidRow
from passcheck.job.archived_time import utc_text
from passcheck.job.state import Recorded

_WORDS = frozenset(
    {
        happened.AttemptJudged,
        happened.JobOpened,
        happened.NoteAdded,
        happened.AttemptVoided,
        happened.ReworkLogged,
        happened.IncidentReported,
        happened.CaseOpened,
        happened.Jotted,
        happened.HandedOver,
        happened.SoakInterrupted,
        happened.ReturnedUnrepaired,
        happened.WorkProposed,
        happened.OwnerAgreed,
    }
)
Saying = tuple[str, str, str]
"""Kind, step and text."""


def said_rows(recorded: Iterable[Recorded]) -> tuple[SaidRow, ...]:
    """A row for each text of a person; texts of blanks alone say nothing."""
    steps: dict[int, str] = {}
    rows: list[SaidRow] = []
    job = serial = ""
    for one in recorded:
        if isinstance(one.event, happened.JobOpened):
            job, serial = one.event.job, one.event.serial
        if isinstance(one.event, happened.AttemptJudged):
            steps[one.event.attempt] = one.event.step
        if type(one.event) not in _WORDS:
            continue
        for kind, step, text in _said(one.event, steps):
            if text.strip():
                rows.append(SaidRow(job, len(rows), kind, utc_text(one.moment.utc), one.by, step, text, serial))
    return tuple(rows)


def _said(event: happened.Event, steps: dict[int, str]) -> Iterator[Saying]:  # noqa: PLR0912 - a row an event
    match event:
        case happened.AttemptJudged(step=step, note=note):
            yield "note", step, note
        case happened.JobOpened(complaint=complaint, condition=condition):
            yield "complaint", "", complaint
            yield "condition", "", condition
        case happened.NoteAdded(text=text, step=step):
            yield "note", step or "", text
        case happened.AttemptVoided(attempt=attempt, reason=reason):
            yield "void", steps.get(attempt, ""), reason
        case happened.ReworkLogged(reason=reason):
            yield "reason", "", reason
        case happened.IncidentReported(what=what):
            yield "incident", "", what
        case happened.CaseOpened(why=why):
            yield "case opened", "", why
        case happened.Jotted(point=point, value=value, meter=meter):
            yield "jot", "", " ".join(filter(None, (point, value, meter)))
        case happened.SoakInterrupted(step=step, why=why):
            yield "soak interrupted", step, why
        case happened.ReturnedUnrepaired(reason=reason):
            yield "returned", "", reason
        case happened.HandedOver(note=note):
            yield "note", "", note
        case happened.WorkProposed(lines=lines):
            yield from (("proposed", "", line) for line in lines)
        case happened.OwnerAgreed(scope=scope, who=who):
            yield "agreed", "", f"{scope} ({who})"
        case _:
            return
