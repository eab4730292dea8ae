"""What does a step ask of hands and eyes, on paper where no screen says it?"""

from collections.abc import Iterator
from typing import assert_never

from passcheck.job.judging import lamp_limits
from passcheck.job.state import Job
from passcheck.judge.limits import Limits
from passcheck.sequence import model
from passcheck.sequence.model import Step


def what_to_do(job: Job, step: Step) -> Iterator[str]:  # noqa: PLR0912 - one row a kind
    """The author's words first, then what the kind of step asks for besides; a sentence each."""
    yield from step.do
    match step:
        case model.ReadingStep():
            yield from _reading(job, step)
        case model.PowerUpStep():
            yield f"Read the current after {step.after.text}. Limit light: did it stay off, flash briefly, or stay on?"
        case model.ResponseStep():
            yield f"Press {step.press}; watch: {step.watch}."
        case model.PressesStep():
            slowest = " Note the slowest answer." if step.limits is not None else ""
            yield f"Press {', '.join(step.press)}: {step.times} times each; watch: {step.watch}.{slowest}"
        case model.LampsStep():
            yield from _lamps(step)
        case model.SweepStep():
            yield _first_up(f"{step.gauge}: the whole arc, up and down. Does it hesitate, and where?")
        case model.MarksStep():
            both = ", rising, then falling" * step.both_ways
            yield _first_up(f"{step.gauge}: feed each value and read the pointer{both}.")
        case model.CodesStep():
            yield from _codes(step)
        case model.GradeStep():
            yield f"{step.disturbance}. To which class does the unit fall (A best, E worst)?"
        case model.CountStep():
            yield f"Count: {step.of}."
        case model.LookStep() | model.TableStep():
            return
        case model.SoakStep():
            yield "A soak can't be kept on paper: its hours count between looks that were entered. Start it there."
        case _:
            assert_never(step)


def rows_to_fill(step: Step) -> tuple[tuple[str, str], ...]:
    """Of a step that is answered line by line what each line is, and its limits; () where a single answer will do."""
    match step:
        case model.LookStep():
            return tuple((point, "") for point in step.points)
        case model.TableStep():
            return tuple((row.put, row.limits.words()) for row in step.rows)
        case model.MarksStep():
            near = f" ± {step.tolerance.text}"
            return tuple((f"{mark.feed} at {mark.mark}", f"{mark.value.text}{near}") for mark in step.marks)
        case model.LampsStep():
            return tuple((" ".join(filter(None, (lamp.ref, lamp.colour, lamp.shows))), "") for lamp in step.lamps)
        case model.CodesStep():
            return tuple((name, "") for name in _code_sets(step))
        case model.SweepStep():
            return (("up", step.up.words()), ("down", step.down.words()))
        case _:
            return ()


def is_timed(step: Step) -> bool:
    """Is a time or a rate asked for, which taps of a hand might have answered at the bench?"""
    match step:
        case model.ResponseStep() | model.SweepStep():
            return True
        case model.PressesStep() | model.GradeStep():
            return step.limits is not None
        case model.LampsStep():
            return bool(lamp_limits(step))
        case _:
            return False


def _reading(job: Job, step: model.ReadingStep) -> Iterator[str]:
    if step.derive is not None:
        first, second = (job.sequence.step(name).title for name in step.derive.of)
        yield f"Nothing is measured here: it is worked out ({step.derive.form}) from {first} and {second}."
        return
    if step.node is not None:
        yield _first_up(f"{step.node.polarity}; read after {step.node.settle.text}.")
    if step.leads is not None:
        yield f"Leads shorted first: {step.leads.words()}."
    if step.component is not None:
        yield "In its circuit: read it both ways round and write down both."
    if step.readings > 1:
        yield f"{step.readings} readings."
    if step.seen is not None:
        yield f"A reading outside {step.seen.words()} shows that the probe did not touch."


def _lamps(step: model.LampsStep) -> Iterator[str]:
    if step.check == "alone":
        yield "Each alone: exactly one lit at a time."
    named: tuple[tuple[str, Limits | None], ...] = (("Lit", step.on_within), ("out after", step.off_after))
    times = [f"{name} {limits.words()}" for name, limits in named if limits is not None]
    yield from (f"{'; '.join(times)}.",) if times else ()


def _codes(step: model.CodesStep) -> Iterator[str]:
    yield "Read the codes and write them down before anything is cleared."
    if step.absent:
        yield f"Must not be there: {', '.join(step.absent)}."
    for one in step.provoke:
        within = f" {one.within.words()}" if one.within is not None else ""
        yield f"{one.do}: {one.code} has to come{within}."
    if step.clear is not None:
        yield f"Then {step.clear}, power off and on, and read again: only what this bench always shows may come back."


def _code_sets(step: model.CodesStep) -> Iterator[str]:
    yield "codes shown"
    if step.provoke:
        yield "came when provoked"
    if step.clear is not None:
        yield "after clear and power off and on"


def _first_up(words: str) -> str:
    return words[:1].upper() + words[1:]
