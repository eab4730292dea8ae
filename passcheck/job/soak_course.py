"""Does a value creep while the unit soaks?

The readings of the looks since the last event that reaches the soak, in order; those of the warm-up are left out. What
may be said of them is `judge/soak_trend.py` (drift toward a limit) and `judge/cusum.py` (a lasting move away from where
it began); under twelve readings neither says anything.
"""

from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from passcheck.job.soak import passed_in, standing_legs
from passcheck.job.state import Attempt, Job
from passcheck.judge.cusum import FEWEST_IN_BASE, cusum, cusum_base
from passcheck.judge.soak_trend import SoakTrend, soak_trend
from passcheck.sequence.model import PowerUpStep, ReadingStep, ResponseStep, SoakStep, Step

SERVICE_H = 2000.0
"""Hours at power until the unit is taken to be looked at again: a year of a machine in daily use (an assumption)."""


@dataclass(frozen=True, slots=True)
class Course:
    """How one value went: its step, hours at power since the first look, the readings, and what they tell.

    `warning` is "" where nothing stands out.
    """

    step: Step
    hours: tuple[float, ...]
    values: tuple[Decimal, ...]
    trend: SoakTrend
    warning: str


def courses(job: Job, soak: SoakStep) -> tuple[Course, ...]:
    """The course of every value with limits that the soak's looks read at least twice after the warm-up."""
    found = []
    for name in soak.check:
        step = next((one for one in job.sequence.steps if one.id == name), None)
        if isinstance(step, ReadingStep | ResponseStep | PowerUpStep) and step.limits is not None:
            course = _course(job, soak, step)
            if course is not None:
                found.append(course)
    return tuple(found)


def warnings(job: Job, soak: SoakStep) -> tuple[str, ...]:
    """What stands out, one sentence a value."""
    return tuple(course.warning for course in courses(job, soak) if course.warning)


def _course(job: Job, soak: SoakStep, step: ReadingStep | ResponseStep | PowerUpStep) -> Course | None:
    read = _read(job, soak, step)
    warm_h = 0.0 if soak.warm_up is None else float(soak.warm_up.value) / 3600
    kept = [(hour, one) for hour, one in read if hour >= warm_h]
    if len(kept) < 2 or step.limits is None:
        return None
    hours = tuple(hour for hour, _one in kept)
    values = tuple(Decimal(one.judgement.value or "0") for _hour, one in kept)
    u = max(float(one.judgement.u or "0") for _hour, one in kept)
    trend = soak_trend(hours, values, u, step.limits, SERVICE_H)
    return Course(step, hours, values, trend, _warning(step, values, trend, u))


def _read(job: Job, soak: SoakStep, step: Step) -> list[tuple[float, Attempt]]:
    """The passes of a step at each look with their time at power, in hours since the first of them all."""
    found: list[tuple[float, Attempt]] = []
    for leg in standing_legs(job, soak):
        found += [
            (attempt.measured_ms / 3_600_000, attempt)
            for look in range(len(leg.looks))
            for attempt in passed_in(job, leg, look)
            if attempt.step == step.id and attempt.judgement.value is not None
        ]
    start = found[0][0] if found else 0.0
    return [(hour - start, attempt) for hour, attempt in found]


def _warning(step: Step, values: tuple[Decimal, ...], trend: SoakTrend, u: float) -> str:
    if trend.drifts:
        return f"{step.title} drifts. {trend.sentence}"
    if len(values) <= FEWEST_IN_BASE:
        return ""
    numbers = [float(value) for value in values]
    steps = [abs(float(after - before)) for before, after in pairwise(values) if after != before]
    base = cusum_base(numbers[:FEWEST_IN_BASE], min(steps, default=u))
    moved = cusum(numbers, base.target, base.k, base.h)
    if moved.first_signal is None:
        return ""
    at = moved.first_signal - 1
    way = "upward" if moved.up[at] >= moved.down[at] else "downward"
    return f"{step.title} has moved {way} for good, first seen at look {moved.first_signal}. {trend.sentence}"
