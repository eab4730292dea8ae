"""Did skewed readings change from before to after?"""

from collections.abc import Sequence
from typing import Final

from passcheck.judge.paired import paired

MOST_PAIRS: Final = 200


def signed_rank_p(before: Sequence[float], after: Sequence[float]) -> float:
    """Return the exact two-sided p of Wilcoxon's signed-rank test; no shape of the scatter is assumed (Wilcoxon 1945).

    Pairs without a difference are left out, equal differences share their mean rank, and all 2^n signs are counted by
    adding one rank after the other. With no difference at all p is 1. Differences are compared to twelve figures, so
    that decimal readings tie as on paper. Raises ValueError for rows that don't match or more than 200 pairs.
    """
    differences = [float(f"{each:.12g}") for each in paired(before, after)]
    scale = max(map(abs, (*before, *after)), default=0.0)
    differences = [each for each in differences if abs(each) > 1e-12 * scale]
    if len(differences) > MOST_PAIRS:
        raise ValueError(f"{len(differences)} pairs; up to {MOST_PAIRS} are counted exactly")
    ranks = _doubled_ranks([abs(each) for each in differences])
    seen = sum(rank for rank, each in zip(ranks, differences, strict=True) if each > 0)
    extreme = min(seen, sum(ranks) - seen)
    ways = [1] + [0] * extreme
    for rank in ranks:
        for total in range(extreme, rank - 1, -1):
            ways[total] += ways[total - rank]
    return min(1.0, 2 * (sum(ways) / (1 << len(ranks))))


def _doubled_ranks(sizes: Sequence[float]) -> list[int]:
    """Twice the rank of each size, a whole number even where equal sizes share a mean rank."""
    ordered = sorted(sizes)
    first = {size: place for place, size in reversed(list(enumerate(ordered)))}
    return [2 * first[size] + ordered.count(size) + 1 for size in sizes]
