"""How does a unit's history look to another program?"""

from collections.abc import Sequence

from passcheck.cli.say import practice_mark, quantity, say_json
from passcheck.job.archive_rows import AttemptRow, SaidRow, TouchRow
from passcheck.job.visit_drift import Drift
from passcheck.job.visit_words import headline
from passcheck.job.visits import StepHistory, ToldVisit, UnitHistory
from passcheck.judge.quantity import six

Item = dict[str, object]


def say_history(told: UnitHistory, *, practice: bool) -> None:
    """Print the visits, the oldest first, and beside them every step over all visits."""
    beside: Item = {
        **practice_mark(practice),
        "serial": told.visits[-1].visit.job.serial,
        "headline": headline(told),
        "steps": [_step(told, step) for step in told.steps],
    }
    say_json("history", [_visit(one) for one in told.visits], **beside)


def say_found(words: str, found: Sequence[SaidRow], *, practice: bool) -> None:
    """Print what was found, the latest first."""
    items = [{"job": row.job, "serial": row.serial, **_said(row)} for row in found]
    say_json("history", items, **practice_mark(practice), search=words)


def _visit(one: ToldVisit) -> Item:
    job = one.visit.job
    return {
        "visit": one.place,
        "job": job.job,
        "sequence": job.board,
        "revision": job.revision,
        "title": job.title,
        "complaint": job.complaint,
        "condition": job.condition,
        "symptoms": job.symptoms.split(),
        "opened_at": job.opened_at,
        "opened_by": job.opened_by,
        "outcome": job.outcome or None,
        "ended": job.ended or None,
        "ended_at": job.ended_at or None,
        "ended_by": job.ended_by or None,
        "away": None
        if one.away is None
        else {"days": one.away.days, "in_service": one.away.in_service, "words": one.away.words},
        "finding": one.finding or None,
        "remarks": list(one.remarks),
        "touched": [_touch(row) for row in one.visit.touched],
        "said": [_said(row) for row in one.visit.said],
    }


def _touch(row: TouchRow) -> Item:
    return {
        "kind": row.kind,
        "number": row.number,
        "block": row.block or None,
        "at": row.at,
        "by": row.by,
        "action": row.action,
        "reason": row.reason,
        "confirmed": None if row.confirmed is None else bool(row.confirmed),
    }


def _said(row: SaidRow) -> Item:
    return {"kind": row.kind, "at": row.at, "by": row.by, "step": row.step or None, "text": row.text}


def _step(told: UnitHistory, step: StepHistory) -> Item:
    cells = [
        {
            "visit": one.place,
            "as_found": _attempt(cell.found),
            "as_left": _attempt(cell.left),
            "since_it_left": _drift(cell.since),
        }
        for one, cell in zip(told.visits, step.visits, strict=True)
    ]
    return {
        "sequence": step.board,
        "step": step.step,
        "title": step.title,
        "visits": cells,
        "moves": step.moves or None,
    }


def _attempt(row: AttemptRow | None) -> Item | None:
    if row is None:
        return None
    return {
        "attempt": row.number,
        "at": row.at,
        "by": row.by,
        "instrument": row.instrument or None,
        "verdict": row.verdict,
        "sentence": row.sentence,
        "figure": row.figure or None,
        **{name: quantity(_six(getattr(row, name)), row.unit) for name in ("value", "u", "low", "high")},
        "margin": _six(row.margin),
    }


def _drift(since: Drift | None) -> Item | None:
    if since is None:
        return None
    change = since.change
    return {
        "words": since.words,
        "changed": since.changed,
        "change": None if change is None else quantity(str(change.value), change.unit),
        "u": None if change is None else quantity(six(change.u), change.unit),
        "within": None if change is None else quantity(six(change.within), change.unit),
        "remarks": list(since.remarks),
    }


def _six(number: float | None) -> str | None:
    return None if number is None else six(number)
