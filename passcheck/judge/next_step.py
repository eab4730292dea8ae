"""Which step tells most about the suspects in the least time?"""

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Final

from passcheck.judge.fault_matrix import FaultMatrix
from passcheck.judge.suspects import FaultSets, behind_failed, fail_given, fault_sets, marginals

CLEAR_FROM: Final = 0.9
"""Above this probability of one block it is time to look at the block, not to test on."""
LEAST_BIT_PER_MIN: Final = 0.01


@dataclass(frozen=True, slots=True)
class NextStep:
    """What each step that is still open would tell, in bits and in bits a minute; `step` is None when to stop.

    `reason` is the sentence for the choice or for the stop.
    """

    gain_bit: Mapping[str, float]
    gain_per_min: Mapping[str, float]
    step: str | None
    reason: str


def next_step(
    matrix: FaultMatrix,
    evidence: Mapping[str, float],
    minutes: Mapping[str, float],
    forbidden: Collection[str] = (),
    sets: FaultSets | None = None,
) -> NextStep:
    """Choose the open step with the largest expected gain of information a minute.

    Gain = H(o) - sum over F of P(F) H(o | F), equal to the expected fall of the entropy of F (Shannon); F are the sets
    of up to three faulty blocks after the evidence, `sets` where they were weighed already. `minutes` are those of
    set-up, run and safety steps together; a step without minutes, with an outcome, `forbidden`, or behind a failed one
    isn't offered. Stops when one block stands above 0.9 or no step gives 0.01 bit a minute. Raises ValueError as
    `suspects` does, and for minutes that are not above 0.
    """
    unknown = sorted((set(minutes) | set(forbidden)) - set(matrix.steps))
    if unknown or not all(0 < each < math.inf for each in minutes.values()):
        raise ValueError(f"there is no step {unknown[0]}" if unknown else "minutes have to be above 0")
    sets = sets or fault_sets(matrix, evidence)
    shut = {*evidence, *forbidden, *behind_failed(matrix, evidence)}
    gains = {
        step: information_gain(matrix, sets, place)
        for place, step in enumerate(matrix.steps)
        if step in minutes and step not in shut
    }
    rates = {step: gain / minutes[step] for step, gain in gains.items()}
    step, reason = _choice(matrix, sets, rates)
    return NextStep(gains, rates, step, reason)


def information_gain(matrix: FaultMatrix, sets: FaultSets, place: int) -> float:
    """Return what the step at this place of the matrix is expected to tell, in bits; never below 0."""
    fails = fail_given(matrix, place, sets.members)
    at_large = math.fsum(p * fail for p, fail in zip(sets.probability, fails, strict=True))
    known = math.fsum(p * entropy((fail, 1 - fail)) for p, fail in zip(sets.probability, fails, strict=True))
    return max(0.0, entropy((at_large, 1 - at_large)) - known)


def entropy(shares: Collection[float]) -> float:
    """Return the entropy of shares that sum to 1, in bits; what can't be adds nothing."""
    return -math.fsum(each * math.log2(each) for each in shares if each > 0)


def _choice(matrix: FaultMatrix, sets: FaultSets, rates: Mapping[str, float]) -> tuple[str | None, str]:
    posterior = marginals(matrix, sets)
    top = max(matrix.blocks, key=lambda block: posterior[block])
    if posterior[top] > CLEAR_FROM:
        return None, f"{top} stands far ahead of the others: look there before testing on."
    if not rates:
        return None, "No step is open that could tell more."
    best = max(rates, key=lambda step: rates[step])
    if rates[best] < LEAST_BIT_PER_MIN:
        return None, f"No open step tells {LEAST_BIT_PER_MIN} bit a minute: further tests hardly separate the suspects."
    return best, f"{best} tells most a minute, {rates[best]:.2f} bit of what still keeps the suspects apart."
