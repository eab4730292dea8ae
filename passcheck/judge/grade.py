"""How badly did a disturbance hit the unit, in functional status classes?"""

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity


def judge_grade(
    grade: str, worst_allowed: str, recovery: Quantity | None, recovery_limit: Limits | None, accuracy: Accuracy
) -> Judgement:
    """Judge a class A to E against the worst one allowed, and the recovery time where one is limited."""
