"""Was every press of a row answered in time, each found by a single pair of taps?

One pair is no average: each time carries the whole scatter of a hand. So a press counts as in time only where it is
surely so, and as late only where it is surely late; a single late one may have been the hand's own lapse.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Final

from passcheck.judge.hand_timed import PERSON_S, U_PERSON_S
from passcheck.judge.judgement import Judgement, Verdict
from passcheck.judge.latency import Latency
from passcheck.judge.quantity import show, six
from passcheck.judge.repeats import shown_by
from passcheck.judge.response_taps import SHORTEST_LIMIT_S, U_MODEL_S
from passcheck.judge.robust import winsorised_scale
from passcheck.judge.rounding import counted
from passcheck.judge.sentence import decade
from passcheck.judge.student import student_quantile

SURE: Final = 0.95
LATE_FAILS: Final = 2
"""So many late answers are hardly lapses: at three in a hundred taps, two come in one row of ten out of thirty."""


@dataclass(frozen=True, slots=True)
class HandTime:
    """What is added to a tapped time to find the delay, and how surely: `lead_s` (below 0), `u_s`, one-sided `k`."""

    lead_s: float
    u_s: float
    k: float

    @property
    def margin_s(self) -> float:
        """How far from the limit a delay is surely on its side."""
        return self.k * self.u_s


def by_reference(reference_s: Sequence[float], latency: Latency) -> HandTime:
    """The hand as its reference block shows it: u² = s_w² (1 + 1/m) + u_L² + u_mod², Student's k at 95 %."""
    scale_s, df = winsorised_scale(reference_s)
    scatter = scale_s**2 * (1 + 1 / len(reference_s))
    u_s = math.sqrt(scatter + latency.u_s**2 + U_MODEL_S**2)
    nu = df * (u_s**2 / scatter) ** 2 if scatter else math.inf
    return HandTime(latency.value_s - median(reference_s), u_s, student_quantile(SURE, nu))


def by_a_hand_alone() -> HandTime:
    """A hand without reference trials: late by 0.3 s with a standard uncertainty of 0.1 s."""
    return HandTime(-float(PERSON_S), U_PERSON_S, student_quantile(SURE, math.inf))


def judge_presses_by_taps(
    times_s: Sequence[float | None], hand: HandTime, limit_s: float, wanted: int
) -> Judgement | None:
    """Judge tapped times, None being one without an answer; None while more presses are needed.

    Pass when all `wanted` are surely in time; fail when one was never answered or two are surely late; else, once all
    are there, in doubt. Raises ValueError for no presses.
    """
    if wanted < 1:
        raise ValueError("at least 1 press is needed")
    delays_s = [time_s + hand.lead_s for time_s in times_s if time_s is not None]
    unanswered = len(times_s) - len(delays_s)
    late = sum(delay_s - hand.margin_s >= limit_s for delay_s in delays_s)
    sure = sum(delay_s + hand.margin_s < limit_s for delay_s in delays_s)
    if unanswered or late >= LATE_FAILS:
        return _judgement("fail", times_s, delays_s, hand, limit_s, f"{late} late, {unanswered} without an answer")
    if len(times_s) < wanted:
        return None
    if sure == len(times_s):
        percent = math.floor(100 * shown_by(sure))
        reason = f"at least {percent} % of presses are in time, at 95 % confidence"
        return _judgement("pass", times_s, delays_s, hand, limit_s, reason)
    close = f"{counted(len(times_s) - sure - late, 'answer')} too close for single taps"
    reason = f"{close}, {late} late: the hand or the unit, repeat" if late else close
    return _judgement("in doubt", times_s, delays_s, hand, limit_s, reason)


def _judgement(
    verdict: Verdict,
    times_s: Sequence[float | None],
    delays_s: Sequence[float],
    hand: HandTime,
    limit_s: float,
    reason: str,
) -> Judgement:
    slowest = max(delays_s, default=None)
    resolved = slowest is not None and slowest >= SHORTEST_LIMIT_S
    return Judgement(
        verdict=verdict,
        sentence=f"{counted(len(times_s), 'press', 'presses')} against at most {show(limit_s, 's')}"
        f"{_slowest_words(slowest, hand)}: {reason}.",
        value=six(slowest) if slowest is not None and resolved else None,
        unit="s",
        u=six(hand.u_s) if resolved else None,
        low=None,
        high=six(limit_s),
        rule="all of n",
        outside=verdict != "pass",
    )


def _slowest_words(slowest_s: float | None, hand: HandTime) -> str:
    if slowest_s is None:
        return ""
    if slowest_s < SHORTEST_LIMIT_S:
        return f", the slowest {show(SHORTEST_LIMIT_S, 's')} or less (shorter than taps can resolve)"
    return f", the slowest {show(slowest_s, 's', decade(hand.u_s))} as tapped"
