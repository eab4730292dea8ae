"""Is a resistor that still sits in its circuit what it should be?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final, Literal

from passcheck.errors import OurBug
from passcheck.judge.accuracy import Accuracy, standard_uncertainty
from passcheck.judge.conformity import guarded
from passcheck.judge.contact import as_read
from passcheck.judge.judgement import Judgement, Verdict
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity, show, six
from passcheck.judge.reading import judge_reading
from passcheck.judge.sentence import decade

GUARD: Final = 1.645  # one-sided 5 % in standard uncertainties
POLARITY: Final = 0.02
"""Share by which the two polarities may differ; more means a junction or a charge."""
HOPELESS: Final = 5.0  # from this ratio of part to reading on, the parallel path hides the part

Finding = Literal["high or open", "low", "consistent"]

_RULE: Final = "one-sided"


@dataclass(frozen=True, slots=True)
class _Part:
    """The part as it should be, and the instrument that reads it."""

    nominal: Quantity
    tolerance_percent: Decimal
    accuracy: Accuracy

    @property
    def low(self) -> Decimal:
        return self.nominal.value * (1 - self.tolerance_percent / 100)

    @property
    def high(self) -> Decimal:
        return self.nominal.value * (1 + self.tolerance_percent / 100)

    def words(self) -> str:
        return f"{self.nominal.text} ± {six(self.tolerance_percent)} %"

    def limits(self) -> Limits:
        low, high = (replace(self.nominal, value=end, text=show(end, "Ω")) for end in (self.low, self.high))
        return Limits(low, high, self.nominal, "Ω", self.words())

    def u_of(self, readings: Sequence[Quantity]) -> float:
        """The instrument's uncertainty at the largest reading; two polarities of one instrument don't average."""
        largest = max(reading.value for reading in readings)
        return standard_uncertainty(self.accuracy, largest, max(reading.digit for reading in readings))

    def judged(self, verdict: Verdict, text: str, value: Decimal | None = None, u: float | None = None) -> Judgement:
        return Judgement(
            verdict=verdict,
            sentence=f"{text}.",
            value=None if value is None else six(value),
            unit="Ω",
            u=None if u is None else six(u),
            low=six(self.low),
            high=six(self.high),
            rule=_RULE,
            outside=verdict != "pass",
        )


def judge_in_circuit(
    reading: Quantity | OverRange,
    reversed_reading: Quantity | OverRange | None,
    nominal: Quantity,
    tolerance_percent: Decimal,
    accuracy: Accuracy,
    *,
    parallel: Quantity | None = None,
    parallel_tolerance_percent: Decimal | None = None,
    expected: Limits | None = None,
) -> Judgement:
    """Judge both polarities of a resistance across a part, unpowered and discharged.

    Other paths can only lower the reading, so *high or open* is a proven fault; *low* is in doubt, unless `expected`
    (the reading on good boards) or the one `parallel` path is known; anything else is *consistent, not proven*, a pass,
    unless the instrument is too coarse for the tolerance.
    Nothing is decided on one polarity, or when the two differ by more than 2 % and more than the instrument explains.
    `parallel_tolerance_percent` is that of the part where not given. All quantities in Ω, else OurBug.
    """
    if {"Ω"} != {each.unit for each in (reading, reversed_reading, nominal, parallel, expected) if each and each.unit}:
        raise OurBug("a part in its circuit is judged in ohms only")
    part = _Part(nominal, tolerance_percent, accuracy)
    if (charged := _charged(reading, reversed_reading, part)) is not None:
        return charged
    if reversed_reading is None:
        why = "one polarity only: reverse the leads and read again"
        return part.judged("in doubt", f"{as_read(reading)} against {part.words()} is {why}")
    if (open_question := _undecidable(reading, reversed_reading, part)) is not None:
        return open_question
    if isinstance(reading, OverRange) or isinstance(reversed_reading, OverRange):
        return part.judged("fail", f"{as_read(reading)} in both polarities is over {part.words()}: high or open")
    return _judge_numbers([reading, reversed_reading], part, parallel, parallel_tolerance_percent, expected)


def _judge_numbers(
    both: Sequence[Quantity],
    part: _Part,
    parallel: Quantity | None,
    parallel_tolerance_percent: Decimal | None,
    expected: Limits | None,
) -> Judgement:
    """Judge two polarities that agree."""
    lowest, highest = (chosen(each.value for each in both) for chosen in (min, max))
    middle, u = sum((each.value for each in both), Decimal(0)) / len(both), part.u_of(both)
    shown = show(middle, "Ω", _step(both, u))
    found = one_sided(float(lowest), float(highest), u, float(part.low), float(part.high))
    if found == "high or open":
        return part.judged("fail", f"{shown} is over {part.words()}: high or open", middle, u)
    if expected is not None:
        return _against_good_boards(both, expected, part.accuracy)
    if parallel is not None and highest > 0:
        spread = part.tolerance_percent if parallel_tolerance_percent is None else parallel_tolerance_percent
        return _behind(part, middle, u, parallel, float(spread))
    if found == "low":
        why = "low: a path beside it may cause that; lift one leg or compare with a good board"
        return part.judged("in doubt", f"{shown} is under {part.words()}, {why}", middle, u)
    if GUARD * u > float(part.high - part.nominal.value):
        why = "consistent, but with an instrument too coarse for that tolerance: take a better range"
        return part.judged("in doubt", f"{shown} against {part.words()} is {why}", middle, u)
    why = "consistent, not proven: a path beside it could hide a higher value"
    return part.judged("pass", f"{shown} against {part.words()} is {why}", middle, u)


def one_sided(lowest: float, highest: float, u: float, low: float, high: float) -> Finding:
    """Return what readings from `lowest` to `highest` with the uncertainty `u` say of a part of low .. high, all in Ω.

    *High or open* beyond 1.645 u over the high end, *low* beyond as much under the low one, else *consistent*.
    """
    if lowest - GUARD * u > high:
        return "high or open"
    return "low" if highest + GUARD * u < low else "consistent"


def behind_parallel(r_m: float, u_m: float, r_p: float, u_p: float) -> tuple[float, float]:
    """Return the part's resistance and its uncertainty from the reading `r_m` and the known parallel path `r_p`, in Ω.

    R = r_m r_p / (r_p - r_m), u_R² = ((R/r_m)² u_m)² + ((R/r_p)² u_p)² (GUM 5.1.2). `r_m` must be under `r_p`.
    """
    r = r_m * r_p / (r_p - r_m)
    return r, math.hypot((r / r_m) ** 2 * u_m, (r / r_p) ** 2 * u_p)


def hides_the_part(r_m: float, r_p: float) -> bool:
    """Does a parallel path of `r_p` make up so much of the reading `r_m` that the part behind it can't be told?"""
    return r_m >= r_p or r_p / (r_p - r_m) > HOPELESS


