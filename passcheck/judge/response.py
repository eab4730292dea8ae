"""Did the unit answer in time, by an instrument?"""

from collections.abc import Sequence
from decimal import Decimal

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity


def judge_response(times: Sequence[Quantity | OverRange], limits: Limits, accuracy: Accuracy) -> Judgement:
    """Judge response times that an instrument gave."""


def frames_accuracy(fps: Decimal) -> Accuracy:
    """Return the accuracy of a time counted in camera frames."""
