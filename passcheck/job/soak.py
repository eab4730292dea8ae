"""How does a soak stand: what counts so far, which look is open, when is the next one due?

A soak has legs: a start, looks, an end at power. A look is good when every step that the soak checks passed after it
and before the next one. What the looks are worth is `judge/soak_credit.py`; here a job's events are made into looks.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache

from passcheck.job.asked_once import asked_once
from passcheck.job.moment import Moment
from passcheck.job.staleness import reaches
from passcheck.job.standing import withdrawn
from passcheck.job.state import Attempt, Job, SoakLeg, SoakLook
from passcheck.job.steps import present
from passcheck.judge.hour_meter import advance
from passcheck.judge.quantity import Quantity, QuantityError, parse_quantity
from passcheck.judge.soak_credit import Credit, Look, Stretch, credit
from passcheck.sequence.model import SoakStep

MOST_LOST = 3  # stretches that a sentence names
SIGNS_KEPT = 256  # texts that were read as a meter's or found to be words: each look reads those of all looks before it
OFF_S = 60.0  # a planned time off whose length the sequence doesn't say


@dataclass(frozen=True, slots=True)
class Due:
    """When a soaking unit is to be looked at next: on the wall, and on the clock that nobody can set."""

    utc: datetime
    boottime_ms: int
    boot_id: str

    def late_s(self, moment: Moment) -> float:
        """Seconds past the due time, negative before it; by the wall once the machine was started anew."""
        if moment.boot_id == self.boot_id:
            return (moment.boottime_ms - self.boottime_ms) / 1000
        return (moment.utc - self.utc).total_seconds()


@dataclass(frozen=True, slots=True)
class SoakNow:
    """A soak as it stands.

    `still_to_pass` are the steps that the latest look still wants; `due` is None while no leg is open.
    """

    step: SoakStep
    leg: SoakLeg | None
    credit: Credit
    still_to_pass: tuple[str, ...]
    due: Due | None

    @property
    def short_s(self) -> float:
        """Seconds at power that are still to be shown."""
        return max(0.0, float(self.step.hours.value) - self.credit.counted_s)

    @property
    def short_cycles(self) -> int:
        """Planned power cycles that are still to be made."""
        return max(0, self.step.cycles - self.credit.cycles)

    @property
    def complete(self) -> bool:
        """True when hours and cycles are there and the latest look was walked to its end."""
        return self.short_s == 0 and self.short_cycles == 0 and self.leg is not None and not self.still_to_pass


def soak_steps(job: Job) -> tuple[SoakStep, ...]:
    """The soaks of the job's sequence that its variants leave in."""
    return tuple(step for step in present(job) if isinstance(step, SoakStep))


@asked_once
def soak_now(job: Job, step: SoakStep) -> SoakNow:
    """What the looks since the last event that reaches the soak are worth, and what is open."""
    legs = standing_legs(job, step)
    looks = [looks_of(job, step, leg) for leg in legs]
    worth = credit(looks, float(step.every.value), off_s(step), continuous=step.continuous)
    leg = job.open_soak if job.open_soak is not None and job.open_soak.step == step.id else None
    if leg is None:
        return SoakNow(step, None, worth, (), None)
    last = leg.looks[-1]
    missing = _missing(step, passed_in(job, leg, len(leg.looks) - 1))
    return SoakNow(step, leg, worth, missing, due(step, last))


def going_on(job: Job) -> SoakNow | None:
    """The soak that is under way, as it stands, or None."""
    leg = job.open_soak
    step = next((one for one in soak_steps(job) if leg is not None and one.id == leg.step), None)
    return None if step is None else soak_now(job, step)


def due(step: SoakStep, last: SoakLook) -> Due:
    """The next look after this one."""
    every = timedelta(seconds=float(step.every.value))
    at = last.moment
    return Due(at.utc + every, at.boottime_ms + int(every.total_seconds() * 1000), at.boot_id)


def off_s(step: SoakStep) -> float:
    """How long power is off in one planned cycle, in seconds."""
    return float(step.off.value) if step.off is not None else OFF_S


def standing_legs(job: Job, step: SoakStep) -> tuple[SoakLeg, ...]:
    """The legs that nothing since has made worthless."""
    last = max((change.line for change in job.changes if reaches(job, change, step)), default=-1)
    return tuple(leg for leg in job.soaks if leg.step == step.id and leg.line > last)


def looks_of(job: Job, step: SoakStep, leg: SoakLeg) -> tuple[Look, ...]:
    """A leg's looks as the credit wants them."""
    return tuple(_look(job, step, leg, index) for index in range(len(leg.looks)))


