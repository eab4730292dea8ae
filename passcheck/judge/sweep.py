"""Did the pointer travel up and down in its time without hesitating?"""

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity


def judge_sweep(
    up: Quantity, down: Quantity, up_limits: Limits, down_limits: Limits, accuracy: Accuracy, hesitation: str | None
) -> Judgement:
    """Judge both times and what the eye saw."""
