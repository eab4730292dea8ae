"""Which numbers of an attempt stand on the paper, with how far off each may be and the line that shows it?

Nothing is judged here: value, uncertainty and limits are those that the attempt was kept with.
"""

import math
from dataclasses import dataclass, replace
from decimal import Decimal

from passcheck.job.attempts_table import limits_words
from passcheck.job.before_after import difference
from passcheck.job.held_numbers import HeldNumber, held_numbers
from passcheck.job.state import Attempt, Job
from passcheck.judge.derived import Source
from passcheck.judge.quantity import show, six
from passcheck.judge.response_taps import U_MODEL_S
from passcheck.judge.sentence import decade
from passcheck.report.document import NumberLine
from passcheck.sequence.model import Step


@dataclass(frozen=True, slots=True)
class Number:
    """One number as it is shown.

    Attributes:
        held: the number itself, in its base unit.
        within: how far off it may be, at 95 %.
        figures: `24 mVpp ± 2 mVpp`.
        limits: `at most 60 mVpp`, or "" without any.
    """

    held: HeldNumber
    within: float
    figures: str
    limits: str

    def line(self, before: "Number | None" = None) -> NumberLine | None:
        """The number between its limits, with the one before it on the same scale; None without limits."""
        low, high = (None if end is None else float(end) for end in (self.held.low, self.held.high))
        if low is None and high is None:
            return None
        words = f"{self.figures}, {self.limits}"
        if before is None or before.held.unit != self.held.unit:
            return NumberLine(float(self.held.value), self.within, low, high, words)
        words = f"{words}; as found {before.figures}"
        return NumberLine(float(self.held.value), self.within, low, high, words, float(before.held.value))


def numbers(job: Job, step: Step, attempt: Attempt) -> tuple[Number, ...]:
    """The attempt's numbers in the author's order, as they are shown."""
    alone = step if len(held := held_numbers(job, step, attempt)) == 1 else None
    return tuple(_number(one, attempt, alone) for one in held)


def _number(held: HeldNumber, attempt: Attempt, step: Step | None) -> Number:
    within = _within(replace(held, source=_taken_apart(held, attempt)))
    digit = max(held.digit, decade(held.u)) if held.u else held.digit
    unit = held.unit
    figures = f"{show(held.value, unit, digit or None)} ± {show(max(within, float(digit)), unit, digit or None)}"
    low, high = (None if end is None else six(end) for end in (held.low, held.high))
    limits = limits_words(replace(attempt.judgement, low=low, high=high, unit=unit), step)
    return Number(held, within, figures, limits)


def _taken_apart(held: HeldNumber, attempt: Attempt) -> Source:
    """Of taps beside a block only the scatter has few degrees of freedom; latency and habit are stated, not found.

    So the figure in the table is as unsure as the judgement's own sentence says.
    """
    source = held.source
    if attempt.reference is None:
        return source
    stated = min(held.u, math.hypot(U_MODEL_S, float(attempt.latency_u_s or "0")))
    scatter = math.sqrt(held.u**2 - stated**2)
    return Source(source.value, 0.0, stated * math.sqrt(3), scatter, source.nu_a)


def _within(held: HeldNumber) -> float:
    """As far as its difference from an exact zero may be off, so that a number and a change are told alike."""
    zero = replace(held, value=Decimal(0), digit=Decimal(0), source=Source(0.0, 0.0, 0.0), meter=None)
    return difference(zero, held).within
