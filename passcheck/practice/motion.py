"""How does what moves, blinks or counts on a unit stand at a moment, and when does it change next?

Pure functions of seconds. A pointer's way is told by the moments at which it passes places spread evenly over its arc;
where one of them comes late it halted in the middle between two.
"""

from bisect import bisect_right
from collections.abc import Sequence as Many
from itertools import pairwise
from typing import Final

from passcheck.practice.shows import Responds

PICTURES: Final = 24
"""Places at which a moving pointer is drawn; a multiple of 3 and 4, so that the usual marks are among them."""
HALT_SHARE: Final = 0.25  # an eye sees a halt that takes this share of a segment's own time


def pointer_share(passes_s: Many[float], at_s: float) -> float:
    """Return how much of its way the pointer has gone, 0 to 1."""
    if at_s <= passes_s[0]:
        return 0.0
    if at_s >= passes_s[-1]:
        return 1.0
    own_s, segments = _own_s(passes_s), len(passes_s) - 1
    segment = bisect_right(passes_s, at_s) - 1
    into_s = at_s - passes_s[segment]
    halt_s = passes_s[segment + 1] - passes_s[segment] - own_s
    moved_s = min(into_s, max(own_s / 2, into_s - halt_s))
    return (segment + moved_s / own_s) / segments


def reaches_s(passes_s: Many[float], share: float) -> float:
    """Return the moment at which the pointer gets to this share of its way."""
    segments = len(passes_s) - 1
    segment = min(int(share * segments), segments - 1)
    part, own_s = share * segments - segment, _own_s(passes_s)
    halt_s = passes_s[segment + 1] - passes_s[segment] - own_s
    return passes_s[segment] + part * own_s + (halt_s if part > 0.5 else 0.0)


def next_picture_s(passes_s: Many[float], at_s: float) -> float | None:
    """Return the next moment after `at_s` at which the pointer is worth drawing; None when it rests."""
    pictures = (reaches_s(passes_s, nth / PICTURES) for nth in range(1, PICTURES + 1))
    return next((one for one in pictures if one > at_s), None)


def halts_at(passes_s: Many[float]) -> float | None:
    """Return the share of its way at which an eye sees the pointer halt; None where it runs through."""
    gaps_s = [later - time for time, later in pairwise(passes_s)]
    longest = max(range(len(gaps_s)), key=gaps_s.__getitem__)
    if gaps_s[longest] - _own_s(passes_s) < HALT_SHARE * _own_s(passes_s):
        return None
    return (longest + 0.5) / len(gaps_s)


def blinks_lit(rate_hz: float, at_s: float) -> bool:
    """Is a lamp lit that blinks at this rate, lit in the first half of each period?"""
    return rate_hz > 0 and (at_s * rate_hz) % 1 < 0.5


def next_blink_s(rate_hz: float, at_s: float) -> float | None:
    """Return the next moment at which it goes on or off; None for a lamp that never does."""
    return (int(at_s * rate_hz * 2 + 1e-9) + 1) / (2 * rate_hz) if rate_hz > 0 else None


def delay_of(responds: Responds, nth: int) -> float | None:
    """Return how long the nth press, from 0, is answered after; None for never."""
    return responds.delays_s[nth % len(responds.delays_s)]


def counted(responds: Responds, presses: int) -> int:
    """Return how many of so many presses the unit has counted: a dead spot not at all, a bounce once too often."""
    answered = sum(delay_of(responds, nth) is not None for nth in range(presses))
    return answered + presses * responds.twice // len(responds.delays_s)


def _own_s(passes_s: Many[float]) -> float:
    """What a segment takes without a halt."""
    return max(1e-6, min(later - time for time, later in pairwise(passes_s)))
