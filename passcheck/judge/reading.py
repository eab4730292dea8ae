"""Is a reading inside its limits, allowing for what the instrument cannot resolve?"""

from collections.abc import Sequence
from decimal import Decimal

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement, Rule
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity


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
    """Judge one reading, or several of the same instrument together."""


def decidable(limits: Limits, accuracy: Accuracy, digit: Decimal) -> str | None:
    """Return why this instrument can't decide these limits, or None when it can."""
