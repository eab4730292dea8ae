"""How is a number that a hand tapped judged, and put into one sentence?"""

from dataclasses import replace
from decimal import Decimal
from typing import Final

from passcheck.errors import OurBug
from passcheck.judge.conformity import is_narrow
from passcheck.judge.estimate import Estimate
from passcheck.judge.judgement import Judgement, Verdict
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import show, six
from passcheck.judge.reading import judge_estimate
from passcheck.judge.sentence import finest_shown
from passcheck.judge.student import student_quantile

FINEST: Final = Decimal("0.001")
"""No tapped number is shown finer, in s or Hz, however steady the hand was."""


def judge_tapped(value: float, u: float, nu: float, limits: Limits, how: str, doubt: str = "") -> Judgement:
    """Judge by the probability of conformity (JCGM 106) in the limits' base unit; `how` follows "tapped".

    `nu` are the degrees of freedom of `u`. A `doubt` is a reason why the number can't be trusted: it stays in doubt
    whatever the number is.
    """
    error = student_quantile(0.975, nu) * u
    estimate = Estimate(Decimal(repr(float(value))), FINEST, 1, error, u, 0.0, u, nu)
    inside = limits.holds(estimate.value)
    judged = judge_estimate(estimate, limits, outside=bool(doubt) or not inside)
    verdict: Verdict = "in doubt" if doubt else judged.verdict
    return replace(judged, verdict=verdict, sentence=_sentence(verdict, estimate, limits, how, doubt))


def without_number(verdict: Verdict, sentence: str, limits: Limits) -> Judgement:
    """Return a judgement of taps that amount to no number, with the limits it was meant for."""
    low, high = (None if end is None else six(end.value) for end in (limits.low, limits.high))
    return Judgement(verdict, sentence, None, limits.unit, None, low, high, "guarded", outside=verdict != "pass")


def refuse_other_unit(limits: Limits, unit: str) -> None:
    """Raise OurBug for limits in another unit; the loader refuses those before."""
    if limits.unit != unit:
        raise OurBug(f"taps give {unit} and were to be judged against {limits.words()}")


def margin(value: float, limits: Limits) -> float:
    """Return the distance from the nearer limit in the base unit, negative outside."""
    above = [float(limits.high.value) - value] if limits.high is not None else []
    below = [value - float(limits.low.value)] if limits.low is not None else []
    return min(above + below)


def _sentence(verdict: Verdict, estimate: Estimate, limits: Limits, how: str, doubt: str) -> str:
    unit, step = limits.unit, finest_shown(estimate)
    inside = limits.holds(estimate.value)
    side = f"{_shown(estimate.value, unit, step)} is {'inside' if inside else 'outside'} {limits.words()}"
    error = _shown(max(estimate.error, float(step)), unit, step)
    if doubt:
        return f"{side}, but {doubt}."
    gap = abs(margin(float(estimate.value), limits))
    distance = _shown(gap, unit, step) if gap >= step else f"less than {_shown(step, unit, step)}"
    nearest = "limit" if limits.low is None or limits.high is None else "nearer limit"
    where = f"{distance} {'from' if inside else 'beyond'} the {nearest}"
    if verdict == "in doubt":
        narrow = is_narrow(estimate.u, limits)
        reason = "these limits are too close together for taps" if narrow else "too close for taps"
        return f"{side}, but {where}: {reason} (± {error})."
    return f"{side}, {where}; tapped {how}, ± {error}."


def _shown(value: Decimal | float, unit: str, step: Decimal) -> str:
    """A rate without a prefix: 0.897 Hz is easier to hold against 1 Hz than 897 mHz."""
    return show(value, "", step) + " Hz" if unit == "Hz" else show(value, unit, step)
