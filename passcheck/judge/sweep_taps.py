"""Did a pointer hesitate on its way, found by one tap a mark?"""

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from passcheck.judge.normal import normal_quantile

FAMILY_ALPHA: Final = 0.01
"""Share of smooth sweeps that are called hesitating, over all segments of one sweep."""
SHORTEST_SEGMENT_S: Final = 0.25
"""Segments shorter than this are below what taps can show."""
SWEEPS: Final = 3
AGREEING: Final = 2


@dataclass(frozen=True, slots=True)
class SweepTaps:
    """Time, evenness and speed of one sweep over m segments.

    `ratios` are m dt/T, 1 each for a steady pointer; `z` their distances from 1 in standard deviations. `segment`, from
    1, has the largest, and only it is named: its neighbours are pushed the other way. `threshold_z` is what it has to
    exceed; `floor_s` the smallest stall that could have been told apart from a hand's own scatter.
    """

    total_s: float
    u_total_s: float
    ratios: tuple[float, ...]
    z: tuple[float, ...]
    segment: int
    threshold_z: float
    floor_s: float
    hesitation: bool
    too_quick: bool

    @property
    def max_abs_z(self) -> float:
        """The largest distance, without its sign."""
        return abs(self.z[self.segment - 1])


def sweep_by_taps(
    taps_s: Sequence[float], tap_noise_s: float, family_alpha: float = FAMILY_ALPHA, arcs: Sequence[float] | None = None
) -> SweepTaps:
    """Compare the times between marks 0 .. m with each other.

    r_i = m dt_i/T, corrected for unequal `arcs` (any unit). First order sd: (s/d) sqrt(2 + 2/m²) inside and
    (s/d) sqrt((1 - 1/m)² + 1 + 1/m²) at the ends, d = T/m; a hesitation lies beyond z at 1 - alpha/(2m) (Bonferroni).
    `tap_noise_s` is the scatter of one tap. Raises ValueError for fewer than two segments or times that don't rise.
    """
    gaps = [later - time for time, later in pairwise(taps_s)]
    segments = len(gaps)
    if segments < 2 or not all(0 < gap < math.inf for gap in gaps):
        raise ValueError("a sweep needs taps at 3 marks or more, each later than the one before")
    if not 0 < tap_noise_s < math.inf or not 0 < family_alpha < 1:
        raise ValueError("a sweep needs a tap noise above 0 s and a family alpha between 0 and 1")
    total = taps_s[-1] - taps_s[0]
    ratios = [segments * gap / total * weight for gap, weight in zip(gaps, _weights(arcs, segments), strict=True)]
    sds = ratio_sds(segments, total / segments, tap_noise_s)
    z = [(ratio - 1) / sd for ratio, sd in zip(ratios, sds, strict=True)]
    segment = max(range(segments), key=lambda place: abs(z[place])) + 1
    threshold = normal_quantile(1 - family_alpha / (2 * segments))
    return SweepTaps(
        total_s=total,
        u_total_s=tap_noise_s * math.sqrt(2),
        ratios=tuple(ratios),
        z=tuple(z),
        segment=segment,
        threshold_z=threshold,
        floor_s=threshold * max(sds) * total / segments,
        hesitation=abs(z[segment - 1]) > threshold,
        too_quick=total / segments < SHORTEST_SEGMENT_S,
    )


def ratio_sds(segments: int, segment_s: float, tap_noise_s: float) -> list[float]:
    """Return the standard deviation of each ratio of a steady pointer whose segments take `segment_s`, first order."""
    share = 1 / segments
    inner = tap_noise_s / segment_s * math.sqrt(2 + 2 * share**2)
    end = tap_noise_s / segment_s * math.sqrt((1 - share) ** 2 + 1 + share**2)
    return [end, *[inner] * (segments - 2), end]


def speed_deg_s(angle_deg: float, total_s: float, u_total_s: float) -> tuple[float, float]:
    """Return the mean speed v = angle/T and u_v = v u_T/T, degrees a second. Raises ValueError for no time."""
    if not 0 < total_s < math.inf:
        raise ValueError("a speed needs a time above 0 s")
    speed = angle_deg / total_s
    return speed, abs(speed) * u_total_s / total_s


def confirmed_segment(named: Sequence[int | None]) -> int | None:
    """Return the segment that hesitated in two of three sweeps; None where none did so.

    A lapse of the hand looks like a stall followed by haste, and doesn't come back in the same place.
    """
    counts = Counter(segment for segment in named[-SWEEPS:] if segment is not None)
    segment, times = max(counts.items(), key=lambda each: each[1], default=(0, 0))
    return segment if times >= AGREEING else None


def _weights(arcs: Sequence[float] | None, segments: int) -> list[float]:
    """What makes segments of unequal arcs comparable: the mean arc over each."""
    if arcs is None:
        return [1.0] * segments
    if len(arcs) != segments or not all(0 < arc < math.inf for arc in arcs):
        raise ValueError(f"{segments} segments need as many arcs above 0")
    mean = math.fsum(arcs) / segments
    return [mean / arc for arc in arcs]
