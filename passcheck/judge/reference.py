"""Does a block of reference trials serve this limit, and does it still hold later in the day?

A block is tapped on the bench's own screen before the unit's trials: the same hands, delays around the limit.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from passcheck.judge.latency import Latency
from passcheck.judge.reaction import is_plausible
from passcheck.judge.response_taps import INFLATION
from passcheck.judge.robust import hodges_lehmann, winsorised_scale
from passcheck.judge.student import student_quantile

TRIALS: Final = 20
AROUND: Final = 0.2
"""Delays lie within this share of the middle: there reaction and habit are those of a decision at the limit."""
CHECK_TRIALS: Final = 5
CHECK_ALARM: Final = 0.01
"""Share of good blocks that the check of the day sends back; ours: a block costs a minute, a wrong one a verdict."""
LATENCY_SPAN_S: Final = (0.030, 0.200)
"""Between these lies the latency of a bench where nobody filmed it."""


@dataclass(frozen=True, slots=True)
class DayCheck:
    """Five new trials beside the block: their shift, how far it may go, and whether the block still holds."""

    shift_s: float
    allowed_s: float

    @property
    def holds(self) -> bool:
        """May the block of this morning be used?"""
        return abs(self.shift_s) <= self.allowed_s


def serves(middle_s: float, limit_s: float) -> bool:
    """Does a limit lie within the delays of a block around `middle_s`?"""
    return abs(limit_s - middle_s) <= AROUND * middle_s * (1 + 1e-9)


def check_of_the_day(block_s: Sequence[float], new_s: Sequence[float]) -> DayCheck:
    """Compare five new trials with a person's block of the same day, each as time less delay, in seconds.

    The block holds while the Hodges-Lehmann shift stays within t sqrt(1.2 s_w² (1/n + 1/m)), as the judge takes the
    scatter of a shift; one good block in a hundred is sent back. Raises ValueError for fewer than five new trials.
    """
    if len(new_s) < CHECK_TRIALS:
        raise ValueError(f"the check of the day takes {CHECK_TRIALS} trials, not {len(new_s)}")
    scale_s, df = winsorised_scale(block_s)
    u_s = math.sqrt(INFLATION * scale_s**2 * (1 / len(new_s) + 1 / len(block_s)))
    return DayCheck(hodges_lehmann(new_s, block_s), student_quantile(1 - CHECK_ALARM / 2, df) * u_s)


def can_be_a_hand(block_s: Sequence[float], latency: Latency) -> bool:
    """Can a person have tapped this block, whatever the latency was where it is not known?"""
    spans_s = (latency.value_s,) if latency.measured else LATENCY_SPAN_S
    return any(is_plausible(block_s, span_s) for span_s in spans_s)
