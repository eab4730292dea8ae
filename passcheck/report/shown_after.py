"""What was shown of the unit after the last work on it?"""

from collections.abc import Iterable
from typing import Final

from passcheck.job.answers import SoakAnswer
from passcheck.job.attempts_table import limits_words
from passcheck.job.before_after import BeforeAfter, before_after, stamped
from passcheck.job.soak import hours_words, soak_steps
from passcheck.job.standing import counted, counting, passes_standing
from passcheck.job.state import Attempt, Job
from passcheck.job.steps import present
from passcheck.job.symptoms import linked_steps
from passcheck.job.traveller import BLANK, WORDS
from passcheck.report.as_found import failed_steps
from passcheck.report.bounded import MORE, cut, listed
from passcheck.report.document import Column, Part, Table, Words
from passcheck.report.how_many import many
from passcheck.sequence.model import Step

ROWS: Final = 6
COLUMNS: Final = (Column("Step", 2.4), Column("As found", 1.6), Column("As left", 1.6), Column("Limits", 1.8))
TITLE_ROOM, STAMP_ROOM, LIMITS_ROOM = 28, 20, 22
GROUPS_SHOWN, GROUPS_ROOM, GROUP_ROOM = 8, 110, 26
ABSENT_SHOWN, ABSENT_ROOM = 3, 75
SOAKS_SHOWN, SOAKS_ROOM = 2, 75


def before_and_after(job: Job) -> tuple[Part, ...]:
    """The complaint's own steps before and after the work, or where none belongs to it those that had failed."""
    linked = frozenset(linked_steps(job))
    steps = tuple(step for step in present(job) if step.id in linked) or failed_steps(job)
    if not steps:
        return ()
    rows = tuple(_row(step, before_after(job, step)) for step in steps[:ROWS])
    left = len(steps) - len(rows)
    more: tuple[Part, ...] = (Words(f"And {left} more, {MORE}.", "small"),) if left else ()
    return (Table(COLUMNS, rows), *more)


def tested_words(job: Job) -> str:
    """How many steps pass as left, by the groups that the author made of them."""
    groups: dict[str, int] = {}
    for step, group in _grouped(job):
        if step.kind != "soak" and step.role != "arrival" and passes_standing(job, step):
            groups[group] = groups.get(group, 0) + 1
    named = (f"{cut(group, GROUP_ROOM)} {count}" for group, count in groups.items())
    if not groups:
        return "nothing: no step of the sequence passes as left"
    told = f"{many(sum(groups.values()), 'step')} passed as left"
    return f"{told}: {listed(named, GROUPS_SHOWN, GROUPS_ROOM)}" if len(groups) > 1 else told


def burn_in_words(job: Job) -> str:
    """Hours at power that count, of those that the sequence asks for."""
    told = []
    for step in soak_steps(job):
        attempt = counting(job, step)
        answer = attempt.answer if attempt is not None else None
        hours = hours_words(float(answer.counted_s)) if isinstance(answer, SoakAnswer) else "none"
        told.append(f"{hours} counted, {step.hours.text} asked for")
    return listed(told, SOAKS_SHOWN, SOAKS_ROOM) or "this sequence asks for none"


def not_part_words(job: Job) -> str:
    """The variants that this unit doesn't have, with what was left out for them."""
    absent = [step for step in job.sequence.steps if step.variant is not None and step not in present(job)]
    counts = {name: sum(step.variant == name for step in absent) for name in dict.fromkeys(s.variant for s in absent)}
    variants = job.sequence.variants
    said = (f"{variants.get(name or '', name)} ({many(count, 'step')})" for name, count in counts.items())
    return listed(said, ABSENT_SHOWN, ABSENT_ROOM) or "nothing of the sequence was left out"


def still_open(job: Job) -> tuple[tuple[Step, Attempt | None], ...]:
    """The steps that a release needs and that don't pass as left, each with the try that counts, if any."""
    return tuple((step, attempt) for step, attempt in counted(job) if not passes_standing(job, step))


def _row(step: Step, told: BeforeAfter) -> tuple[str, ...]:
    """One line each; a limit that was changed by a newer revision is the one that counts now."""
    last = told.as_left or told.as_found
    return (
        cut(step.title, TITLE_ROOM),
        _stamp(told.as_found),
        _stamp(told.as_left),
        cut(limits_words(last.judgement, step), LIMITS_ROOM) if last is not None and last.judgement.unit else "",
    )


def _stamp(attempt: Attempt | None) -> str:
    if attempt is None:
        return BLANK
    return cut(stamped(attempt) if attempt.judgement.unit else WORDS[attempt.judgement.verdict], STAMP_ROOM)


def _grouped(job: Job) -> Iterable[tuple[Step, str]]:
    """Each step with the heading that it stands under, or before any heading with its first block."""
    group = ""
    for step in present(job):
        block = job.sequence.blocks.get(step.proves[0]) if step.proves else None
        group = step.heading or group or (block.title if block else "All")
        yield step, group
