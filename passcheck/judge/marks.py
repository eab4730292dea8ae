"""Does the pointer stand at its marks from both directions?"""

from collections.abc import Sequence
from decimal import Decimal

from passcheck.judge.judgement import Judgement


def judge_marks(
    expected: Sequence[Decimal],
    up: Sequence[Decimal],
    down: Sequence[Decimal],
    tolerance: Decimal,
    readability: Decimal,
    unit: str,
) -> Judgement:
    """Judge pointer positions in the scale's own unit."""
