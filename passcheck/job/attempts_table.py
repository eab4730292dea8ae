"""What would the shop's office see of a job's attempts in a spreadsheet, one row each?

Every attempt has its row, struck and void ones too, in the order in which they were made. Limits are those that the
attempt was judged by, whatever a later revision of the sequence says. Numbers stand in the base unit, so that a column
can be reckoned with; what was typed stands beside them as it was typed.
"""

import re
from datetime import UTC, datetime
from decimal import Decimal

from passcheck.job.answer_words import answer_words
from passcheck.job.csv_text import Head
from passcheck.job.staleness import call, stale_by
from passcheck.job.standing import other_unit, withdrawn
from passcheck.job.state import Attempt, Job
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity, show, six
from passcheck.sequence.model import Step

HEADS = (
    Head("job"),
    Head("serial"),  # of a good-unit run the unit that was measured, which isn't the job's own
    Head("board"),
    Head("revision", number=True),
    Head("run", number=True),
    Head("purpose"),
    Head("step"),
    Head("title"),
    Head("attempt", number=True),
    Head("entered (UTC)"),
    Head("measured (UTC)"),  # of a late entry only
    Head("by"),
    Head("seen by"),
    Head("observed"),
    Head("value", number=True),
    Head("standard uncertainty", number=True),
    Head("unit"),
    Head("limits"),
    Head("verdict"),
    Head("reason"),
    Head("struck by"),
    Head("conditions"),
    Head("instrument"),
    Head("note"),
    Head("void because"),
    Head("practice"),
)
_NUMBER = re.compile(r"-?[0-9]{1,24}(\.[0-9]{1,24})?", re.ASCII)


def attempt_rows(job: Job) -> tuple[tuple[str, ...], ...]:
    """A row an attempt under `HEADS`; the texts are as the record has them, for `csv_text` to clean."""
    return tuple(_row(job, attempt) for attempt in job.attempts)


def _row(job: Job, attempt: Attempt) -> tuple[str, ...]:
    judged, step = attempt.judgement, _step(job, attempt.step)
    return (
        job.id,
        other_unit(job, attempt) or job.serial,
        job.sequence.sequence,
        str(attempt.revision),
        str(attempt.run),
        attempt.purpose,
        attempt.step,
        step.title if step is not None else "",
        str(attempt.number),
        _seconds(attempt.moment.utc),
        _measured(attempt.measured_at),
        attempt.by,
        attempt.second or "",
        answer_words(attempt.answer),
        judged.value or "",
        judged.u or "",
        judged.unit if judged.value is not None else "",
        limits_words(judged, step),
        judged.verdict,
        judged.sentence,
        _struck_by(job, attempt),
        ", ".join(attempt.conditions),
        attempt.instrument.instrument if attempt.instrument else "",
        attempt.note,
        attempt.void.reason if attempt.void else "",
        "practice" if job.facts.practice else "",
    )


def limits_words(judged: Judgement, step: Step | None = None) -> str:
    """The limits of a judgement: `4.85 V .. 5.15 V`, `at most 60 mV`; empty where the step has no number.

    In the author's own words where `step` still has these very limits.
    """
    written = getattr(step, "limits", None)
    if isinstance(written, Limits) and (_six(written.low), _six(written.high)) == (judged.low, judged.high):
        return written.words()
    low, high = _shown(judged.low, judged.unit), _shown(judged.high, judged.unit)
    if low and high:
        return low if low == high else f"{low} .. {high}"
    return f"at least {low}" if low else f"at most {high}" if high else ""


def _six(limit: Quantity | None) -> str | None:
    return None if limit is None else six(limit.value)


def _shown(number: str | None, unit: str) -> str:
    """The limit with its prefix; one that isn't a plain number, in a record from elsewhere, stays as it is."""
    if number is None:
        return ""
    if not _NUMBER.fullmatch(number):
        return f"{number} {unit}".rstrip()
    exact = Decimal(number)
    # 150 Ω rather than 0.15 kΩ, and 10 kΩ rather than 10.000 kΩ
    return min(show(exact, unit, Decimal(1).scaleb(int(exact.as_tuple().exponent))), show(exact, unit), key=len)


def _struck_by(job: Job, attempt: Attempt) -> str:
    if withdrawn(attempt):
        return "void"
    change = stale_by(job, attempt)
    return call(change) if change is not None else ""


def _seconds(moment: datetime) -> str:
    """In the form that spreadsheets take for a time: 2031-04-02 09:14:03."""
    return moment.strftime("%Y-%m-%d %H:%M:%S")


def _measured(said: str | None) -> str:
    """When a late entry was measured, whatever offset it was given with."""
    if said is None:
        return ""
    try:
        moment = datetime.fromisoformat(said)
        return _seconds(moment.astimezone(UTC)) if moment.tzinfo is not None else said
    except (ValueError, OverflowError):
        return said


def _step(job: Job, step_id: str) -> Step | None:
    """The step as the job's sequence has it now; None where a newer revision dropped it."""
    return next((step for step in job.sequence.steps if step.id == step_id), None)
