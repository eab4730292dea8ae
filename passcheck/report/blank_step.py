"""How does a step stand on a blank sheet: what to do, within what, and where to write?"""

from collections.abc import Iterator
from typing import Final

from passcheck.job.judging import instrument_role, is_derived
from passcheck.job.late_entry import can_be_late
from passcheck.job.state import Job
from passcheck.job.step_limits import judged_by
from passcheck.job.steps import is_powered
from passcheck.report.document import Box, Boxes, Heading, Part, Said, Words
from passcheck.report.what_to_do import is_timed, rows_to_fill, what_to_do
from passcheck.sequence.model import ReadingStep, Step

LATE, WALK_AGAIN, TIMED = "L", "W", "T"
MEANS: Final = (
    (LATE, "can be typed in afterwards as a late entry ({key})."),
    (
        WALK_AGAIN,
        "can't be typed in afterwards: what is written here is a note, and the step is walked again at the bench.",
    ),
    (
        TIMED,
        "as W; taps can't be entered afterwards, so only an instrument's reading of the time is worth writing down.",
    ),
)
WHEN: Final = (Box("time", 0.2), Box("initials", 0.2))
READ: Final = (Box("reading 1", 0.2), Box("reading 2", 0.2), Box("instrument", 0.2), *WHEN)
SEEN: Final = (Box("instrument", 0.2), Box("note", 0.4), *WHEN)
ONE_LINE: Final = 116
"""What to do and within what share a line where both have room on one."""
IN_A_ROW: Final = ((26, 3, 0.085), (64, 2, 0.1))
"""Texts up to so long stand so many in a row, each with two boxes of that share."""


def mark(step: Step) -> str:
    """What becomes of the writing, as a letter."""
    return LATE if can_be_late(step) else TIMED if is_timed(step) else WALK_AGAIN


def step_parts(job: Job, step: Step, number: int, before: tuple[Part, ...], on_sheet: frozenset[str]) -> Iterator[Part]:
    """The step's name, what stands before it, what to do, its limits, and its boxes."""
    yield Heading(f"{number}. [{mark(step)}] {step.title} ({step.id})", 2)
    yield from before
    do, within = " ".join(_do(job, step, on_sheet)), " ".join(_within(job, step))
    lines = (f"{do} {within}",) if len(do) + len(within) < ONE_LINE else (do, within)
    yield from (Words(line) for line in lines if line)
    rows = rows_to_fill(step)
    if rows:
        yield Boxes(tuple(_filled(rows)))
    if not is_derived(step) and step.kind != "soak":
        yield Boxes(SEEN if rows else READ)


def _do(job: Job, step: Step, on_sheet: frozenset[str]) -> Iterator[str]:
    """What comes first, what hands and eyes do, where the probe goes, and what is asked for besides."""
    if step.needs:
        first = (name if name in on_sheet else job.sequence.step(name).title for name in step.needs)
        yield f"Only after {', '.join(first)}."
    yield from what_to_do(job, step)
    if isinstance(step, ReadingStep) and step.at:
        yield f"Probe: {step.at}."
    asks = [name for name, wanted in (("a photo", step.photo), ("a note", step.note)) if wanted]
    if step.witness or asks:
        yield f"Asks for {', '.join(['a second person who sees it'] * step.witness + asks)}."
    if step.restore:
        yield f"To be put back: {step.restore}."


def _within(job: Job, step: Step) -> Iterator[str]:
    """Power, limits and instrument, in one line where there is room."""
    yield f"Power: {step.power if is_powered(step) else 'none'}."
    yield f"{judged_by(step).rstrip('.')}."
    if (role := instrument_role(step)) is not None:
        need = job.sequence.instruments.get(role)
        yield f"Instrument: {role}, {need.accuracy.text} or better." if need is not None else f"Instrument: {role}."


def _filled(rows: tuple[tuple[str, str], ...]) -> Iterator[Said | Box]:
    """A step's lines, each with two boxes, as many in a row as their texts leave room for."""
    texts = [f"{what}: {limits}" if limits else what for what, limits in rows]
    longest = max(map(len, texts))
    count, share = next(((count, share) for most, count, share in IN_A_ROW if longest <= most), (1, 0.1))
    for text in texts:
        yield from (Said(text, 1 / count - 2 * share), Box("seen, 1", share), Box("seen, 2", share))
