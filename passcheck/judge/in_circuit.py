"""Is a resistor that still sits in its circuit what it should be?"""

from decimal import Decimal

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity


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
    """Judge both polarities of a reading across a resistor in its circuit."""
