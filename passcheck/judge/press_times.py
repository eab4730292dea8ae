"""Did every press of a row get its answer in time?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from passcheck.judge.quantity import show
from passcheck.judge.repeats import shown_by
from passcheck.judge.response_taps import TimedVerdict


@dataclass(frozen=True, slots=True)
class PressTimes:
    """How many presses were answered in time, and what that amounts to."""

    in_time: int
    verdict: TimedVerdict
    sentence: str


def judge_press_times(times_s: Sequence[float | None], limit_s: float, n: int) -> PressTimes:
    """Pass when all of `n` presses were answered within `limit_s`, the limit included; None is no response.

    One late or missing answer fails at once; fewer than n without one want more trials. The sentence gives the share
    of presses that n of n show at 95 % confidence (success-run theorem). Raises ValueError for no presses.
    """
    if n < 1:
        raise ValueError("at least 1 press is needed")
    in_time = sum(time_s is not None and time_s <= limit_s for time_s in times_s)
    late, tried = len(times_s) - in_time, max(n, len(times_s))
    against = f"{in_time} of {tried} presses in time, at most {show(limit_s, 's')}"
    if late:
        unanswered = sum(time_s is None for time_s in times_s)
        return PressTimes(in_time, "fail", f"{against}: {late - unanswered} late, {unanswered} without an answer.")
    if len(times_s) < n:
        return PressTimes(in_time, "more trials", f"{against}: {n - len(times_s)} still to be tried.")
    percent = math.floor(100 * shown_by(in_time))
    return PressTimes(in_time, "pass", f"{against}: at least {percent} % of presses are, at 95 % confidence.")
