"""Does every input give its output?"""

from collections.abc import Sequence

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity


def judge_table(
    rows: Sequence[tuple[str, Limits]], outputs: Sequence[Quantity | OverRange], accuracy: Accuracy
) -> Judgement:
    """Judge every row; the worst decides."""
