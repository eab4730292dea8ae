"""Does every lamp show what it should?"""

from collections.abc import Mapping, Sequence

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.each import judge_each
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity
from passcheck.judge.reading import judge_reading


def judge_lamps(names: Sequence[str], faults: Mapping[int, str]) -> Judgement:
    """Judge a walk along the lamps; `faults` maps 1-based numbers to words such as dark, wrong colour, ghost."""
    return judge_each("lamps", names, faults)


def judge_lamp_rate(rates: Sequence[Quantity | OverRange], limits: Limits, accuracy: Accuracy) -> Judgement:
    """Judge a blink rate in Hz that an instrument gave, like any reading."""
    return judge_reading(rates, limits, accuracy)
