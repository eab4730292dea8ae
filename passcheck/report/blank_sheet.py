"""What does somebody take to the bench when the laptop is away?

A sheet for a pen: the steps still to walk in their order, with everything that the program would have said and asked.
Limits stand on it on purpose, because whoever reads has to stop at the first step that fails.
"""

from collections.abc import Iterator

from passcheck.errors import FileFault
from passcheck.job.judging import instrument_role, is_derived
from passcheck.job.late_entry import can_be_late, late_key
from passcheck.job.plan import plan
from passcheck.job.power import forbids_power
from passcheck.job.standing import unmet_needs
from passcheck.job.state import Job
from passcheck.job.step_limits import judged_by
from passcheck.job.steps import is_powered, steps_of
from passcheck.report.blank_safety import Asked, before_step, make_safe_parts, proof_boxes
from passcheck.report.document import Cell, Column, Facts, Heading, Outcome, Paper, Part, Table, ToWrite, Words
from passcheck.report.fixed_parts import fixed_parts
from passcheck.report.how_many import many
from passcheck.report.on_every_paper import paper, unit_facts
from passcheck.report.owners_part import complaint_parts
from passcheck.report.source import Source
from passcheck.report.what_to_do import is_timed, rows_to_fill, what_to_do
from passcheck.sequence.model import ReadingStep, Step

ORDER = (
    "passcheck can't refuse on paper. The order of this sheet is the order to keep: each step only after those above "
    "it passed, and every hazard message is read before its step. Stop where a step fails."
)
BOXES = (("reading 1", 0.2), ("reading 2", 0.2), ("instrument", 0.2), ("time", 0.2), ("initials", 0.2))
LATE = "Can be typed in afterwards as a late entry."
WALK_AGAIN = "Can't be typed in afterwards: what is written here is a note, and the step is walked again at the bench."
TIMED = "Taps can't be entered afterwards: on paper only an instrument's reading of the time is worth writing down."
MADE_SAFE = "Now make safe: the acts of the section 'Make safe' in their order, then these boxes."


def blank_sheet(job: Job, source: Source) -> Paper:
    """The sheet for what is still to walk.

    Raises:
        FileFault: the job has ended, so nothing is left to walk.
    """
    if job.ended is not None:
        raise FileFault(f"{job.id}: no blank sheet, because the job has ended: {job.ended}.")
    return paper("blank-sheet", "Blank sheet", job, source, _parts(job, source))


def _parts(job: Job, source: Source) -> tuple[Part, ...]:
    asked = Asked(job)
    steps = still_to_walk(job)
    return (
        Outcome("Stop where a step fails", ORDER),
        unit_facts(job, source),
        *complaint_parts(job),
        *_as_it_stands(job, steps),
        *fixed_parts(job),
        *make_safe_parts(job, source, asked),
        Heading("The steps"),
        *_walk(job, source, steps, asked),
        *entering(source),
    )


def still_to_walk(job: Job) -> tuple[Step, ...]:
    """What the open run still wants, in the plan's order; without a run all that acceptance walks.

    A step is on the sheet only where everything it needs has passed or stands on the sheet before it: what a failed
    check keeps from being walked at the bench is kept from it on paper too.
    """
    wanted = tuple(one.step for one in plan(job)) if job.open_run is not None else steps_of(job, "acceptance")
    found: list[Step] = []
    for step in wanted:
        on_sheet = {one.id for one in found}
        if all(guard.id in on_sheet for guard in unmet_needs(job, step)):
            found.append(step)
    return tuple(found)


def _left_out(job: Job, steps: tuple[Step, ...]) -> tuple[str, ...]:
    """The titles of the steps that are wanted and not on the sheet."""
    wanted = (one.step for one in plan(job)) if job.open_run is not None else steps_of(job, "acceptance")
    return tuple(step.title for step in wanted if step not in steps)


