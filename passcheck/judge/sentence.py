"""How are an estimate and its verdict put into one sentence?"""

from decimal import Decimal

from passcheck.judge.conformity import is_narrow
from passcheck.judge.estimate import Estimate
from passcheck.judge.judgement import Rule, Verdict
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import show


def sentence_of(verdict: Verdict, estimate: Estimate, limits: Limits, rule: Rule) -> str:
    """Return number, limits and reason; nothing in it is finer than the uncertainty, and no probability is named."""
    unit, step = limits.unit, finest_shown(estimate)
    subject = show(estimate.value, unit, step)
    if estimate.count > 1:
        subject = f"The mean of {estimate.count} readings, {subject},"
    inside = limits.holds(estimate.value)
    side = f"is {'inside' if inside else 'outside'} {limits.words()}"
    gap = _gap(estimate.value, limits)
    distance = show(gap, unit, step) if gap >= step else f"less than {show(step, unit, step)}"
    where = f"{distance} {'from' if inside else 'beyond'} the {_which(limits)}"
    if verdict == "in doubt":
        return f"{subject} {side}, but {where}: {_why_in_doubt(estimate, limits)}."
    error = f"instrument ± {_error(estimate, unit)}"
    ending = ", not counted: simple rule" if rule == "simple" else ""
    zero = " Zero is what a loose probe shows too: look at the contact." if estimate.value == 0 and not inside else ""
    return f"{subject} {side}, {where}; {error}{ending}.{zero}"


def _why_in_doubt(estimate: Estimate, limits: Limits) -> str:
    if estimate.u_a > estimate.u_b:
        return (
            f"too close for readings that scatter so much (± {show(2 * estimate.u, limits.unit, decade(estimate.u))})"
        )
    error = _error(estimate, limits.unit)
    if is_narrow(estimate.u, limits):
        return f"these limits are too close together for this instrument (± {error})"
    return f"too close for this instrument (± {error})"


def _error(estimate: Estimate, unit: str) -> str:
    step = finest_shown(estimate)
    return show(estimate.error, unit, step if estimate.error >= step or not estimate.u else decade(estimate.u))


def _which(limits: Limits) -> str:
    return "limit" if limits.low is None or limits.high is None else "nearer limit"


def _gap(value: Decimal, limits: Limits) -> Decimal:
    """Distance from the nearer limit, in the base unit."""
    return min(abs(value - limit.value) for limit in (limits.low, limits.high) if limit is not None)


def finest_shown(estimate: Estimate) -> Decimal:
    """Return the weight of the last digit worth showing: that of the uncertainty, or as written when coarser."""
    return max(estimate.digit, decade(estimate.u)) if estimate.u else estimate.digit


def decade(u: float) -> Decimal:
    """Return the power of ten of the first digit of an uncertainty."""
    return Decimal(1).scaleb(Decimal(repr(u)).adjusted())
