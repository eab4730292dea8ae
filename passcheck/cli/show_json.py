"""How does a job's card look to another program?"""

from dataclasses import asdict

from passcheck.bench.arrivals import Arrived
from passcheck.cli.say import json_text, practice_mark, quantity
from passcheck.job.before_after import Difference, Shift, before_after
from passcheck.job.outside import Outside
from passcheck.job.remarks import remarks
from passcheck.job.replay import stamp as at
from passcheck.job.soak import soak_now, soak_steps
from passcheck.job.soak_course import courses
from passcheck.job.standing import other_unit
from passcheck.job.state import Attempt, Change, Job
from passcheck.job.traveller import COLUMNS, Card, Row, Stamp, stamp
from passcheck.judge.quantity import six
from passcheck.sequence.model import SoakStep, Step


def say_card(job: Job, outside: Outside, sheet: Card, others: tuple[Arrived, ...]) -> None:
    """Print the card."""
    print(card_text(job, outside, sheet, others))


def card_text(job: Job, outside: Outside, sheet: Card, others: tuple[Arrived, ...]) -> str:
    """One object: the job, its steps with boxes and attempts, its notes, and what stands against a sign-off."""
    item = {
        "job": job.id,
        **practice_mark(job.facts.practice),
        "serial": job.serial,
        "sequence": job.sequence.sequence,
        "revision": job.sequence.revision,
        "sequence_digest": job.sequence_digest,
        "title": job.sequence.title,
        "complaint": job.facts.complaint,
        "condition": job.facts.condition,
        "variants": list(job.facts.variants),
        "opened_at": at(job.opened),
        "opened_by": job.opened_by,
        "last_at": at(job.last),
        "ended": job.ended,
        "remarks": list(remarks(job, outside)),
        "symptoms": list(job.symptoms),
        "runs": [
            {
                "run": run.number,
                "purpose": run.purpose,
                "started_at": at(run.started),
                "by": run.by,
                "outcome": run.outcome,
            }
            for run in job.runs
        ],
        "work": [_change_of(change) for change in job.changes],
        "burn_in": [_soak(job, soak) for soak in soak_steps(job) if any(leg.step == soak.id for leg in job.soaks)],
        "steps": [_row(job, row) for row in sheet.rows],
        "notes": [
            {"at": at(note.moment), "by": note.by, "step": note.step, "text": note.text, "photos": list(note.photos)}
            for note in job.notes
        ],
        "arrived_with": job.facts.arrived_with or None,
        "same_arrival": [asdict(one) for one in others],
        "proposed": [{"at": at(one.moment), "by": one.by, "lines": list(one.lines)} for one in job.proposed],
        "agreed": [{"at": at(one.moment), "by": one.by, "scope": one.scope, "who": one.who} for one in job.agreed],
        "reworks": [_rework(job, change) for change in job.changes if change.kind == "rework"],
        "put_back": [{"change": it.change, "words": it.words} for it in job.fitted],
        "blockers": [asdict(blocker) for blocker in sheet.blockers],
    }
    return json_text({"show": [item], **practice_mark(job.facts.practice)})


def _rework(job: Job, change: Change) -> dict[str, object]:
    rework = next(one for one in job.reworks if one.rework == change.number)
    return {"at": at(change.moment), "by": change.by, **asdict(rework)}


def _row(job: Job, row: Row) -> dict[str, object]:
    step = row.step
    boxes = {column.replace(" ", "_").replace("-", "_"): box for column, box in zip(COLUMNS, row.boxes, strict=True)}
    return {
        "step": step.id,
        "title": step.title,
        "kind": step.kind,
        "group": row.group,
        "boxes": {name: _box(box) for name, box in boxes.items()},
        "attempts": [_attempt(job, step, attempt) for attempt in job.attempts if attempt.step == step.id],
        "change": _change(before_after(job, step).shift),
    }


def _change_of(change: Change) -> dict[str, object]:
    """A rework, an incident or whatever else made results worthless; what a rework did stands under `reworks`."""
    return {
        "kind": change.kind,
        "number": change.number,
        "at": at(change.moment),
        "by": change.by,
        "blocks": list(change.blocks),
        "words": change.words,
    }


def _soak(job: Job, soak: SoakStep) -> dict[str, object]:
    """What counts of a soak, and every stretch between two looks with what it was worth."""
    now = soak_now(job, soak)
    return {
        "step": soak.id,
        "counted": quantity(six(now.credit.counted_s), "s"),
        "wanted": quantity(six(soak.hours.value), "s"),
        "cycles": now.credit.cycles,
        "stretches": [
            {
                "begun_at": one.begun.isoformat(timespec="milliseconds"),
                "ended_at": one.ended.isoformat(timespec="milliseconds"),
                "length": quantity(six(one.length_s), "s"),
                "counted": quantity(six(one.counted_s), "s"),
                "standing": one.standing,
                "why": one.why,
            }
            for one in now.credit.stretches
        ],
        "courses": [{"step": one.step.id, "words": one.warning or one.trend.sentence} for one in courses(job, soak)],
    }


def _change(shift: Shift | None) -> dict[str, object] | None:
    """What changed from as found to as left; of several numbers each is told apart, and of marks the mean as well."""
    if shift is None:
        return None
    return {
        "from_attempt": shift.before,
        "to_attempt": shift.after,
        **_difference(shift.whole),
        "words": shift.words,
        "parts": [{"name": part.name, **_difference(part), "words": part.words} for part in shift.parts if part.name],
    }


def _difference(told: Difference | None) -> dict[str, object]:
    """Value and standard uncertainty as decimal strings; the unit of a difference of temperatures is K."""
    if told is None:
        return {"value": None, "u": None, "unit": None}
    return {"value": six(told.value), "u": six(told.u), "unit": told.unit}


def _box(box: Stamp | None) -> dict[str, object] | None:
    """A box without its figure: that is a quantity, and stands with its attempt."""
    return None if box is None else {name: value for name, value in asdict(box).items() if name != "value"}


def _attempt(job: Job, step: Step, attempt: Attempt) -> dict[str, object]:
    judged = attempt.judgement
    return {
        "attempt": attempt.number,
        "run": attempt.run,
        "purpose": attempt.purpose,
        "good_unit": other_unit(job, attempt) or None,
        "at": at(attempt.moment),
        "by": attempt.by,
        "second": attempt.second,
        "verdict": judged.verdict,
        "sentence": judged.sentence,
        "value": quantity(judged.value, judged.unit),
        "uncertainty": quantity(judged.u, judged.unit),
        "low": quantity(judged.low, judged.unit),
        "high": quantity(judged.high, judged.unit),
        "rule": judged.rule,
        "given": asdict(attempt.answer),
        "instrument": attempt.instrument.instrument if attempt.instrument else None,
        "measured_at": attempt.measured_at,
        "note": attempt.note,
        "photos": list(attempt.photos),
        "struck_by": stamp(job, step, attempt).struck_by,
        "void": asdict(attempt.void) if attempt.void else None,
    }
