"""How many hours at power does the burn-in show, on what evidence, and did anything creep meanwhile?"""

from passcheck.job.soak import going_on, hours_words, soak_now, soak_steps, standing_legs, stretch_words
from passcheck.job.soak_course import Course, courses
from passcheck.job.state import Job, SoakLeg, SoakLook
from passcheck.judge.quantity import Quantity
from passcheck.judge.rounding import counted
from passcheck.report.document import Cell, Column, Facts, Heading, Part, Plot, Series, Table, Words
from passcheck.report.record_long_texts import boxed
from passcheck.report.record_words import when
from passcheck.report.source import Source
from passcheck.sequence.model import PowerUpStep, ReadingStep, ResponseStep, SoakStep

TITLE = "Burn-in"
NOT_ASKED = "The sequence asks for no burn-in."
NOT_BEGUN = "not begun"
WORTHLESS = "made worthless since"
COLUMNS = (
    Column("Look", 0.6, right=True),
    Column("When", 1.5),
    Column("Supply", 1.5),
    Column("Sign that power stayed on", 2.4),
    Column("Ambient", 0.9),
    Column("Times off and on", 0.9, right=True),
    Column("Found", 1.8),
)


def burn_in(job: Job, _source: Source) -> tuple[Part, ...]:
    """Each soak of the sequence: what counts, its looks, what didn't count and why, the course of each value."""
    soaks = soak_steps(job)
    if not soaks:
        return Heading(TITLE), Words(NOT_ASKED)
    return Heading(TITLE), *(part for soak in soaks for part in _soak(job, soak))


def _soak(job: Job, soak: SoakStep) -> tuple[Part, ...]:
    legs = [leg for leg in job.soaks if leg.step == soak.id]
    looks = tuple(part for leg in legs for part in _leg(job, soak, leg))
    plots = tuple(part for course in courses(job, soak) for part in _course(course))
    return (Heading(soak.title, 2), Facts(_facts(job, soak)), *looks, *plots)


def _facts(job: Job, soak: SoakStep) -> tuple[tuple[str, str], ...]:
    now = soak_now(job, soak)
    hours = f"{hours_words(now.credit.counted_s)} of {soak.hours.text} at power count"
    begun = any(leg.step == soak.id for leg in job.soaks)
    rows = [("Shown", hours if begun else f"{NOT_BEGUN}; {soak.hours.text} are asked for")]
    if soak.cycles:
        rows.append(("Planned times off and on", f"{now.credit.cycles} of {soak.cycles}"))
    rows.append(("Looks", f"every {soak.every.text}"))
    if (under_way := going_on(job)) is not None and under_way.step.id == soak.id:
        rows.append(("Stands", "at power when this record was made"))
    rows += [("Didn't count in full", stretch_words(one)) for one in now.credit.stretches if one.standing != "in time"]
    if not begun:
        return tuple(rows)
    made = [one for one in job.attempts if one.step == soak.id]
    return (*rows, *(("Found", one.judgement.sentence) for one in made[-1:]))


def _leg(job: Job, soak: SoakStep, leg: SoakLeg) -> tuple[Part, ...]:
    """The looks of one stay at power; their text stays readable where something made them worthless."""
    counts = leg in standing_legs(job, soak)
    end = f"ended: {leg.ended}" if leg.ended_line is not None else "under way"
    struck = "" if counts else f"; {WORTHLESS}"
    head = f"From {when(job, leg.looks[0].moment)}, {counted(len(leg.looks), 'look')}, {end}{struck}."
    alone = (Words(f"Left alone, after these were said: {'; '.join(leg.unattended)}."),) if leg.unattended else ()
    told = [_look(job, number, look, counts=counts) for number, look in enumerate(leg.looks)]
    long = tuple(part for _row, more in told for part in more)
    return Words(head), *alone, Table(COLUMNS, tuple(row for row, _more in told)), *long


def _look(job: Job, number: int, look: SoakLook, *, counts: bool) -> tuple[tuple[Cell | str, ...], tuple[Part, ...]]:
    """One row; look 0 is the start."""
    name = f"Look {number}" if number else "start"
    sign, more = boxed(f"{name}, sign of power,", look.continuity or look.lost or "none")
    found = "as it should be" if look.good else "serial or supply was wrong"
    return (
        str(number) if number else "start",
        when(job, look.moment),
        f"{look.volts}, {look.amps}",
        sign if look.continuity else f"not shown: {sign}",
        look.ambient or "not read",
        str(look.cycles),
        Cell(found, struck=not counts, strong=not look.good),
    ), more


def _course(course: Course) -> tuple[Part, ...]:
    """A value over the hours at power, with its limits."""
    step = course.step
    limits = step.limits if isinstance(step, ReadingStep | ResponseStep | PowerUpStep) else None
    low, high, unit = (None, None, "") if limits is None else (_end(limits.low), _end(limits.high), limits.unit)
    series = Series(
        step.title,
        tuple((round(hour, 3), float(value)) for hour, value in zip(course.hours, course.values, strict=True)),
    )
    words = course.warning or course.trend.sentence
    return (Plot(f"{step.title} over the burn-in", "hours at power", unit, (series,), low, high, words),)


def _end(limit: Quantity | None) -> float | None:
    return None if limit is None else float(limit.value)
