"""What a good technician asks of a job: commands made from the job's own sequence, for tests that walk it.

Every function gives commands and carries out nothing, so that the same walk drives the pure core and a whole bench.
"""

from decimal import Decimal

from passcheck.job import cautions, commands
from passcheck.job.answers import (
    Answer,
    CodesAnswer,
    CountAnswer,
    Departure,
    GradeAnswer,
    ListAnswer,
    MarksAnswer,
    PowerUpAnswer,
    PressesAnswer,
    ReadingAnswer,
    SweepAnswer,
    TableAnswer,
)
from passcheck.job.commands import Command
from passcheck.job.events import PointProof, Purpose
from passcheck.job.judging import lamp_limits
from passcheck.job.moment import Moment
from passcheck.job.plan import Planned, plan
from passcheck.job.state import Job
from passcheck.job.steps import is_powered
from passcheck.judge.limits import Limits
from passcheck.sequence import model
from passcheck.sequence.model import Confirm, Step

INSTRUMENTS = (
    ("voltmeter", "M1"),
    ("ohmmeter", "M1"),
    ("ammeter", "M1"),
    ("scope", "S1"),
    ("timer", "T1"),
    ("supply-display", "P1"),
    ("supply-meter", "P1"),
    ("camera", "T1"),
    ("thermometer", "H1"),
    ("reference-clock", "K1"),
    ("lcr-meter", "L1"),
)
"""Roles and instruments of `rig.settings()`."""


def serial(sequence: model.Sequence) -> str:
    """A serial number that fits the board's mask."""
    mask = sequence.serial or "9A99999"
    return "".join({"9": "7", "A": "Q", "?": "7"}.get(place, place.upper()) for place in mask)


def start(job: Job, purpose: Purpose = "acceptance", by: str = "t1", second: str | None = None) -> Command:
    """Begin a run with the bench's instruments and the right unit in hand."""
    taken = tuple((role, "M9" if _needs_better(job, role) else name) for role, name in INSTRUMENTS)
    scanned = good_unit(job.serial) if purpose == "good-unit" else job.serial
    return commands.StartRun(by, purpose, scanned, taken, "22", second)


def good_unit(of: str) -> str:
    """The serial of another unit of the same board: its last figure is one more."""
    place = max(place for place, sign in enumerate(of) if sign.isdigit())
    return f"{of[:place]}{(int(of[place]) + 1) % 10}{of[place + 1 :]}"


def _needs_better(job: Job, role: str) -> bool:
    """True where the sequence asks for more than a hand multimeter gives."""
    need = job.sequence.instruments.get(role)
    return role in ("voltmeter", "ohmmeter") and need is not None and need.accuracy.percent < Decimal("0.5")


def fact(confirm: Confirm) -> str:
    """What a display inside the limits shows, with all its digits."""
    return inside(confirm.limits)


def inside(limits: Limits) -> str:
    """A reading well inside the limits, as an instrument shows it."""
    low, high = limits.low, limits.high
    if low is not None and high is not None:
        middle = ((low.value + high.value) / 2).quantize(min(low.digit, high.digit, Decimal("0.01")))
        return f"{middle:f} {limits.unit}"
    if high is not None:
        return f"{high.value / 4:f} {limits.unit}"
    assert low is not None
    return f"{low.value * 2:f} {limits.unit}"


def outside(limits: Limits) -> str:
    """A reading well outside the limits."""
    if limits.high is not None:
        return f"{limits.high.value * 2:f} {limits.unit}"
    assert limits.low is not None
    return f"{limits.low.value / 4:f} {limits.unit}"


def answers_to_cautions(job: Job, step_id: str, by: str = "t1", moment: Moment | None = None) -> tuple[Command, ...]:
    """An answer to every hazard message that this person has to answer now for the step, with the fact it asks."""
    open_ones = cautions.outstanding(job, job.sequence.step(step_id), by, moment or job.last)
    return tuple(commands.Acknowledge(by, one.name, fact(one.confirm) if one.confirm else None) for one in open_ones)


def energise(job: Job, step_id: str, by: str = "t1") -> Command:
    """Tell the step's supply on, as the sequence wants it set."""
    supply = job.sequence.supplies[job.sequence.step(step_id).power]
    return commands.Energise(by, step_id, supply.nominal.text, supply.current_limit.text)


def proved_dead(job: Job, by: str = "t1", *, shorting_lead: bool = False) -> Command:
    """Prove the unit dead in the way that its sequence asks, with all that belongs to it."""
    points = tuple(point(place) for place in job.sequence.stored_energy)
    return commands.ProveDead(by, "M1", points, at_supply="0.02 V", shorting_lead=shorting_lead)


def point(place: model.StoredEnergy) -> PointProof:
    """One named point measured as it has to be."""
    wait_s = int(place.wait.value)
    return PointProof(place.at, "9.01 V", "0.04 V", "-0.04 V", wait_s, "0.11 V", "9.01 V", "0.01 V")