def entering(source: Source) -> tuple[Part, ...]:
    """How what was written down comes into the record."""
    key = late_key(source.outside.settings)
    return (
        Heading("Entering it afterwards"),
        Words(
            "Readings are typed in afterwards as late entries: open the job's bench, walk to the step (Page Down), "
            f"press {key}, then give what was read and when. passcheck keeps both times and marks the entry as late."
        ),
        Words(
            "It takes a late entry only of a step marked so here, and only where at that time the run was begun, the "
            "steps before had passed, nothing was worked on since, and power had been told there: on for a powered "
            "step, off and proved dead for one without power. Anything else is walked again at the bench."
        ),
    )


def _as_it_stands(job: Job, steps: tuple[Step, ...]) -> tuple[Part, ...]:
    """Where the job stands, what is left out, what is set up, and what is fitted that has to come off."""
    run, count = job.open_run, many(len(steps), "step")
    left = ", ".join(_left_out(job, steps))
    lead = forbids_power(job)
    rows = (
        ("To walk", f"run {run.number}, {run.purpose}: {count}" if run else f"{count}; no run is open"),
        *((("Left out, because what they need has not passed", left),) if left else ()),
        ("Power, as last told", ", ".join(f"{it.supply} {it.told}" for it in job.told) or "no supply is named"),
        ("Still fitted", "; ".join(it.words for it in job.fitted) or "nothing"),
        ("Has to stand ready", "; ".join(job.sequence.bench) or "not said"),
        *((f"Look for it under ({step.title})", ", ".join(words)) for step, words in _conditions(job)),
    )
    return (Facts(rows), *((Words(f"No power while this is fitted: {lead.words}.", "notice"),) if lead else ()))


def _conditions(job: Job) -> tuple[tuple[Step, tuple[str, ...]], ...]:
    """The conditions that the plan asks for at a step."""
    return tuple((it.step, it.under) for it in plan(job) if it.under) if job.open_run is not None else ()


def _walk(job: Job, source: Source, steps: tuple[Step, ...], asked: Asked) -> Iterator[Part]:
    """Step by step; where power has to come off, or another supply on, the unit is proved dead between."""
    at_power = ""
    for number, step in enumerate(steps, start=1):
        if at_power and step.power != at_power:
            yield Words(MADE_SAFE, "strong")
            yield from proof_boxes(job, source)
        at_power = step.power if is_powered(step) else ""
        if step.heading is not None:
            yield Heading(step.heading)
        yield from _step(job, step, number, asked)
    if at_power:
        yield Words(MADE_SAFE, "strong")
        yield from proof_boxes(job, source)


def _step(job: Job, step: Step, number: int, asked: Asked) -> Iterator[Part]:
    yield Heading(f"{number}. {step.title} ({step.id})", 2)
    yield from before_step(job, step, asked)
    yield Facts(tuple(_facts(job, step)))
    if rows := rows_to_fill(step):
        columns = (Column("", 3), Column("Limits", 1.6), Column("seen, 1", 1.2), Column("seen, 2", 1.2))
        yield Table(columns, tuple((what, limits, Cell(""), Cell("")) for what, limits in rows))
    if not is_derived(step) and step.kind != "soak":
        yield ToWrite(BOXES)
    yield from (Words(words, "small") for words in _afterwards(step))


def _facts(job: Job, step: Step) -> Iterator[tuple[str, str]]:
    yield "Power", step.power if is_powered(step) else "none: supplies off and proved dead first"
    if step.needs:
        yield "Only after", ", ".join(job.sequence.step(name).title for name in step.needs)
    if words := " ".join(what_to_do(job, step)):
        yield "Do", words
    if isinstance(step, ReadingStep) and step.at:
        yield "Probe", step.at
    yield "Limits", judged_by(step).removeprefix("Limits: ")
    if (role := instrument_role(step)) is not None:
        need = job.sequence.instruments.get(role)
        yield "Instrument", f"{role}, {need.accuracy.text} or better" if need is not None else role
    asks = [name for name, wanted in (("a photo", step.photo), ("a note", step.note)) if wanted]
    if step.witness or asks:
        yield "Asks for", ", ".join(["a second person who sees it"] * step.witness + asks)
    if step.restore:
        yield "To be put back", step.restore


def _afterwards(step: Step) -> Iterator[str]:
    """What becomes of the writing: a late entry, or a note of what has to be walked again."""
    if is_timed(step):
        yield TIMED
    yield LATE if can_be_late(step) else WALK_AGAIN
