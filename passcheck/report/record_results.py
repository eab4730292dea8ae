"""What did each step show as found and as left, between which limits, and what changed?

Rows and groups are those of the traveller. As left is what counts for the release; where nothing does, the last try
stands there, struck by what took its worth away. A step with several numbers has a row of its own for each of them.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from passcheck.job.attempts_table import limits_words
from passcheck.job.before_after import BeforeAfter, before_after
from passcheck.job.standing import COUNTING
from passcheck.job.state import Attempt, Job
from passcheck.job.traveller import BLANK, SOAKING, Row, card, stamp
from passcheck.report.document import Cell, Column, Heading, NumberLine, Part, Table, Words
from passcheck.report.record_numbers import Number, numbers
from passcheck.report.record_words import made_with, struck_by
from passcheck.report.source import Source
from passcheck.sequence.model import Step

TITLE = "Results"
USUAL_RULE = "guarded"
COLUMNS = (
    Column("Step", 2.1),
    Column("As found", 1.9),
    Column("As left", 1.9),
    Column("Limits", 1.5),
    Column("Between its limits", 1.6),
    Column("Change", 1.4),
    Column("With, when, who", 1.6),
)
TOLD = (
    "A figure stands with how far off it may be, at 95 %. A stamp that is struck through lost its worth by what is "
    f"named in it. {BLANK} is a box that nobody has filled. Rule '{USUAL_RULE}' unless another is named."
)
TableRow = tuple[Cell | NumberLine | str, ...]


@dataclass(frozen=True, slots=True)
class _Tried:
    """An attempt with its numbers, or no attempt."""

    attempt: Attempt | None
    held: tuple[Number, ...]

    def figures(self, job: Job, number: Number | None) -> Cell:
        """One of its numbers, struck where the attempt is."""
        if self.attempt is None or number is None:
            return Cell("")
        return Cell(number.figures, struck=bool(struck_by(job, self.attempt)))


def results(job: Job, source: Source) -> tuple[Part, ...]:
    """The table of all steps that this unit's variant has."""
    rows: list[TableRow | str] = []
    group = ""
    for row in card(job, source.outside, job.last).rows:
        if row.group != group:
            group = row.group
            rows.append(group)
        rows.extend(_rows(job, row))
    return Heading(TITLE), Words(TOLD, "small"), Table(COLUMNS, tuple(rows))


def _rows(job: Job, row: Row) -> Iterator[TableRow]:
    """The step's own row, and one more for each number where it has several."""
    step, told = row.step, before_after(job, row.step)
    found = told.as_found or _last(job, step, ("as-found",))
    left = told.as_left or _last(job, step, COUNTING if step.kind != "soak" else ("burn-in",))
    before, after = (_Tried(one, () if one is None else numbers(job, step, one)) for one in (found, left))
    several = max(len(before.held), len(after.held)) > 1
    shown = left or found
    yield (
        step.title,
        "" if found is None and row.boxes[0] is None else _stamp(job, step, before),
        _soaking(row) or _stamp(job, step, after),
        _limits(step, shown),
        "" if several else _line(before.held, after.held),
        _change(told),
        "" if shown is None else made_with(job, shown),
    )
    if several:
        yield from _each(job, told, before, after)


def _last(job: Job, step: Step, purposes: tuple[str, ...]) -> Attempt | None:
    made = [one for one in job.attempts if one.step == step.id and one.purpose in purposes]
    return made[-1] if made else None


def _soaking(row: Row) -> Cell | None:
    """A unit that is at power just now."""
    box = row.boxes[-1]
    return Cell(f"{box.word} {box.value}") if box is not None and box.word == SOAKING else None


def _stamp(job: Job, step: Step, tried: _Tried) -> Cell:
    """The stamp of the traveller, its figure with how far off it may be."""
    attempt, held = tried.attempt, tried.held
    if attempt is None:
        return Cell(BLANK)
    it = stamp(job, step, attempt)
    value = held[0].figures if len(held) == 1 else it.value
    clean = f"doesn't count yet: unexplained, {it.question} clean repeats" if it.question else ""
    words = ", ".join(filter(None, (f"{it.word} {value}".rstrip(), clean, it.initials, _tries(job, attempt))))
    struck = struck_by(job, attempt)
    return Cell(f"{words}; {struck}" if struck else words, struck=bool(struck), strong=it.word != "PASS" and not struck)


def _tries(job: Job, attempt: Attempt) -> str:
    """What else was tried for the same purpose; a fault that comes and goes must not hide behind its last try."""
    made = [one for one in job.attempts if one.step == attempt.step and one.purpose == attempt.purpose]
    failed = sum(one.judgement.verdict == "fail" for one in made)
    if len(made) < 2:
        return ""
    return f"{failed} of {len(made)} tries failed" if failed else f"last of {len(made)} tries"


def _limits(step: Step, shown: Attempt | None) -> str:
    """The limits that were judged by, and the rule where it is not the usual one."""
    if shown is None:
        written = getattr(step, "limits", None)
        return "" if written is None else str(written.words())
    judged = shown.judgement
    limits = limits_words(judged, step)
    wanted = f"{limits} wanted" if limits and not judged.unit else limits
    rule = "" if judged.rule == USUAL_RULE else f"rule: {judged.rule}"
    return "; ".join(filter(None, (wanted, rule)))


def _line(before: tuple[Number, ...], after: tuple[Number, ...]) -> NumberLine | str:
    """As left on its scale with as found beside it; as found alone where nothing is as left."""
    if after:
        return after[0].line(before[0] if before else None) or ""
    return (before[0].line() if before else None) or ""


def _change(told: BeforeAfter) -> str:
    """What changed, short: of several numbers each has its own row."""
    shift = told.shift
    if shift is None or not shift.parts:
        return ""
    if len(shift.parts) == 1:
        return shift.parts[0].short
    changed = any(part.changed for part in shift.parts)
    return shift.words if changed else f"no change in any of {len(shift.parts)}"


def _each(job: Job, told: BeforeAfter, found: _Tried, left: _Tried) -> Iterator[TableRow]:
    """One row a number: a mark, a row of a table, a way of a sweep; struck where its stamp is."""
    was, now = ({one.held.name: one for one in tried.held} for tried in (found, left))
    parts = () if told.shift is None else told.shift.parts
    changes = {part.name: part.short for part in parts}
    for name in dict.fromkeys((*was, *now)):
        first, last = was.get(name), now.get(name)
        either = last or first
        yield (
            f"· {name}",
            found.figures(job, first),
            left.figures(job, last),
            "" if either is None else either.limits,
            _line(() if first is None else (first,), () if last is None else (last,)),
            changes.get(name, ""),
            "",
        )
