"""How long does this bench take from a key to the change on its screen?

A person's reaction can't be told apart from it by taps, so it is filmed once a bench and again after a change of
terminal, monitor, keyboard or line.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

CLIPS_WANTED: Final = 5


@dataclass(frozen=True, slots=True)
class Latency:
    """Key to light in seconds with its standard uncertainty; `measured` is False where nobody filmed it."""

    value_s: float
    u_s: float
    measured: bool = True


UNMEASURED: Final = Latency(0.115, 0.049, measured=False)
"""Anything from 30 to 200 ms, as a rectangle: a narrower guess passes units that are late."""


def filmed_latency(frames: Sequence[float], fps: float) -> Latency:
    """Return mean and uncertainty from clips in which so many frames lie between key and change, at true `fps`.

    One clip: L = f/fps, u = 1/(fps sqrt 6), both ends a frame wide. Several: their mean, and the spread over sqrt(n)
    beside the u of one clip, because a camera and a screen that keep step don't average. Raises ValueError.
    """
    if not frames or not all(0 <= each < math.inf for each in frames) or not 0 < fps < math.inf:
        raise ValueError("a latency needs frames of 0 or more and frames a second above 0")
    count = len(frames)
    mean = math.fsum(frames) / count
    resolution = 1 / (fps * math.sqrt(6))
    if count == 1:
        return Latency(mean / fps, resolution)
    spread = math.sqrt(math.fsum((each - mean) ** 2 for each in frames) / (count - 1)) / fps
    return Latency(mean / fps, math.hypot(spread / math.sqrt(count), resolution))
