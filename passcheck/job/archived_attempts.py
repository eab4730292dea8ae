"""How does each try at a step stand in the archive, with the number behind it and what became of it?"""

import re
from collections.abc import Mapping
from functools import lru_cache

from passcheck.job import answers
from passcheck.job.archive_rows import AttemptRow
from passcheck.job.archived_time import utc_of, utc_text
from passcheck.job.staleness import Spoilers, call, spoilers
from passcheck.job.standing import counted, withdrawn
from passcheck.job.state import Attempt, Job
from passcheck.job.steps import by_id
from passcheck.job.traveller import figure
from passcheck.judge.judgement import Judgement
from passcheck.sequence.model import Step

_NUMBER = re.compile(r"-?[0-9]{1,24}(\.[0-9]{1,24})?", re.ASCII)
_REMEMBERED = 4096


def attempt_rows(job: Job, seconds: Mapping[int, int]) -> tuple[AttemptRow, ...]:
    """A row a try on this job's own unit, in the order in which they were made; `seconds` by the attempt's number."""
    found, left = _as_found(job), _as_left(job)
    steps, spoiled = by_id(job.sequence.steps), spoilers(job.sequence, job.changes)
    return tuple(
        _row(
            job,
            one,
            steps.get(one.step),
            seconds.get(one.number),
            _struck_by(spoiled, one),
            as_found=one.number in found,
            as_left=one.number in left,
        )
        for one in job.attempts
        if one.purpose != "good-unit"
    )


def _row(
    job: Job, attempt: Attempt, step: Step | None, seconds: int | None, struck_by: str, *, as_found: bool, as_left: bool
) -> AttemptRow:
    judged = attempt.judgement
    value, u, low, high = _NO_NUMBER if _has_several(attempt.answer) else _numbers_of(judged)
    return AttemptRow(
        job=job.id,
        number=attempt.number,
        run=attempt.run,
        purpose=attempt.purpose,
        board=job.sequence.sequence,
        step=attempt.step,
        kind=step.kind if step is not None else "",  # a newer revision dropped it
        title=step.title if step is not None else "",
        at=utc_text(utc_of(attempt.measured_at, attempt.moment.utc)),
        by=attempt.by,
        instrument=attempt.instrument.instrument if attempt.instrument is not None else "",
        verdict=judged.verdict,
        sentence=judged.sentence,
        value=value,
        u=u,
        unit=judged.unit if value is not None else "",
        low=low,
        high=high,
        figure=_figure(judged),
        margin=margin(value, low, high),
        as_found=int(as_found),
        as_left=int(as_left),
        struck_by=struck_by,
        conditions=", ".join(attempt.conditions),
        late=int(attempt.measured_at is not None),
        seconds=None if type(attempt.answer) is answers.SoakAnswer else seconds,
    )


def margin(value: float | None, low: float | None, high: float | None) -> float | None:
    """How far inside the nearer limit, as a share of half the width, or of the one limit; below 0 outside.

    To six digits. None without a number, and where the share would be of nothing: a limit of 0 alone, or two that are
    one and the same.
    """
    if value is None:
        return None
    if low is not None and high is not None:
        room, of = min(value - low, high - value), (high - low) / 2
    elif low is not None:
        room, of = value - low, abs(low)
    elif high is not None:
        room, of = high - value, abs(high)
    else:
        return None
    return float(f"{room / of:.6g}") if of > 0 else None


def _has_several(answer: answers.Answer) -> bool:
    """Whether more than one number was judged; the judgement keeps only the one that decided."""
    if type(answer) is answers.ReadingAnswer:  # most are
        return False
    match answer:
        case answers.MarksAnswer(up, down):
            return len(up) + len(down) > 1
        case answers.TableAnswer(outputs):
            return len(outputs) > 1
        case answers.ListAnswer(times=times):
            return len(times) > 1
        case answers.TapRowsAnswer(rows):
            return any(row.way != "flash" for row in rows)
        case answers.SweepAnswer():
            return True
        case _:
            return False


Numbers = tuple[float | None, float | None, float | None, float | None]
_NO_NUMBER: Numbers = (None, None, None, None)


def _numbers_of(judged: Judgement) -> Numbers:
    """Value, standard uncertainty and limits; limits stay where nothing was measured."""
    return _number(judged.value), _number(judged.u), _number(judged.low), _number(judged.high)


@lru_cache(maxsize=_REMEMBERED)
def _number(text: str | None) -> float | None:
    """None for what isn't a plain number, as a record from elsewhere may hold it."""
    return float(text) if text is not None and _NUMBER.fullmatch(text) else None


def _figure(judged: Judgement) -> str:
    """The figure as the card shows it, of the number that decided where there are several."""
    return _shown(judged.value, judged.u, judged.unit) if judged.value is not None else ""


@lru_cache(maxsize=_REMEMBERED)
def _shown(value: str, u: str | None, unit: str) -> str:
    if not (_NUMBER.fullmatch(value) and (u is None or _NUMBER.fullmatch(u))):
        return f"{value} {unit}".rstrip()
    return figure(Judgement("pass", "", value, unit, u, None, None, "", outside=False))


def _as_found(job: Job) -> frozenset[int]:
    """The numbers of the attempts that stand as found, as `before_after` has them."""
    latest = {one.step: one.number for one in job.attempts if one.purpose == "as-found" and not withdrawn(one)}
    return frozenset(latest.values())


def _as_left(job: Job) -> frozenset[int]:
    """The numbers of the attempts that count for the release."""
    return frozenset(one.number for _step, one in counted(job) if one is not None)


def _struck_by(spoiled: Spoilers, attempt: Attempt) -> str:
    if withdrawn(attempt):
        return "void"
    change = spoiled.of(attempt)
    return call(change) if change is not None else ""
