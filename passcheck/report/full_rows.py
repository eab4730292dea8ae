"""Which of the boxes of a form stand in the same row?"""

from collections.abc import Iterable
from typing import Final

LEAST: Final = 0.05
"""Narrower than this a box takes no pen."""
_ROUNDING: Final = 1e-6


def full_rows(shares: Iterable[float]) -> list[list[tuple[int, float]]]:
    """Rows of places and shares: a row is full when the shares make a whole."""
    rows: list[list[tuple[int, float]]] = []
    taken = 1.0
    for place, share in enumerate(shares):
        room = min(max(share, LEAST), 1.0)
        if not rows or taken + room > 1.0 + _ROUNDING:
            rows.append([])
            taken = 0.0
        taken += room
        rows[-1].append((place, room))
    return rows
