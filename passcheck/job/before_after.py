"""How did a step stand as found, at each retest and as left, and what changed between?

A change is told only beyond what the two readings can tell. One instrument on one range is wrong by the same share both
times, so that part of its error nearly cancels; two instruments, or two ranges, know nothing of each other
(GUM 5.2.2). Verdicts are never made here.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from passcheck.job.held_numbers import HeldNumber, held_numbers
from passcheck.job.staleness import call, stale_by
from passcheck.job.standing import COUNTING, counting, withdrawn
from passcheck.job.state import Attempt, Job
from passcheck.job.traveller import WORDS, figure
from passcheck.judge.derived import derive
from passcheck.judge.paired import paired_difference
from passcheck.judge.quantity import show, six
from passcheck.judge.sentence import decade
from passcheck.judge.student import student_quantile
from passcheck.sequence.model import MarksStep, Step

NO_CHANGE = "no change beyond what these readings can tell"
_TWO_SIDED_95 = 0.975
OF_A_DIFFERENCE = {"°C": "K"}  # 40 °C less 25 °C is 15 K


@dataclass(frozen=True, slots=True)
class Difference:
    """After less before, of one number in its base unit.

    Attributes:
        name: which of a step's several numbers, or "".
        u: the standard uncertainty of the difference.
        within: how far off it may be, at 95 %, and no less than the last digit read.
        step: the weight of the last digit worth showing.
    """

    name: str
    value: Decimal
    u: float
    within: float
    step: Decimal
    unit: str

    @property
    def changed(self) -> bool:
        """True where the two can't be the same."""
        return abs(float(self.value)) > self.within

    @property
    def figures(self) -> str:
        """The difference with its sign and how far off it may be: `-118 mV ± 6 mV`."""
        sign = "+" if self.value > 0 else ""
        return f"{sign}{show(self.value, self.unit, self.step)} ± {self._within()}"

    @property
    def short(self) -> str:
        """The figures, or that nothing can be told from nothing."""
        return self.figures if self.changed else f"no change (± {self._within()})"

    @property
    def words(self) -> str:
        """One clause."""
        return f"changed by {self.figures}" if self.changed else f"{NO_CHANGE} (± {self._within()})"

    def _within(self) -> str:
        return show(max(self.within, float(self.step)), self.unit, self.step)


@dataclass(frozen=True, slots=True)
class Shift:
    """What changed at a step from one attempt to a later one.

    Attributes:
        before, after: the attempts' numbers.
        whole: of a step with one number its difference, of a scale that of all its marks on average; else None.
        parts: one difference a number.
        words: all of it in one clause.
    """

    before: int
    after: int
    whole: Difference | None
    parts: tuple[Difference, ...]
    words: str


@dataclass(frozen=True, slots=True)
class BeforeAfter:
    """One step over the life of a job.

    Attributes:
        as_found: the latest attempt of an as-found run that wasn't withdrawn.
        retests: every attempt of a retest run, in order, struck ones too.
        as_left: the attempt that counts for the release.
        good_units: attempts of good-unit runs that weren't withdrawn: another unit's, which no rework here touches.
        open: why nothing is as left, or "".
        shift: what changed from as found to as left.
    """

    as_found: Attempt | None
    retests: tuple[Attempt, ...]
    as_left: Attempt | None
    good_units: tuple[Attempt, ...]
    open: str
    shift: Shift | None

    @property
    def rows(self) -> tuple[tuple[str, Attempt | None], ...]:
        """Names and attempts as the traveller orders them; None is a blank."""
        several = len(self.good_units) > 1
        return (
            ("as found", self.as_found),
            *((f"retest {place}", one) for place, one in enumerate(self.retests, start=1)),
            ("as left", self.as_left),
            *((f"good unit {n}" if several else "good unit", one) for n, one in enumerate(self.good_units, start=1)),
        )


def before_after(job: Job, step: Step) -> BeforeAfter:
    """How the step stands in each column, and what changed."""
    made = [one for one in job.attempts if one.step == step.id]
    found = [one for one in made if one.purpose == "as-found" and not withdrawn(one)]
    as_found, as_left = (found[-1] if found else None), counting(job, step)
    return BeforeAfter(
        as_found=as_found,
        retests=tuple(one for one in made if one.purpose == "retest"),
        as_left=as_left,
        good_units=tuple(one for one in made if one.purpose == "good-unit" and not withdrawn(one)),
        open="" if as_left is not None else _open(job, made),
        shift=None if as_found is None or as_left in (None, as_found) else shift(job, step, as_found, as_left),
    )


