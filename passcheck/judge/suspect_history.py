"""What do confirmed repairs say about how often a block fails, and how often a step shows it?

Only repairs count in which the fault was found and the test afterwards passed.
"""

from collections.abc import Mapping
from typing import Final

WORD_WEIGHT: Final = 4.0
"""A word weighs as much as so many confirmed repairs."""
ALPHA: Final = 0.5
"""What every block begins with, in repairs: no block is impossible because it never failed yet."""


def smoothed_q(word_q: float, failed: int, repairs: int) -> float:
    """Return P(step fails | block faulty) after `repairs` of the block, in `failed` of which the step had failed.

    (c + a) / (n + a + b) with a + b = 4 and a = 4 times the word's probability (mean of a Beta distribution). Raises
    ValueError for more fails than repairs or a word's probability outside 0 .. 1.
    """
    if not 0 <= failed <= repairs or not 0 < word_q < 1:
        raise ValueError(f"{failed} fails in {repairs} repairs, starting from {word_q}, can't be")
    return (failed + WORD_WEIGHT * word_q) / (repairs + WORD_WEIGHT)


def prior_from_repairs(repairs: Mapping[str, int]) -> dict[str, float]:
    """Return each block's share of the confirmed repairs: (n_b + 1/2) / (N + K/2) (Dirichlet).

    `repairs` has an entry for every block, 0 where none was repaired yet. Raises ValueError for none or for a count
    below 0.
    """
    if not repairs or min(repairs.values()) < 0:
        raise ValueError("every block needs its number of confirmed repairs, 0 or more")
    total = sum(repairs.values()) + ALPHA * len(repairs)
    return {block: (count + ALPHA) / total for block, count in repairs.items()}
