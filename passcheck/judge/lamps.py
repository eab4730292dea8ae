"""Does every lamp show what it should?"""

from collections.abc import Mapping, Sequence

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity


def judge_lamps(names: Sequence[str], faults: Mapping[int, str]) -> Judgement:
    """Judge a walk along the lamps; `faults` maps 1-based numbers to words."""


def judge_lamp_rate(rates: Sequence[Quantity | OverRange], limits: Limits, accuracy: Accuracy) -> Judgement:
    """Judge a blink rate that an instrument gave."""
