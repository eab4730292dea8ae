"""Did the pointer travel evenly and in time, by one tap a mark?"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from passcheck.judge.judgement import Judgement, worst_of
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import show
from passcheck.judge.rounding import counted
from passcheck.judge.sweep_taps import SWEEPS, SweepTaps, confirmed_segment, sweep_by_taps
from passcheck.judge.tapped_words import FINEST, judge_tapped, margin, refuse_other_unit, without_number

Way = Literal["up", "down"]

TAP_NOISE_S: Final = 0.030
"""Scatter of one tap at a mark while the pointer is watched all the time; ours, an assumption."""
FEWEST_SWEEPS: Final = 2
"""Complete sweeps each way, before one that looks uneven asks for a third."""
WAYS: Final[tuple[Way, ...]] = ("up", "down")


@dataclass(frozen=True, slots=True)
class SweepRow:
    """Tap times of one sweep, s, one a mark from mark 0 on; fewer than the marks is a pointer that never got there."""

    taps_s: tuple[float, ...]
    way: Way


@dataclass(frozen=True, slots=True)
class _Travel:
    """What the complete sweeps of one way show about evenness."""

    way: Way
    sweeps: tuple[SweepTaps, ...]

    @property
    def is_settled(self) -> bool:
        """Two that look even, or agree, are enough; else a third decides."""
        if len(self.sweeps) < FEWEST_SWEEPS:
            return False
        return len(self.sweeps) >= SWEEPS or self.confirmed is not None or not any(map(_named, self.sweeps))

    @property
    def confirmed(self) -> tuple[str, int] | None:
        """What the pointer did, and in which segment, in two of three sweeps."""
        for deed in ("hesitated", "jumped"):
            named = [name[1] if (name := _named(each)) and name[0] == deed else None for each in self.sweeps]
            if (segment := confirmed_segment(named)) is not None:
                return deed, segment
        return None

    def words_of(self, deed: str, segment: int) -> str:
        """Say where, and in how many of the sweeps."""
        times = sum(_named(each) == (deed, segment) for each in self.sweeps)
        where = f"between mark {segment - 1} and mark {segment}"
        return f"{deed} {self.way} {where}, in {times} of {len(self.sweeps)} sweeps"

    @property
    def remarks(self) -> list[str]:
        """What was named and not confirmed."""
        seen = dict.fromkeys(name for each in self.sweeps if (name := _named(each)) is not None)
        return [self.words_of(*name) for name in seen]


def judge_sweeps(
    rows: Sequence[SweepRow], up: Limits, down: Limits, segments: int, tap_noise_s: float = TAP_NOISE_S
) -> Judgement | None:
    """Judge evenness and time of sweeps over `segments` of equal arcs; None where another sweep is needed.

    A pointer that missed a mark fails, and so does an unevenness in the same segment of two of three sweeps one way
    (a lapse of the hand doesn't come back in the same place). Each total has u = s sqrt(2), because a reaction that
    stays the same cancels; they aren't averaged, the worst one decides. Raises ValueError for taps that don't rise or
    fewer than two segments.
    """
    limits: dict[Way, Limits] = {"up": up, "down": down}
    for each in limits.values():
        refuse_other_unit(each, "s")
    short = next((row for row in rows if not is_complete(row, segments)), None)
    if short is not None:
        reached = max(1, len(short.taps_s))
        sentence = f"{short.way}: did not reach mark {reached} of {segments} in time."
        return without_number("fail", sentence, limits[short.way])
    travels = [_travel(rows, way, tap_noise_s) for way in WAYS]
    if not all(travel.is_settled for travel in travels):
        return None
    return _with_evenness(_judged_times(travels, limits), travels, segments)


def more_needed(rows: Sequence[SweepRow], segments: int, tap_noise_s: float = TAP_NOISE_S) -> Way | None:
    """Return the way of the next sweep: up and down in turn, then a third where two disagree; None when all are there.

    A sweep that isn't complete has failed already, so nothing is needed after it.
    """
    if not all(is_complete(row, segments) for row in rows):
        return None
    travels = [_travel(rows, way, tap_noise_s) for way in WAYS]
    rising, falling = (len(travel.sweeps) for travel in travels)
    if min(rising, falling) < FEWEST_SWEEPS:
        return "up" if rising <= falling else "down"
    return next((travel.way for travel in travels if not travel.is_settled), None)


def is_complete(row: SweepRow, segments: int) -> bool:
    """Was every mark tapped?"""
    return len(row.taps_s) > segments


def _travel(rows: Sequence[SweepRow], way: Way, tap_noise_s: float) -> _Travel:
    return _Travel(way, tuple(sweep_by_taps(row.taps_s, tap_noise_s) for row in rows if row.way == way))


def _named(sweep: SweepTaps) -> tuple[str, int] | None:
    """What the pointer seems to have done in the one segment that stands out; None for an even sweep.

    Of two segments each stands out by as much: the slow one is named, as a jump in one is a stall in the other.
    """
    if not sweep.hesitation or sweep.too_quick:
        return None
    slow = sweep.z[sweep.segment - 1] > 0
    if not slow and len(sweep.z) == 2:
        return "hesitated", 3 - sweep.segment
    return "hesitated" if slow else "jumped", sweep.segment


def _with_evenness(timed: Judgement, travels: Sequence[_Travel], segments: int) -> Judgement:
    uneven = [travel.words_of(*travel.confirmed) for travel in travels if travel.confirmed is not None]
    if uneven:
        sentence = f"The pointer {' and '.join(uneven)}. {timed.sentence}"
        return replace(timed, verdict="fail", sentence=sentence, outside=True)
    remarks = [f"Not confirmed: {remark}." for travel in travels for remark in travel.remarks]
    return replace(timed, sentence=" ".join([timed.sentence, *remarks, _unseen(travels, segments, not remarks)]))


def _judged_times(travels: Sequence[_Travel], limits: dict[Way, Limits]) -> Judgement:
    """The sweep that decides, the one with the least margin first among equals."""
    sweeps = [(travel.way, each) for travel in travels for each in travel.sweeps]
    sweeps.sort(key=lambda each: margin(each[1].total_s, limits[each[0]]))
    judged = []
    for way, each in sweeps:
        one = judge_tapped(each.total_s, each.u_total_s, float("inf"), limits[way], "at its first and last mark")
        judged.append(replace(one, sentence=f"{way}, {one.sentence}"))
    clean = sum(each.verdict == "pass" for each in judged)
    worst = worst_of(judged)
    return replace(
        worst, sentence=f"{clean} of {counted(len(judged), 'sweep')} in time; the one that decides: {worst.sentence}"
    )


def _unseen(travels: Sequence[_Travel], segments: int, smooth: bool) -> str:
    """Say which stall would have shown in half of the sweeps at best.

    A stall lengthens the mean segment too, so only the share 1 - 1/m of it stands out.
    """
    sweeps = [each for travel in travels for each in travel.sweeps]
    if any(each.too_quick for each in sweeps):
        shortest = min(each.total_s for each in sweeps) / segments
        return f"Taps can't show a stall in segments so short ({show(shortest, 's', 10 * FINEST)})."
    floor_s = max(each.floor_s for each in sweeps) / (1 - 1 / segments)
    unseen = f"stall under {show(floor_s, 's', 10 * FINEST)} would not have shown."
    return f"No hesitation; a {unseen}" if smooth else f"A {unseen}"
