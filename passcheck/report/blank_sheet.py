"""What does somebody take to the bench when the laptop is away?

A sheet for a pen: the steps still to walk in their order, with everything that the program would have said and asked.
Limits stand on it on purpose, because whoever reads has to stop at the first step that fails.
"""

from collections.abc import Iterator

from passcheck.errors import FileFault
from passcheck.job.late_entry import late_key
from passcheck.job.plan import plan
from passcheck.job.power import forbids_power
from passcheck.job.standing import unmet_needs
from passcheck.job.state import Job
from passcheck.job.steps import is_powered, steps_of
from passcheck.report.blank_cautions import Cautions, names_of
from passcheck.report.blank_safety import made_safe, make_safe_parts, supply_boxes, supply_words
from passcheck.report.blank_step import MEANS, step_parts
from passcheck.report.document import Facts, Heading, Outcome, Paper, Part, Together, Words
from passcheck.report.fixed_parts import fixed_parts
from passcheck.report.how_many import many
from passcheck.report.on_every_paper import paper, unit_facts
from passcheck.report.owners_part import complaint, matched_words
from passcheck.report.source import Source
from passcheck.sequence.model import Step

ORDER = (
    "passcheck can't refuse on paper. The order of this sheet is the order to keep: each step only after those above "
    "it passed, and every hazard message is read before its step. Stop where a step fails."
)
WITHOUT_POWER = "From here without power: supplies off and proved dead first."


def blank_sheet(job: Job, source: Source) -> Paper:
    """The sheet for what is still to walk.

    Raises:
        FileFault: the job has ended, so nothing is left to walk.
    """
    if job.ended is not None:
        raise FileFault(f"{job.id}: no blank sheet, because the job has ended: {job.ended}.")
    return paper("blank-sheet", "Blank sheet", job, source, _parts(job, source))


def _parts(job: Job, source: Source) -> tuple[Part, ...]:
    steps = still_to_walk(job)
    cautions = Cautions(job, steps)
    return (
        Outcome("Stop where a step fails", ORDER),
        *_unit(job, source),
        *_as_it_stands(job, steps),
        *fixed_parts(job),
        *make_safe_parts(job, source, cautions),
        *cautions.section(),
        Heading("The steps"),
        _legend(source),
        *_walk(job, source, steps, cautions),
        *entering(source),
    )


def _unit(job: Job, source: Source) -> tuple[Part, ...]:
    """The unit in two pairs of columns; a digest has a line of its own."""
    rows = unit_facts(job, source).rows
    return (Facts(rows[:-2] + rows[-1:], wide=True), Facts(rows[-2:-1]))


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
            "It takes a late entry only of a step marked L here, and only where at that time the run was begun, the "
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
        ("What the owner said", complaint(job).text),
        ("Matched to", matched_words(job).removeprefix("Matched to: ")),
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


def _walk(job: Job, source: Source, steps: tuple[Step, ...], cautions: Cautions) -> Iterator[Part]:
    """Step by step; where power has to come off, or another supply on, the unit is proved dead between."""
    on_sheet = frozenset(step.id for step in steps)
    at_power = said = ""
    for number, step in enumerate(steps, start=1):
        if at_power and step.power != at_power:
            cautions.powered_off()
            said = ""
            yield made_safe(job, source)
        at_power = step.power if is_powered(step) else ""
        if step.heading is not None:
            yield Heading(step.heading)
        power = supply_words(job, step) if at_power else WITHOUT_POWER
        set_up = (_set_up(job, step),) if power != said else ()
        said = power
        before = (*cautions.before(names_of(job, step)), *set_up)
        yield Together(tuple(step_parts(job, step, number, before, on_sheet)))
    if at_power:
        yield made_safe(job, source)


def _set_up(job: Job, step: Step) -> Part:
    """How power has to be, where it is otherwise than for the step before."""
    return supply_boxes(job, step) if is_powered(step) else Words(WITHOUT_POWER, "strong")


def _legend(source: Source) -> Words:
    """The letters behind the steps."""
    key = late_key(source.outside.settings)
    return Words("\n".join(f"{letter}: {means.format(key=key)}" for letter, means in MEANS), "small")