def passed_in(job: Job, leg: SoakLeg, index: int) -> tuple[Attempt, ...]:
    """The passes that were made at one look of a leg."""
    begin, end = bounds(leg, index)
    return tuple(a for a in _passed_on_soak(job.attempts) if begin < a.line < end)


@asked_once
def _passed_on_soak(attempts: tuple[Attempt, ...]) -> tuple[Attempt, ...]:
    return tuple(a for a in attempts if a.purpose == "burn-in" and a.judgement.verdict == "pass" and not withdrawn(a))


def bounds(leg: SoakLeg, index: int) -> tuple[int, float]:
    """The lines between which the steps of a look were walked."""
    following = leg.looks[index + 1].line if index + 1 < len(leg.looks) else leg.ended_line
    return leg.looks[index].line, float("inf") if following is None else following


def _missing(step: SoakStep, passed: tuple[Attempt, ...]) -> tuple[str, ...]:
    """What a look still wants beside these passes."""
    seen = {attempt.step for attempt in passed}
    return tuple(name for name in step.check if name not in seen)


def _look(job: Job, step: SoakStep, leg: SoakLeg, index: int) -> Look:
    it = leg.looks[index]
    before = leg.looks[index - 1] if index else None
    passed = passed_in(job, leg, index)
    missing = _missing(step, passed)
    cycles = it.cycles + (sum(before.line < line < it.line for line in leg.cycled) if before is not None else 0)
    shown, why = (True, "") if before is None else _continuity(before, it, cycles * off_s(step))
    ambient = _ambient(step, it)
    done = max((a.measured_ms for a in passed), default=it.measured.total_ms)
    return Look(
        utc=it.moment.utc,
        begun_ms=it.measured.total_ms,
        done_ms=done,
        good=it.good and not missing and not ambient,
        shown=shown,
        cycles=cycles,
        meter_s=None if (reading := meter(it.continuity)) is None else float(reading.value),
        gap=before is not None and it.measured.gaps != before.measured.gaps,
        why_not=why or ambient,
    )


def _continuity(before: SoakLook, now: SoakLook, planned_off_s: float) -> tuple[bool, str]:
    """Two readings of a meter are compared with the time that passed; words are taken as they were told."""
    if now.continuity is None:
        return False, now.lost or "nothing showed that power stayed on"
    earlier, later = meter(before.continuity), meter(now.continuity)
    if earlier is None:
        return True, ""
    if later is None:
        return False, f"the meter read {before.continuity} before and was not read"
    passed_s = (now.measured.total_ms - before.measured.total_ms) / 1000 - planned_off_s
    found = advance(earlier, later, passed_s, at_least=now.measured.gaps != before.measured.gaps)
    return found.shown, found.why


def meter(text: str | None) -> Quantity | None:
    """An hour meter's reading, or None where the sign of continuity is something else."""
    return None if text is None else _meter(text)


@lru_cache(maxsize=SIGNS_KEPT)
def _meter(text: str) -> Quantity | None:
    try:
        read = parse_quantity(text)
    except QuantityError:
        return None
    return read if read.unit == "s" else None


def _ambient(step: SoakStep, look: SoakLook) -> str:
    """Why the surroundings were not as the sequence wants them, or ""."""
    if step.ambient is None:
        return ""
    if look.ambient is None:
        return "nobody read the ambient temperature"
    try:
        read = parse_quantity(look.ambient, step.ambient.unit)
    except QuantityError:
        return f"ambient '{look.ambient}' can't be read"
    return "" if step.ambient.holds(read.value) else f"ambient {read.text} is not {step.ambient.words()}"


def hours_words(seconds: float) -> str:
    """A length of time as hours and minutes, cut down so that it never says more than was shown: `3 h 58 min`."""
    minutes = int(seconds // 60)
    return f"{minutes // 60} h {minutes % 60:02d} min"


def short_words(now: SoakNow) -> str:
    """What a soak still lacks, with the looks that cost it time."""
    lacking = []
    if now.short_s:
        up = -(-now.short_s // 60) * 60  # a minute begun is still to be shown
        lacking.append(f"short by {hours_words(up)} of {now.step.hours.text}")
    if now.short_cycles:
        lacking.append(f"{now.short_cycles} of {now.step.cycles} power cycles still to make")
    lost = [stretch_words(one) for one in now.credit.stretches if one.standing != "in time"]
    return "; ".join((*lacking, *lost[-MOST_LOST:])) or "its last look is not walked to its end"


def stretch_words(stretch: Stretch) -> str:
    """A stretch that did not count in full, named by its end."""
    counted = f"{hours_words(stretch.counted_s)} of {hours_words(stretch.length_s)} counts"
    return f"look of {stretch.ended:%d %b %H:%M} UTC {stretch.standing}: {stretch.why}, {counted}"