def good(step: Step) -> Answer:  # noqa: PLR0912 - one row a kind
    """An answer that passes."""
    match step:
        case model.ReadingStep(derive=derive) if derive is not None:
            return ReadingAnswer(())
        case model.ReadingStep(component=part) if part is not None:
            return ReadingAnswer((part.nominal.text,), reverse=part.nominal.text)
        case model.ReadingStep(limits=limits) if limits is not None:
            leads = inside(step.leads) if step.leads is not None else None
            return ReadingAnswer((_typical(step, limits),), leads=leads)
        case model.PowerUpStep():
            return PowerUpAnswer(inside(step.limits), "off")
        case model.ResponseStep():
            return ReadingAnswer((inside(step.limits),))
        case model.PressesStep():
            slowest = inside(step.limits) if step.limits is not None else None
            return PressesAnswer(step.times * len(step.press), slowest)
        case model.LampsStep():
            return ListAnswer(times=tuple(inside(limits) for limits in lamp_limits(step)))
        case model.SweepStep():
            return SweepAnswer(inside(step.up), inside(step.down))
        case model.MarksStep():
            at = tuple(mark.value.text for mark in step.marks)
            return MarksAnswer(at, at if step.both_ways else ())
        case model.CodesStep():
            after = step.expected if step.clear is not None else None
            return CodesAnswer(step.expected, tuple(one.code for one in step.provoke), after)
        case model.GradeStep():
            return GradeAnswer("A", inside(step.limits) if step.limits is not None else None)
        case model.LookStep():
            return ListAnswer()
        case model.CountStep():
            return CountAnswer(step.wanted)
        case model.TableStep():
            return TableAnswer(tuple(inside(row.limits) for row in step.rows))
        case _:
            raise AssertionError(f"no answer is known for a {step.kind} step")


def bad(step: Step) -> Answer:
    """An answer that fails."""
    match step:
        case model.ReadingStep(limits=limits) if limits is not None:
            return ReadingAnswer((outside(limits),), leads=inside(step.leads) if step.leads is not None else None)
        case model.ResponseStep():
            return ReadingAnswer((outside(step.limits),))
        case model.LampsStep() | model.LookStep():
            times = tuple(inside(limits) for limits in lamp_limits(step)) if isinstance(step, model.LampsStep) else ()
            return ListAnswer((Departure(1, "dark"),), times)
        case model.CountStep():
            return CountAnswer(step.wanted + 1)
        case _:
            raise AssertionError(f"no failing answer is known for a {step.kind} step")


def passing(
    job: Job, step_id: str, by: str = "t1", note: str = "", second: str | None = None, under: tuple[str, ...] = ()
) -> Command:
    """Try the step with an answer that passes."""
    return commands.Attempt(by, step_id, good(job.sequence.step(step_id)), note=note, second=second, conditions=under)


def still_open(job: Job, walked: set[tuple[str, str]]) -> Planned | None:
    """The first step of the plan that was not yet walked for the same reason, marked as walked; None at the end.

    What walking doesn't lift (a witness who isn't there) is walked once, so that every walk comes to an end.
    """
    for planned in plan(job):
        if planned.step.kind != "soak" and (planned.step.id, planned.why) not in walked:
            walked.add((planned.step.id, planned.why))
            return planned
    return None


def failing(job: Job, step_id: str, by: str = "t1", note: str = "", under: tuple[str, ...] = ()) -> Command:
    """Try the step with an answer that fails, typed twice as it has to be."""
    answer = bad(job.sequence.step(step_id))
    return commands.Attempt(by, step_id, answer, again=answer, note=note, conditions=under)


def reading(step_id: str, *shown: str, by: str = "t1", instrument: str | None = None, note: str = "") -> Command:
    """Try a reading step with what the instrument shows, the second look being the same."""
    answer = ReadingAnswer(shown)
    return commands.Attempt(by, step_id, answer, again=answer, instrument=instrument, note=note)


def rework(*blocks: str, parts: tuple[str, ...] = (), by: str = "t1", incident: int | None = None) -> Command:
    """Something reflowed on these blocks."""
    return commands.LogRework(by, blocks, parts, "reflowed", "cracked joint", incident=incident)


def powered(job: Job, step_id: str) -> bool:
    """True where the step names a supply."""
    return is_powered(job.sequence.step(step_id))


def _typical(step: model.ReadingStep, limits: Limits) -> str:
    """A reading that passes and, where the step says what a real reading looks like, lies there too."""
    shown = inside(limits)
    if step.seen is None:
        return shown
    low, high = step.seen.low, step.seen.high
    ends = [end.value for end in (limits.low, limits.high, low, high) if end is not None]
    for value in (*(a + (b - a) / 2 for a in ends for b in ends), *(end * 2 for end in ends)):
        if limits.holds(value * Decimal("1.1")) and limits.holds(value / Decimal("1.1")) and step.seen.holds(value):
            return f"{value:f} {limits.unit}"
    return shown