def _charged(reading: Quantity | OverRange, other: Quantity | OverRange | None, part: _Part) -> Judgement | None:
    """Return the judgement where a reading is below zero, which no resistance is."""
    for each in (reading, other):
        if each is None or not (each.below if isinstance(each, OverRange) else each.value < 0):
            continue
        why = "below zero means a charge; discharge, prove dead, read again"
        return part.judged("not measured", f"{as_read(each)} against {part.words()} is not a resistance: {why}")
    return None


def _undecidable(reading: Quantity | OverRange, other: Quantity | OverRange, part: _Part) -> Judgement | None:
    """Return the judgement where the two polarities, as they are, can't be judged at all."""
    text, words = as_read(reading), part.words()
    if isinstance(reading, OverRange) and isinstance(other, OverRange):
        bounds = [each.bound for each in (reading, other) if each.bound is not None]
        if bounds and min(bounds) < part.high:
            return part.judged("in doubt", f"{text} doesn't reach the end of {words}: take a higher range")
        return None
    if isinstance(reading, Quantity) and isinstance(other, Quantity):
        difference = abs(reading.value - other.value)
        explained = GUARD * math.sqrt(2) * part.u_of([reading, other])
        if float(difference) <= max(POLARITY * float(max(reading.value, other.value)), explained):
            return None
    why = "the polarities differ, so a junction or a charge takes part; not decided"
    return part.judged("in doubt", f"{text} and {as_read(other)} reversed against {words}: {why}")


def _against_good_boards(both: Sequence[Quantity], expected: Limits, accuracy: Accuracy) -> Judgement:
    """The same node on good boards settles it, in either direction; zero is a short here and no loose probe."""
    anything = Limits(replace(both[0], value=Decimal(0)), None, None, "Ω", "at least 0 Ω")
    judged = judge_reading(both, expected, accuracy, seen=anything)
    return replace(judged, sentence=f"Compared with good boards: {judged.sentence}", rule=_RULE)


def _behind(part: _Part, r_m: Decimal, u_m: float, parallel: Quantity, spread_percent: float) -> Judgement:
    """Take the known parallel path out of the reading, then judge the part itself from both sides."""
    r_p, shown = float(parallel.value), show(r_m, "Ω", decade(u_m) if u_m else None)
    if hides_the_part(float(r_m), r_p):
        why = f"the path of {parallel.text} beside it hides the part, which may be open; lift one leg"
        return part.judged("in doubt", f"{shown} against {part.words()}: {why}", r_m, u_m)
    r, u = behind_parallel(float(r_m), u_m, r_p, r_p * spread_percent / 100 / math.sqrt(3))
    value = Decimal(six(r))
    verdict = guarded(value, u, part.limits())
    found = show(value, "Ω", decade(u) if u else None)
    margin = f"± {show(2 * u, 'Ω', decade(u) if u else None)}"
    side = {"pass": "inside", "fail": "outside", "in doubt": "too close to tell from the limits of"}
    sentence = f"{shown} with {parallel.text} beside it means {found} ({margin}), {side[verdict]} {part.words()}"
    return part.judged(verdict, sentence, value, u)


def _step(both: Sequence[Quantity], u: float) -> Decimal:
    digit = max(reading.digit for reading in both)
    return max(digit, decade(u)) if u else digit
