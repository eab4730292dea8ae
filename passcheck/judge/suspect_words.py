"""How are suspects told to a technician, without a number that sounds surer than it is?"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from passcheck.judge.fault_matrix import WORDS, FaultMatrix
from passcheck.judge.suspects import SURE_FAIL, FaultSets, suspects

BENCH: Final = "BENCH"
"""Leads, dummies and supply: they can upset any step."""
NOT_LISTED: Final = "a fault not listed"
"""Whatever the sequence doesn't describe; it says nothing on any step, so it ranks high when nothing else fits."""
Q_BENCH: Final = WORDS["sometimes"]
Q_NOT_LISTED: Final = 0.5
PRIOR_OUTSIDE: Final = 0.05
"""Of each of these two before any history; an assumption."""
RELATIVE: Final = "The order is relative to what the sequence declares about its blocks, not a measured chance."
TELLING_BITS: Final = 0.5
"""What moves a suspect less than this is left out of its sentence."""
MOST_BITS: Final = 99.9


@dataclass(frozen=True, slots=True)
class ToldSuspect:
    """A suspect with its place, the bits by which it leads the next one (None for the last), and its sentence."""

    place: int
    name: str
    ahead_bit: float | None
    sentence: str


def told_suspects(
    matrix: FaultMatrix,
    evidence: Mapping[str, float],
    titles: Mapping[str, str] | None = None,
    outside_prior: tuple[float, float] = (PRIOR_OUTSIDE, PRIOR_OUTSIDE),
    sets: FaultSets | None = None,
) -> tuple[ToldSuspect, ...]:
    """Rank the blocks together with the bench and a fault not listed, each with what speaks for and against it.

    `titles` are what a technician calls blocks and steps; `outside_prior` those of the bench and of a fault not listed,
    once history has them; `sets` what `with_outsiders` of all this weighs, where that was done already. No percentage
    appears. Raises ValueError as `suspects` does.
    """
    whole = with_outsiders(matrix, outside_prior)
    found = suspects(whole, evidence, sets)
    names = titles or {}
    told = []
    for place, block in enumerate(found.ranking, start=1):
        following = found.posterior[found.ranking[place]] if place < len(found.ranking) else None
        ahead = None if following is None else _bits(found.posterior[block], following)
        weights = {step: bit for step, bit in found.bits[block].items() if step not in found.explained}
        sentence = _sentence(place, names.get(block, block), ahead, _reasons(weights, evidence, names))
        told.append(ToldSuspect(place, block, ahead, sentence))
    return tuple(told)


def with_outsiders(matrix: FaultMatrix, prior: tuple[float, float] = (PRIOR_OUTSIDE, PRIOR_OUTSIDE)) -> FaultMatrix:
    """Return the matrix with two more rows, the bench and a fault not listed; a name that stands already is kept."""
    rows = ((BENCH, prior[0], Q_BENCH), (NOT_LISTED, prior[1], Q_NOT_LISTED))
    new = [row for row in rows if row[0] not in matrix.blocks]
    return replace(
        matrix,
        blocks=(*matrix.blocks, *(name for name, _prior, _q in new)),
        prior=(*matrix.prior, *(pi for _name, pi, _q in new)),
        q=(*matrix.q, *((q,) * len(matrix.steps) for _name, _prior, q in new)),
    )


def _sentence(place: int, name: str, ahead: float | None, reasons: str) -> str:
    lead = "" if ahead is None else f", {min(ahead, MOST_BITS):.1f} bit ahead of the next"
    return f"Suspect {place}: {name}{lead}{': ' + reasons if reasons else ''}."


def _reasons(bits: Mapping[str, float], evidence: Mapping[str, float], names: Mapping[str, str]) -> str:
    """Name the telling steps with their outcome and bits, the weightiest first."""
    telling = sorted(
        (step for step in bits if abs(bits[step]) >= TELLING_BITS), key=lambda step: -round(abs(bits[step]), 6)
    )
    return ", ".join(
        f"{names.get(step, step)} {_outcome(evidence[step])} ({max(-MOST_BITS, min(MOST_BITS, bits[step])):+.1f} bit)"
        for step in telling
    )


def _outcome(out: float) -> str:
    return "failed" if out >= SURE_FAIL else "passed" if out <= 1 - SURE_FAIL else "in doubt"


def _bits(first: float, second: float) -> float:
    return math.log2(first / second) if second > 0 else math.inf
