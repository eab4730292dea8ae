"""What does the card say that rides with the unit: which stamp is in which box?

Rows are steps, columns are purposes. Every attempt left a stamp; the box shows the one that tells most now, and a stamp
that was withdrawn or went stale is struck through and says by what.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from passcheck.job.blocker import Blocker
from passcheck.job.events import Purpose
from passcheck.job.gate import blockers
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.soak import going_on, hours_words
from passcheck.job.staleness import call, stale_by
from passcheck.job.standing import unexplained, withdrawn
from passcheck.job.state import Attempt, Job
from passcheck.job.steps import present, steps_of
from passcheck.judge.judgement import Judgement
from passcheck.judge.quantity import show
from passcheck.sequence.model import Step

Column = Literal["as found", "retest", "as left", "burn-in"]
COLUMNS: tuple[Column, ...] = ("as found", "retest", "as left", "burn-in")
PURPOSE_OF: dict[Column, tuple[Purpose, ...]] = {
    "as found": ("as-found",),
    "retest": ("retest",),
    "as left": ("acceptance",),
    "burn-in": ("burn-in",),
}
WORDS = {"pass": "PASS", "fail": "FAIL", "in doubt": "DOUBT", "not measured": "NOT MEASURED"}
BLANK = "----"
SOAKING = "ON SOAK"


@dataclass(frozen=True, slots=True)
class Stamp:
    """One stamp in a box.

    Attributes:
        word: PASS, FAIL, DOUBT, NOT MEASURED, ON SOAK while it goes on, or dashes for a blank box.
        value: the figure with its unit, or "".
        initials: who, or "".
        struck_by: what took its worth away ("rework 1", "void"), or None while it stands.
        question: why a pass doesn't count yet ("2 of 5"), or "".
        tries: how many attempts are behind this box.
    """

    word: str
    value: str = ""
    initials: str = ""
    struck_by: str | None = None
    question: str = ""
    tries: int = 0


@dataclass(frozen=True, slots=True)
class Row:
    """One step with its boxes; a box is None where the column's runs don't walk the step."""

    step: Step
    group: str
    boxes: tuple[Stamp | None, ...]


@dataclass(frozen=True, slots=True)
class Card:
    """The whole card: rows in the author's order, and what still stands between this unit and the door."""

    rows: tuple[Row, ...]
    blockers: tuple[Blocker, ...]


def card(job: Job, outside: Outside, moment: Moment) -> Card:
    """The card as it reads now."""
    rows, group = [], ""
    for step in present(job):
        group = step.heading or group or _first_block(job, step)
        rows.append(Row(step, group, tuple(_box(job, step, column) for column in COLUMNS)))
    return Card(tuple(rows), blockers(job, outside, moment))


def _first_block(job: Job, step: Step) -> str:
    block = job.sequence.blocks.get(step.proves[0]) if step.proves else None
    return block.title if block else ""


def _box(job: Job, step: Step, column: Column) -> Stamp | None:
    purposes = PURPOSE_OF[column]
    if all(step not in steps_of(job, purpose) for purpose in purposes):
        return None
    made = [a for a in job.attempts if a.step == step.id and a.purpose in purposes]
    if step.kind == "soak" and (soak := going_on(job)) is not None and soak.step.id == step.id:
        counted = hours_words(soak.credit.counted_s)
        return Stamp(SOAKING, f"{counted} of {soak.step.hours.text}", tries=len(made))
    if not made:
        return Stamp(BLANK)
    standing = [a for a in made if not withdrawn(a) and stale_by(job, a) is None]
    return stamp(job, step, (standing or made)[-1], tries=len(made))


def stamp(job: Job, step: Step, attempt: Attempt, *, tries: int = 1) -> Stamp:
    """The stamp that an attempt left, as it reads now."""
    change = stale_by(job, attempt)
    struck = "void" if withdrawn(attempt) else call(change) if change is not None else None
    question = unexplained(job, step) if attempt.judgement.verdict == "pass" and struck is None else None
    return Stamp(
        word=WORDS[attempt.judgement.verdict],
        value=figure(attempt.judgement),
        initials=attempt.by,
        struck_by=struck,
        question="" if question is None or question.explained else f"{question.repeats_done}/{question.repeats_needed}",
        tries=tries,
    )


def figure(judgement: Judgement) -> str:
    """The number behind a verdict, no finer than its uncertainty; empty where nothing was measured."""
    if judgement.value is None:
        return ""
    return show(Decimal(judgement.value), judgement.unit, resolution(judgement.u))


def resolution(u: str | None) -> Decimal | None:
    """The weight of the last digit worth showing beside a standard uncertainty: its leading digit's place."""
    uncertainty = Decimal(u) if u is not None else Decimal(0)
    return Decimal(1).scaleb(uncertainty.adjusted()) if uncertainty > 0 else None
