"""Did the unit answer in time, by an instrument?"""

import math
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from passcheck.errors import OurBug
from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement, worst_of
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity, six
from passcheck.judge.reading import judge_reading

_ANY_TIME = Limits(Quantity(Decimal(0), "s", Decimal(1), "0 s"), None, None, "s", "at least 0 s")


def judge_response(times: Sequence[Quantity | OverRange], limits: Limits, accuracy: Accuracy) -> Judgement:
    """Judge response times in seconds that an instrument gave, such as a scope or camera frames.

    Every trial is an answer of its own, so they aren't averaged: the worst one decides. Over range (`OL`, `> 3 s`) is
    an answer that didn't come while the instrument waited, which fails an upper limit.
    """
    if not times:
        return judge_reading([], limits, accuracy)
    ordered = sorted(times, key=lambda each: (_margin(each, limits), each.text))
    judged = [judge_reading([each], limits, accuracy, seen=_admits(each, limits)) for each in ordered]
    worst = worst_of(judged)
    if len(times) == 1:
        return worst
    clean = sum(each.verdict == "pass" for each in judged)
    return replace(worst, sentence=f"{clean} of {len(times)} answers pass; the one that decides: {worst.sentence}")


def frames_accuracy(fps: Decimal) -> Accuracy:
    """Return the accuracy of a time counted in camera frames: one frame either way at the first and at the last.

    Two rectangles of a frame's half-width add to u = sqrt(2/3)/fps, so the stated error is sqrt(2)/fps.
    `fps` are true frames a second, as recorded and not as played. Raises OurBug unless above 0.
    """
    if fps <= 0:
        raise OurBug(f"frames a second are above 0, not {fps}")
    error = Decimal(six(math.sqrt(2) / float(fps)))
    text = f"± 1 frame at each end, {six(fps)} frames a second"
    return Accuracy(Decimal(0), Decimal(0), text, Quantity(error, "s", error, text))


def _admits(time: Quantity | OverRange, limits: Limits) -> Limits | None:
    return _ANY_TIME if isinstance(time, OverRange) and limits.high is not None else None


def _margin(time: Quantity | OverRange, limits: Limits) -> Decimal:
    """Distance to the nearer limit, negative outside; an answer that never came is furthest out."""
    if isinstance(time, OverRange):
        return Decimal("-Infinity")
    above = limits.high.value - time.value if limits.high is not None else None
    below = time.value - limits.low.value if limits.low is not None else None
    return min(margin for margin in (above, below) if margin is not None)
