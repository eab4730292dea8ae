"""Is a value that is worked out from two readings inside its limits?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.derived import SIGNS, Derived, Form, Source, derive, derived_unit
from passcheck.judge.estimate import Estimate, pool
from passcheck.judge.judgement import Judgement, Rule
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity, show, six
from passcheck.judge.reading import judge_estimate
from passcheck.judge.sentence import decade, finest_shown

_FINEST: Final = Decimal("1E-12")


@dataclass(frozen=True, slots=True)
class Operand:
    """One of the two readings as a value with its errors; `text` is how it is shown.

    `meter` is None for a value that was itself worked out; it tells by which instrument and in which unit it was read.
    """

    source: Source
    unit: str
    digit: Decimal
    text: str
    meter: tuple[str, Accuracy] | None = None

    def shares_range_with(self, other: "Operand") -> bool:
        """Were both read by one instrument on one range, so far as the weight of the last digit tells it?"""
        return self.meter is not None and (self.meter, self.unit, self.digit) == (other.meter, other.unit, other.digit)


def read_operand(readings: Sequence[Quantity], accuracy: Accuracy, instrument: str) -> Operand:
    """Pool readings of one instrument into an operand; `instrument` is its name on this bench."""
    estimate = pool(readings, accuracy)
    gain = abs(float(estimate.value)) * float(accuracy.percent) / 100
    source = Source(
        float(estimate.value),
        gain,
        estimate.error - gain,
        estimate.u_a,
        estimate.count - 1 if estimate.u_a else math.inf,
    )
    unit = readings[0].unit
    shown = show(estimate.value, unit, finest_shown(estimate))
    return Operand(source, unit, estimate.digit, shown, (instrument, accuracy))


def worked_out_operand(value: Decimal, unit: str, u: float) -> Operand:
    """Take a value that was itself worked out, with its standard uncertainty."""
    digit = decade(u) if u else _FINEST
    return Operand(Source(float(value), 0.0, u * math.sqrt(3)), unit, digit, show(value, unit, digit))


def judge_derived(
    form: Form, a: Operand, b: Operand, limits: Limits, *, same_meter: bool = False, rule: Rule = "guarded"
) -> Judgement:
    """Judge a · b, a / b or a - b like a reading; the sentence names both.

    `same_meter` lets the gain error cancel where the operands show that one instrument read both on one range. Raises
    ValueError where the result has another unit than the limits, or no value.
    """
    found = derived_unit(form, a.unit, b.unit)
    if found is None or found[0] != limits.unit:
        raise ValueError(
            f"{a.unit} {SIGNS[form]} {b.unit} doesn't give {limits.unit or 'a bare number'}, in which the limits are"
        )
    derived = derive(form, a.source, b.source, same_range=same_meter and a.shares_range_with(b))
    estimate = _estimate(derived, found[1])
    judged = judge_estimate(estimate, limits, rule, outside=not limits.holds(estimate.value))
    return replace(judged, sentence=f"{a.text} {SIGNS[form]} {b.text}: {judged.sentence}")


def _estimate(derived: Derived, factor: float) -> Estimate:
    value, u = Decimal(six(derived.value * factor)), derived.u * factor
    u_a, u_b = derived.u_a * factor, derived.u_b * factor
    digit = decade(u) if u else _FINEST
    return Estimate(value, digit, 1, u_b * math.sqrt(3), u_a, u_b, u, derived.nu)
