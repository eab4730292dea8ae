"""Was the number of things counted the number wanted?"""

from passcheck.judge.judgement import Judgement


def judge_count(counted: int, wanted: int) -> Judgement:
    """Judge a count."""