def beside(job: Job, step: Step, now: Attempt) -> str:
    """As found and now on one line, for an attempt of a retest run; "" where there is nothing to set it beside."""
    as_found = before_after(job, step).as_found
    if now.purpose != "retest" or as_found is None:
        return ""
    told = shift(job, step, as_found, now)
    return f"as found {stamped(as_found)} | now {stamped(now)}" + (f", {told.words}" if told.parts else "")


def stamped(attempt: Attempt) -> str:
    """Word and figure as on the card."""
    return f"{WORDS[attempt.judgement.verdict]} {figure(attempt.judgement)}".rstrip()


def shift(job: Job, step: Step, before: Attempt, after: Attempt) -> Shift:
    """What changed from one attempt of a step to another; no number where either has none."""
    later = {one.name: one for one in held_numbers(job, step, after)}
    pairs = [(one, later[one.name]) for one in held_numbers(job, step, before) if one.name in later]
    parts = tuple(difference(one, other) for one, other in pairs if one.unit == other.unit)
    whole = parts[0] if len(parts) == 1 else _on_average(parts, pairs) if isinstance(step, MarksStep) else None
    if not parts:
        verdicts = f"{before.judgement.verdict} before, {after.judgement.verdict} after"
        return Shift(before.number, after.number, None, (), f"no number to compare: {verdicts}")
    words = parts[0].words if len(parts) == 1 else _several(parts, whole)
    return Shift(before.number, after.number, whole, parts, words)


def difference(before: HeldNumber, after: HeldNumber) -> Difference:
    """After less before with its uncertainty; both in one unit.

    A common gain error enters with its sign, so it cancels between readings of one sign and adds up across zero.
    Digits are rounded in both, so a difference is never surer than the coarser of the two.
    """
    found = derive("drop", after.source, before.source, same_range=after.shares_range_with(before))
    digit = max(before.digit, after.digit)
    within = max(student_quantile(_TWO_SIDED_95, found.nu) * found.u, float(digit))
    return _told(before.name, after.value - before.value, found.u, within, digit, before.unit)


def _on_average(parts: Sequence[Difference], pairs: Sequence[tuple[HeldNumber, HeldNumber]]) -> Difference | None:
    """The mean over the marks of a scale, by pairs; equal differences still hide how finely an eye reads."""
    if len(parts) < 2:
        return None
    before, after = ([float(one.value) for one in row] for row in zip(*pairs, strict=True))
    found = paired_difference(before, after)
    u_eye = math.hypot(*(part.u for part in parts)) / len(parts)
    by_pairs, by_eye = (student_quantile(_TWO_SIDED_95, nu) * u for u, nu in ((found.se, found.df), (u_eye, math.inf)))
    total = sum((part.value for part in parts), Decimal(0)) / len(parts)
    u = found.se if by_pairs > by_eye else u_eye
    digit = max(one.digit for pair in pairs for one in pair)
    return _told("all on average", total, u, max(by_pairs, by_eye), digit, parts[0].unit)


def _told(name: str, value: Decimal, u: float, within: float, digit: Decimal, unit: str) -> Difference:
    step = max(digit, decade(u)) if u else digit
    return Difference(name, Decimal(six(value)), float(six(u)), within, step, OF_A_DIFFERENCE.get(unit, unit))


def _several(parts: Sequence[Difference], whole: Difference | None) -> str:
    changed = [part for part in parts if part.changed]
    if not changed:
        return f"{NO_CHANGE} in any of {len(parts)} numbers"
    most = max(changed, key=lambda part: abs(float(part.value)) / part.within if part.within else math.inf)
    which = f"{'most ' if len(changed) > 1 else ''}{most.name}: {most.figures}"
    words = f"{len(changed)} of {len(parts)} changed, {which}"
    return f"{words}; {whole.name}: {whole.figures}" if whole is not None and whole.changed else words


def _open(job: Job, made: Sequence[Attempt]) -> str:
    """Why no attempt counts: what made the latest one worthless, or that there was none."""
    tried = [one for one in made if one.purpose in COUNTING]
    if not tried:
        return ""
    change = stale_by(job, tried[-1])
    return "void" if withdrawn(tried[-1]) else f"struck by {call(change)}" if change is not None else ""
