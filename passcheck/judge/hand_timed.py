"""Was a time of a second and more kept, by a hand that taps at its beginning and its end?

Without reference trials a hand is late by 0.3 s, give or take; where that leaves a doubt, `response_taps` decides.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Final

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity, six
from passcheck.judge.response import judge_response

SHORTEST_S: Final = Decimal(1)
"""Limits from here up are judged so."""
PERSON_S: Final = Decimal("0.3")
U_PERSON_S: Final = 0.1

_ERROR: Final = Decimal(six(U_PERSON_S * math.sqrt(3)))
BY_HAND: Final = Accuracy(Decimal(0), Decimal(0), "by hand", Quantity(_ERROR, "s", Decimal("0.01"), "0.17 s"))
"""The error of a person as that of an instrument: a rectangle whose standard uncertainty is 0.1 s."""


def judge_by_hand(times: Sequence[Quantity], limits: Limits) -> Judgement:
    """Judge tapped times in seconds, each less 0.3 s with a standard uncertainty of 0.1 s; the worst one decides.

    Raises ValueError for a limit under 1 s.
    """
    if any(end is not None and end.value < SHORTEST_S for end in (limits.low, limits.high)):
        raise ValueError(
            f"{limits.words()}: only limits of 1 s and more can be judged by hand without reference trials"
        )
    corrected = [replace(each, value=each.value - PERSON_S, digit=max(each.digit, Decimal("0.1"))) for each in times]
    judged = judge_response(corrected, limits, BY_HAND)
    words = judged.sentence.replace("instrument", "hand")
    return replace(judged, sentence=f"By hand, less {PERSON_S} s: {words}")
