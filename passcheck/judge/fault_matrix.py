"""How likely does a step fail when given blocks are faulty?"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from typing import Final

WORDS: Final[dict[str, float]] = {"always": 0.95, "usually": 0.75, "sometimes": 0.35, "rarely": 0.08, "never": 0.01}
"""How often a step fails when a block is faulty: the words that stand for a probability, which is never 0 or 1."""
LEAK: Final = 0.03
"""How often a step fails with no listed block faulty: a slip of the probe, a fault of the fixture."""
NEVER: Final = WORDS["never"]
MOST_STEPS: Final = 2000
"""Far beyond any sequence."""


@dataclass(frozen=True, slots=True)
class FaultMatrix:
    """Blocks, steps and what ties them together; all probabilities lie in 0 .. 1, else ValueError.

    `prior` has one probability a block, `leak` one a step, `q` a row a block with one probability a step. `depends`
    names for each step those whose fail explains its own.
    """

    blocks: tuple[str, ...]
    steps: tuple[str, ...]
    prior: tuple[float, ...]
    q: tuple[tuple[float, ...], ...]
    leak: tuple[float, ...]
    depends: Mapping[str, frozenset[str]]

    def __post_init__(self) -> None:
        """Refuse rows that don't match, names that appear twice and what is no probability."""
        for what, names in (("block", self.blocks), ("step", self.steps)):
            if len(names) > MOST_STEPS:
                raise ValueError(f"{len(names)} {what}s; {MOST_STEPS} are the most")
            if not names or len(set(names)) != len(names):
                raise ValueError(f"at least one {what} is needed, and each only once")
        if len(self.prior) != len(self.blocks) or len(self.q) != len(self.blocks):
            raise ValueError("every block needs a prior and a row of q")
        if len(self.leak) != len(self.steps) or any(len(row) != len(self.steps) for row in self.q):
            raise ValueError("every step needs a leak and a q for each block")
        if not all(0 <= each <= 1 for each in (*self.prior, *self.leak, *(q for row in self.q for q in row))):
            raise ValueError("priors, leaks and q lie between 0 and 1")
        _refuse_unknown({step for pair in self.depends.items() for step in (pair[0], *pair[1])}, self.steps, "step")
        try:
            TopologicalSorter(self.depends).prepare()
        except CycleError as fault:
            raise ValueError(f"step {fault.args[1][0]} depends on itself") from None

    def behind(self, steps: Iterable[str]) -> frozenset[str]:
        """Return every step whose fail is explained by a fail of one of these, by whatever chain."""
        dependants: dict[str, list[str]] = {}
        for step, others in self.depends.items():
            for other in others:
                dependants.setdefault(other, []).append(step)
        found: set[str] = set()
        ahead = list(steps)
        while ahead:
            fresh = set(dependants.get(ahead.pop(), ())) - found
            found |= fresh
            ahead += fresh
        return frozenset(found)


def noisy_or(q: Sequence[float], leak: float) -> float:
    """Return P(step fails | these blocks are faulty) = 1 - (1 - leak) prod (1 - q): causes act alone (Pearl 1988)."""
    return 1 - (1 - leak) * math.prod(1 - each for each in q)


def fault_matrix(
    blocks: Sequence[str],
    steps: Sequence[str],
    prior: Mapping[str, float],
    q: Mapping[str, Mapping[str, float]],
    leak: Mapping[str, float] | None = None,
    depends: Mapping[str, Sequence[str]] | None = None,
) -> FaultMatrix:
    """Build a matrix from names; a q that isn't given is `never`, a leak that isn't given 0.03.

    Raises ValueError for an unknown name, a block without a prior, or what is no probability.
    """
    leak = leak or {}
    _refuse_unknown(set(prior) | set(q), blocks, "block")
    _refuse_unknown(set(leak) | {step for row in q.values() for step in row}, steps, "step")
    without = [block for block in blocks if block not in prior]
    if without:
        raise ValueError(f"block {without[0]} has no prior")
    return FaultMatrix(
        tuple(blocks),
        tuple(steps),
        tuple(prior[block] for block in blocks),
        tuple(tuple(q.get(block, {}).get(step, NEVER) for step in steps) for block in blocks),
        tuple(leak.get(step, LEAK) for step in steps),
        {step: frozenset(others) for step, others in (depends or {}).items()},
    )


def _refuse_unknown(names: set[str], known: Sequence[str], what: str) -> None:
    unknown = sorted(names - set(known))
    if unknown:
        raise ValueError(f"there is no {what} {unknown[0]}")
