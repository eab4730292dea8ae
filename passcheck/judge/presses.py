"""Did every press count, and in time?"""

import math
from dataclasses import replace

from passcheck.errors import OurBug
from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement, judged_by_count, judged_without_number, worst_of
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity
from passcheck.judge.reading import judge_reading
from passcheck.judge.repeats import shown_by

_RULE = "all of n"


def judge_presses(
    counted: int, wanted: int, slowest: Quantity | None, limits: Limits | None, accuracy: Accuracy | None
) -> Judgement:
    """Judge n presses: each has to count once, and the slowest has to be in time where `limits` are given.

    The sentence says what n of n shows. Raises OurBug for a count below 0, no presses, or limits without an accuracy.
    """
    if counted < 0 or wanted < 1:
        raise OurBug(f"{counted} counts of {wanted} presses can't be judged")
    ratio = f"{counted} counts from {wanted} presses"
    if counted != wanted:
        reason = "some were missed" if counted < wanted else "some counted twice"
        return judged_by_count(counted, wanted, f"{ratio}: {reason}.", _RULE)
    percent = min(99, math.floor(100 * shown_by(wanted)))
    shows = f"{ratio} show that at least {percent} % of presses count, at 95 % confidence"
    every = judged_by_count(counted, wanted, f"{shows}.", _RULE)
    if limits is None:
        return every
    if slowest is None:
        return judged_without_number("not measured", f"{shows}; none was timed against {limits.words()}.", _RULE)
    if accuracy is None:
        raise OurBug("a press time is judged with the accuracy of what timed it")
    timed = judge_reading([slowest], limits, accuracy)
    return replace(worst_of([timed, every]), sentence=f"{shows}. Slowest: {timed.sentence}")
