"""Which trials of a hand may count, and which were tapped too early or came too late?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Final, Literal

TrialStatus = Literal["valid", "void", "no response"]

VOID_UNDER_S: Final = 0.10
"""Nobody sees and taps so fast: the tap was on its way before the answer."""
WAIT_AFTER_LIMIT_S: Final = 2.5
"""How long a trial waits beyond the limit before it counts as no response."""
STRAY_SCALES: Final = 4.0
VOIDS_PER_BLOCK: Final = 3
BLOCK: Final = 8
"""Valid trials of one block."""


@dataclass(frozen=True, slots=True)
class Screened:
    """What became of each trial, in the order given; `valid_s` are the times that enter the decision, all of them."""

    statuses: tuple[TrialStatus, ...]
    valid_s: tuple[float, ...]

    @property
    def voided(self) -> int:
        """Trials that have to be done again."""
        return self.statuses.count("void")

    @property
    def unanswered(self) -> int:
        """Trials in which the unit never answered; each fails the step."""
        return self.statuses.count("no response")

    @property
    def too_many_voids(self) -> bool:
        """More than 3 voids in a block of 8: the hand isn't settled, so the block begins again."""
        return too_many_voids(self.voided, len(self.valid_s))


def too_many_voids(voided: int, valid: int) -> bool:
    """Are there more than 3 voids for each block of 8 valid trials that was begun?"""
    return voided > VOIDS_PER_BLOCK * max(1, math.ceil(valid / BLOCK))


def screen_trials(trials_s: Sequence[float | None], limit_s: float) -> Screened:
    """Sort trials by their time from start to stop in seconds; None is a trial that was never stopped.

    Under 0.10 s is void. Without a stop until 2.5 s after the limit it is no response, which is never a void.
    """
    statuses = tuple(_status(time_s, limit_s + WAIT_AFTER_LIMIT_S) for time_s in trials_s)
    valid = [time for time, status in zip(trials_s, statuses, strict=True) if status == "valid" and time is not None]
    return Screened(statuses, tuple(valid))


def early_trials(valid_s: Sequence[float], scale_s: float) -> int:
    """Count trials over four scales under the median: tapped before the answer was seen."""
    if not valid_s:
        return 0
    edge = median(valid_s) - STRAY_SCALES * scale_s
    return sum(time_s < edge for time_s in valid_s)


def late_trials(corrected_s: Sequence[float], limit_s: float, scale_s: float) -> int:
    """Count corrected trials over four scales above the limit: slow now and then, or not attended to.

    Late trials are counted and never dropped.
    """
    return sum(delay_s > limit_s + STRAY_SCALES * scale_s for delay_s in corrected_s)


def _status(time_s: float | None, timeout_s: float) -> TrialStatus:
    if time_s is None or time_s >= timeout_s:
        return "no response"
    return "void" if time_s < VOID_UNDER_S else "valid"
