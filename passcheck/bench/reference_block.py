"""Which reference trials does a run need, and in which order of delays?

Randomness comes in as numbers drawn evenly from 0 to 1, so that a record can show how the order came about.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from passcheck.job.timed import TimedStep
from passcheck.judge.hand_timed import SHORTEST_S
from passcheck.judge.quantity import show
from passcheck.judge.reference import AROUND, TRIALS
from passcheck.judge.response_taps import SHORTEST_LIMIT_S

BETWEEN_TRIALS_S: Final = 2.0
"""What a hand takes from one trial to the next, its own reaction included; only for the words "about a minute"."""


@dataclass(frozen=True, slots=True)
class BlockNeed:
    """One block that a run needs: the middle of its delays, the limits and steps it serves, and why in a sentence."""

    middle_s: float
    limits_s: tuple[float, ...]
    steps: tuple[str, ...]
    why: str

    @property
    def expected_s(self) -> float:
        """About how long the block takes, in seconds."""
        return TRIALS * (self.middle_s + BETWEEN_TRIALS_S)


def blocks_needed(steps: Sequence[TimedStep]) -> tuple[BlockNeed, ...]:
    """Group the limits so that each lies within the delays of one block, the fewest blocks first come by.

    Limits of 1 s and more need one only where a person's wide error left a doubt; under 0.2 s taps decide nothing, so
    no block is made for them.
    """
    wanted = sorted(
        (
            one
            for one in steps
            if one.limit_s >= SHORTEST_LIMIT_S and (one.limit_s < float(SHORTEST_S) or one.in_doubt_by_hand)
        ),
        key=lambda one: (one.limit_s, one.step),
    )
    needs: list[BlockNeed] = []
    while wanted:
        reach_s = wanted[0].limit_s * (1 + AROUND) / (1 - AROUND)
        group = [one for one in wanted if one.limit_s <= reach_s * (1 + 1e-9)]
        wanted = wanted[len(group) :]
        needs.append(_need(group))
    return tuple(needs)


def _need(group: Sequence[TimedStep]) -> BlockNeed:
    low_s, high_s = group[0].limit_s, group[-1].limit_s
    limits = show(low_s, "s") if low_s == high_s else f"{show(low_s, 's')} to {show(high_s, 's')}"
    doubt = any(one.limit_s >= float(SHORTEST_S) for one in group)
    reason = "a hand alone left them in doubt" if doubt else "a hand alone is too slow for them"
    steps = tuple(one.step for one in group)
    why = f"{TRIALS} reference trials for limits of {limits} ({', '.join(steps)}): {reason}."
    return BlockNeed((low_s + high_s) / 2, tuple(one.limit_s for one in group), steps, why)


def programmed_delays(middle_s: float, uniforms: Sequence[float], trials: int = TRIALS) -> tuple[float, ...]:
    """Return the delays of a block in seconds, spread evenly over middle ± 20 % and shuffled (Fisher and Yates).

    `uniforms` are 2 * trials numbers, each at least 0 and under 1: one for each delay's place in its slot, one for
    each exchange. Raises ValueError for another count or range.
    """
    if len(uniforms) != 2 * trials or not all(0 <= each < 1 for each in uniforms):
        raise ValueError(f"{2 * trials} numbers from 0 to under 1 are needed for {trials} delays")
    slots = [(place + uniforms[place]) / trials for place in range(trials)]
    delays = [middle_s * (1 - AROUND + 2 * AROUND * slot) for slot in slots]
    for place in range(trials - 1, 0, -1):
        other = math.floor(uniforms[trials + place] * (place + 1))
        delays[place], delays[other] = delays[other], delays[place]
    return tuple(delays)
