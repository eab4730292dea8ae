"""Which blocks are the likely culprits, after the steps that passed and failed?

Evidence is a mapping from a step to the probability that it is out of its limits: 1 for a fail, 0 for a pass, between
them for a reading in doubt. A step that wasn't run has no entry and no weight.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

from passcheck.judge.fault_matrix import FaultMatrix, noisy_or

MOST_FAULTS: Final = 3
"""Faults at once; sets of four are rarer than anything that the declared numbers are good for."""
SURE_FAIL: Final = 0.95
"""From this probability on a step counts as failed for the steps that depend on it: where a reading gets `fail`."""
MOST_WORK: Final = 2_000_000
"""Sets times steps, some seconds; twelve blocks and thirty steps are 9000."""


@dataclass(frozen=True, slots=True)
class FaultSets:
    """Every set of up to three faulty blocks (as places in the matrix) with its probability after the evidence."""

    members: tuple[tuple[int, ...], ...]
    probability: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Suspects:
    """Blocks with their probabilities of being faulty, ranked, and what each step says about each.

    `bits[block][step]` is log2 of how much likelier the outcome is with this block alone faulty than with none:
    positive against the block, negative for it, infinite for what can't be otherwise. Steps in `explained` failed or
    may have failed because another one did; they have no weight and 0 bit.
    """

    posterior: Mapping[str, float]
    ranking: tuple[str, ...]
    bits: Mapping[str, Mapping[str, float]]
    explained: frozenset[str]


def suspects(matrix: FaultMatrix, evidence: Mapping[str, float], sets: FaultSets | None = None) -> Suspects:
    """Rank blocks by P(faulty | outcomes), at least one being faulty; equal ones keep the order of the matrix.

    `sets` are those of this matrix and evidence, where they were weighed already. Raises ValueError for an unknown
    step, what is no probability, or outcomes that this matrix says can't be.
    """
    explained = explained_steps(matrix, evidence)
    posterior = marginals(matrix, sets or fault_sets(matrix, evidence))
    ranking = sorted(matrix.blocks, key=lambda block: -posterior[block])
    bits = {
        block: {
            step: 0.0 if step in explained else evidence_bits(row[place], matrix.leak[place], evidence[step])
            for place, step in enumerate(matrix.steps)
            if step in evidence
        }
        for block, row in zip(matrix.blocks, matrix.q, strict=True)
    }
    return Suspects(posterior, tuple(ranking), bits, explained)


def fault_sets(matrix: FaultMatrix, evidence: Mapping[str, float]) -> FaultSets:
    """Weigh every set F of one to three blocks: prod pi prod (1 - pi) prod over steps of P(outcome | F); the sum is 1.

    An outcome in doubt counts p P(fail | F) + (1 - p) P(pass | F): virtual evidence (Pearl 1988).
    """
    _refuse_bad(matrix, evidence)
    if _sets_of(len(matrix.blocks)) * (len(evidence) + 1) > MOST_WORK:
        raise ValueError(f"{len(matrix.blocks)} blocks are too many to weigh in sets of three")
    members = tuple(
        each
        for size in range(1, min(MOST_FAULTS, len(matrix.blocks)) + 1)
        for each in combinations(range(len(matrix.blocks)), size)
    )
    faulty, sound = ([_log(pi) for pi in matrix.prior], [_log(1 - pi) for pi in matrix.prior])
    weights = [
        math.fsum(faulty[place] if place in each else sound[place] for place in range(len(sound))) for each in members
    ]
    explained = explained_steps(matrix, evidence)
    for place, step in enumerate(matrix.steps):
        if step in evidence and step not in explained:
            out = evidence[step]
            shows = (out * fails + (1 - out) * (1 - fails) for fails in fail_given(matrix, place, members))
            weights = [weight + _log(likely) for weight, likely in zip(weights, shows, strict=True)]
    largest = max(weights)
    if largest == -math.inf:
        raise ValueError("this matrix says that such outcomes can't be; a q, leak or prior of 0 or 1 is too sure")
    shares = [math.exp(weight - largest) for weight in weights]
    total = math.fsum(shares)
    return FaultSets(members, tuple(share / total for share in shares))


def fail_given(matrix: FaultMatrix, place: int, members: Sequence[tuple[int, ...]]) -> list[float]:
    """Return P(this step fails | F) for every set F."""
    survives = [1 - row[place] for row in matrix.q]
    quiet = 1 - matrix.leak[place]
    return [1 - quiet * math.prod([survives[block] for block in each]) for each in members]


def marginals(matrix: FaultMatrix, sets: FaultSets) -> dict[str, float]:
    """Return the probability of each block, the sum over the sets that contain it."""
    sums: list[list[float]] = [[] for _ in matrix.blocks]
    for members, probability in zip(sets.members, sets.probability, strict=True):
        for block in members:
            sums[block].append(probability)
    return {block: min(1.0, math.fsum(each)) for block, each in zip(matrix.blocks, sums, strict=True)}


def explained_steps(matrix: FaultMatrix, evidence: Mapping[str, float]) -> frozenset[str]:
    """Return the steps with an outcome that depend on a failed one: a dead rail fails what is behind it only once."""
    return behind_failed(matrix, evidence) & evidence.keys()


def behind_failed(matrix: FaultMatrix, evidence: Mapping[str, float]) -> frozenset[str]:
    """Return every step, run or not, whose fail a failed step would explain."""
    return matrix.behind(step for step, out in evidence.items() if out >= SURE_FAIL)


def evidence_bits(q: float, leak: float, out: float) -> float:
    """Return log2 P(outcome | this block alone faulty) / P(outcome | none faulty), in bits.

    For a fail log2 of [1 - (1 - l)(1 - q)] / l, for a pass log2 of (1 - q), in doubt both by their probability `out`.
    """
    faulty = noisy_or([q], leak)
    alone, none = (_log(out * fails + (1 - out) * (1 - fails)) for fails in (faulty, leak))
    return (alone - none) / math.log(2) if alone != none else 0.0


def _sets_of(blocks: int) -> int:
    return sum(math.comb(blocks, size) for size in range(1, MOST_FAULTS + 1))


def _log(probability: float) -> float:
    return math.log(probability) if probability > 0 else -math.inf


def _refuse_bad(matrix: FaultMatrix, evidence: Mapping[str, float]) -> None:
    unknown = sorted(set(evidence) - set(matrix.steps))
    if unknown:
        raise ValueError(f"there is no step {unknown[0]}")
    if not all(0 <= out <= 1 for out in evidence.values()):
        raise ValueError("an outcome is fail, pass or the probability of being out of limits, between 0 and 1")
