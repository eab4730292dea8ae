"""What do the taps of one step amount to, as a judgement that a record keeps?"""

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from passcheck.judge.hand_timed import PERSON_S, judge_by_hand
from passcheck.judge.judgement import Judgement, Verdict
from passcheck.judge.latency import Latency
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity, show, six
from passcheck.judge.response_taps import SHORTEST_LIMIT_S, TapFinding, decide_by_taps
from passcheck.judge.response_words import taps_sentence
from passcheck.judge.rounding import counted
from passcheck.judge.screening import VOID_UNDER_S

BY_REFERENCE: Final = "by reference trials"
HAND_TRIALS: Final = 3
ONE_TRIAL_OVER_S: Final = Decimal(10)
"""Over this a hand's error is small beside the limit, and a repeat costs more than it shows."""
_MICRO: Final = Decimal("0.000001")


def judge_by_reference(
    trials_s: Sequence[float | None], reference_s: Sequence[float], latency: Latency, limit_s: float
) -> Judgement | None:
    """Judge all trials since the last rework beside a reference block; None while more trials are needed.

    `trials_s` are times from tap to tap, None for no response. No value under 0.2 s is kept: taps can't resolve it.
    """
    found = decide_by_taps(trials_s, reference_s, latency, limit_s)
    if found.verdict == "more trials":
        return None
    delay = None if found.delay is None or found.delay.delay_s < SHORTEST_LIMIT_S else found.delay
    return Judgement(
        verdict=_kept(found),
        sentence=taps_sentence(found, limit_s, latency_measured=True),  # the bench says what is wrong with it
        value=None if delay is None else six(delay.delay_s),
        unit="s",
        u=None if delay is None else six(delay.u_s),
        low=None,
        high=six(limit_s),
        rule=BY_REFERENCE,
        outside=found.verdict != "pass",
    )


def hand_trials_wanted(limits: Limits) -> int:
    """How many trials a hand without reference trials makes: 3, or 1 where the shortest limit is over 10 s."""
    shortest = min(end.value for end in (limits.low, limits.high) if end is not None)
    return 1 if shortest > ONE_TRIAL_OVER_S else HAND_TRIALS


def judge_by_hand_alone(trials_s: Sequence[float | None], limits: Limits) -> Judgement | None:
    """Judge trials against limits of 1 s and more by a hand's stated error; None while more trials are needed.

    None among the times is no response, which fails at once. Times under 0.10 s can't have seen anything and are left
    out. A delay under 0.2 s counts as 0.2 s: that decides nothing here, and taps can't resolve it.
    """
    if None in trials_s:
        missing = sum(time_s is None for time_s in trials_s)
        words = f"No response in {missing} of {counted(len(trials_s), 'trial')} against {limits.words()}."
        high = None if limits.high is None else six(limits.high.value)
        low = None if limits.low is None else six(limits.low.value)
        return Judgement("fail", words, None, "s", None, low, high, "guarded", outside=True)
    valid = [time_s for time_s in trials_s if time_s is not None and time_s >= VOID_UNDER_S]
    if len(valid) < hand_trials_wanted(limits):
        return None
    shortest_s = SHORTEST_LIMIT_S + float(PERSON_S)
    return judge_by_hand([_tapped(max(time_s, shortest_s)) for time_s in valid], limits)


def _kept(found: TapFinding) -> Verdict:
    assert found.verdict != "more trials"  # noqa: S101 - told apart by the caller
    return found.verdict


def _tapped(time_s: float) -> Quantity:
    exact = Decimal(repr(time_s)).quantize(_MICRO)
    return Quantity(exact, "s", _MICRO, show(exact, "s"))
