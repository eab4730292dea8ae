"""Did the unit take a plausible current at its first, limited power?"""

from typing import Literal

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity

LimitLight = Literal["off", "brief", "on"]


def judge_power_up(
    current: Quantity | OverRange, limits: Limits, accuracy: Accuracy, limit_light: LimitLight
) -> Judgement:
    """Judge the current and the supply's limit light."""
