"""Was the number of things counted the number wanted?"""

from passcheck.errors import OurBug
from passcheck.judge.judgement import Judgement, judged_by_count


def judge_count(counted: int, wanted: int) -> Judgement:
    """Judge a count, such as beeps or good starts: the number wanted and no other passes. Raises OurBug below 0."""
    if counted < 0 or wanted < 0:
        raise OurBug(f"a count is never below 0, not {counted} of {wanted}")
    difference = f"{abs(counted - wanted)} {'too few' if counted < wanted else 'too many'}"
    reason = difference if counted != wanted else "as many as there should be"
    return judged_by_count(counted, wanted, f"{counted} counted, {wanted} wanted: {reason}.", "each")
