"""Did the look find every point in order?"""

from collections.abc import Mapping, Sequence

from passcheck.judge.each import judge_each
from passcheck.judge.judgement import Judgement


def judge_look(points: Sequence[str], faults: Mapping[int, str]) -> Judgement:
    """Judge an inspection list; `faults` maps 1-based numbers to what was seen."""
    return judge_each("points", points, {number: f"({seen})" for number, seen in faults.items()})
