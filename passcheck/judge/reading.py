"""Is a reading inside its limits, allowing for what the instrument cannot resolve?"""

from collections.abc import Sequence
from decimal import Decimal

from passcheck.errors import OurBug
from passcheck.judge.accuracy import Accuracy, capability, standard_uncertainty
from passcheck.judge.conformity import guarded
from passcheck.judge.contact import as_read, first_without_contact
from passcheck.judge.estimate import Estimate, pool
from passcheck.judge.judgement import Judgement, Rule, Verdict
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity, six
from passcheck.judge.sentence import sentence_of


def judge_reading(
    readings: Sequence[Quantity | OverRange],
    limits: Limits,
    accuracy: Accuracy,
    *,
    seen: Limits | None = None,
    ambient_c: float | None = None,
    band_c: tuple[float, float] | None = None,
    rule: Rule = "guarded",
) -> Judgement:
    """Judge one reading, or several of the same instrument pooled (JCGM 106 clauses 7 to 9; ILAC-G8 4.2).

    `seen` is where a real reading lies: what is outside it, or over range or zero with nothing that admits it, is
    not measured (the rule is in `contact.no_contact`). `ambient_c` and the instrument's `band_c` are in °C.
    Raises OurBug when a reading has another unit than the limits; the parsers refuse that before.
    """
    for reading in readings:
        if reading.unit != limits.unit and not (isinstance(reading, OverRange) and not reading.unit):
            raise OurBug(f"a reading in {reading.unit} was to be judged against {limits.words()}")
    if not readings:
        return _without_number("not measured", f"Nothing was read against {limits.words()}.", limits, rule)
    if (missing := first_without_contact(readings, limits, seen)) is not None:
        text, reason = missing
        sentence = f"{text} against {limits.words()} is not a measurement: {reason}. Probe again."
        return _without_number("not measured", sentence, limits, rule)
    if (stray := _foreign_unit(accuracy, limits)) is not None:
        text = min(as_read(each) for each in readings)
        return _without_number("not measured", f"{text} can't be judged by {limits.words()}: {stray}.", limits, rule)
    over = [reading for reading in readings if isinstance(reading, OverRange)]
    if over:
        return _judge_over_range(over, len(readings), limits, rule)
    numbers = [reading for reading in readings if isinstance(reading, Quantity)]
    outside = not all(limits.holds(number.value) for number in numbers)
    return judge_estimate(pool(numbers, accuracy, ambient_c, band_c), limits, rule, outside=outside)


def decidable(limits: Limits, accuracy: Accuracy, digit: Decimal) -> str | None:
    """Return why this instrument can't decide these limits, or None when it can.

    Two-sided: the limits are under 3.92 u apart, so no reading reaches 0.95. One-sided: not even zero would pass.
    `digit` is the weight of the last digit on the range used, in the base unit.
    """
    if (stray := _foreign_unit(accuracy, limits)) is not None:
        return f"An instrument of {accuracy.text} can't decide {limits.words()}: {stray}."
    ratio = capability(limits, accuracy, digit)
    if ratio is not None and ratio < 1:
        reason = "its error is as wide as the limits, so no reading would pass; take a better range or instrument"
        return f"An instrument of {accuracy.text} can't decide {limits.words()}: {reason}."
    if limits.low is None and limits.high is not None and limits.high.value > 0:
        u = standard_uncertainty(accuracy, Decimal(0), digit)
        if guarded(Decimal(0), u, limits) != "pass":
            reason = "even a reading of zero would be in doubt; take a better range or instrument"
            return f"An instrument of {accuracy.text} can't decide {limits.words()}: {reason}."
    return None


def _foreign_unit(accuracy: Accuracy, limits: Limits) -> str | None:
    fixed = accuracy.absolute
    if fixed is None or fixed.unit == limits.unit:
        return None
    return f"the instrument's error is stated in {fixed.unit}"


def _judge_over_range(over: Sequence[OverRange], count: int, limits: Limits, rule: Rule) -> Judgement:
    """Over range that is admitted is larger than anything, or than the number after its `>`."""
    text, words = min(each.text for each in over), limits.words()
    if len(over) < count:
        sentence = f"{text} and numbers against {words} disagree: look for the loose contact, then read again."
        return _without_number("in doubt", sentence, limits, rule)
    limit = limits.high or limits.low
    bounds = [reading.bound for reading in over if reading.bound is not None]
    if limit is not None and bounds and min(bounds) < limit.value:
        sentence = f"{text} doesn't reach the limit of {words}: take a higher range."
        return _without_number("in doubt", sentence, limits, rule)
    if limits.high is not None:
        return _without_number("fail", f"{text} is outside {words}: over range is larger than any limit.", limits, rule)
    sentence = f"{text} is inside {words}: over range is larger than the limit."
    return _without_number("pass", sentence, limits, rule)


def judge_estimate(estimate: Estimate, limits: Limits, rule: Rule = "guarded", *, outside: bool) -> Judgement:
    """Judge what readings say together; `outside` is whether any of them lies outside by itself."""
    inside = limits.holds(estimate.value)
    verdict: Verdict
    if rule == "simple":
        verdict = "pass" if inside else "fail"
    else:
        verdict = guarded(estimate.value, estimate.u, limits, estimate.nu)
    return Judgement(
        verdict=verdict,
        sentence=sentence_of(verdict, estimate, limits, rule),
        value=six(estimate.value),
        unit=limits.unit,
        u=six(estimate.u),
        low=six(limits.low.value) if limits.low is not None else None,
        high=six(limits.high.value) if limits.high is not None else None,
        rule=rule,
        outside=outside,
    )


def _without_number(verdict: Verdict, sentence: str, limits: Limits, rule: Rule) -> Judgement:
    return Judgement(
        verdict=verdict,
        sentence=sentence,
        value=None,
        unit=limits.unit,
        u=None,
        low=six(limits.low.value) if limits.low is not None else None,
        high=six(limits.high.value) if limits.high is not None else None,
        rule=rule,
        outside=verdict != "pass",
    )
