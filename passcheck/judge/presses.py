"""Did every press count, and in time?"""

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity


def judge_presses(
    counted: int, wanted: int, slowest: Quantity | None, limits: Limits | None, accuracy: Accuracy | None
) -> Judgement:
    """Judge n of n presses."""
