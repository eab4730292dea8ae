"""Which tap of a row comes next, and what do the rows amount to?

Pure courses beside those of `timing`: a pointer tapped at its marks, a lamp at its flashes. All times are seconds of
one monotonic clock. No cue holds a running time or a rate: a hand that knows them bends the next row.
"""

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from passcheck.bench.timing import Done, Doubted, Interrupted, Mark, Tapped, TimedOut
from passcheck.judge.blink import FEWEST_TAPS, LOCKING_IN
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.rate_taps import judge_rate_by_taps, stopped_flashing, too_few_count
from passcheck.judge.screening import WAIT_AFTER_LIMIT_S
from passcheck.judge.sweep_judged import TAP_NOISE_S, SweepRow, Way, judge_sweeps, more_needed

RATE_TAPS: Final = LOCKING_IN + 12
FEWEST_RATE_TAPS: Final = LOCKING_IN + FEWEST_TAPS
"""With fewer the lamp stopped flashing before it had a rate."""
SHORTEST_WAIT_S: Final = 5.0
WAIT_PERIODS: Final = 4
"""A lamp that is dark for so many periods has stopped."""


@dataclass(frozen=True, slots=True)
class AwaitTap:
    """Wait for tap `number`, from 1, of about `of` in a row: "up", "down" or "flash".

    At `until_s` mark the time-out; None while nothing was tapped in this row. `said` is why rows were void, or "".
    """

    number: int
    of: int
    row: str
    until_s: float | None
    said: str = ""


RowCue = AwaitTap | Done


@dataclass(frozen=True, slots=True)
class SweepCourse:
    """Sweeps up and down in turn, one tap a mark; `begun` are the taps of the row at hand, `voided` is for the record.

    A row ends at its last mark, or as incomplete 2.5 s after its limit; a tap later than that is no part of it.
    """

    up: Limits
    down: Limits
    segments: int
    tap_noise_s: float = TAP_NOISE_S
    rows: tuple[SweepRow, ...] = ()
    begun: tuple[float, ...] = ()
    voided: tuple[SweepRow, ...] = ()
    said: str = ""

    @property
    def cue(self) -> RowCue:
        """What to do now."""
        way = self._way
        if way is None:
            return Done()
        return AwaitTap(len(self.begun) + 1, self.segments + 1, way, self._until_s(way), self.said)

    @property
    def judgement(self) -> Judgement | None:
        """What the sweeps amount to; None until they are settled."""
        return judge_sweeps(self.rows, self.up, self.down, self.segments, self.tap_noise_s)

    def after(self, mark: Mark) -> "SweepCourse":
        """Take a mark; one that doesn't fit the cue changes nothing."""
        if isinstance(mark, Doubted):
            taken = (*self.begun, *(self.rows[-1].taps_s if self.rows else ()))
            return self._begun_anew(mark.why) if mark.at_s in taken else self
        way = self._way
        if way is None:
            return self
        until_s = self._until_s(way)
        match mark:
            case Interrupted(why):
                return self._begun_anew(why)
            case TimedOut():  # before the first tap it is the person who says that nothing moves
                return self._ended(self.begun, way)
            case Tapped(at_s) if until_s is not None and at_s > until_s:
                return self._ended(self.begun, way)
            case Tapped(at_s) if not self.begun or at_s > self.begun[-1]:
                return self._tapped((*self.begun, at_s), way)
            case _:
                return self

    @property
    def _way(self) -> Way | None:
        return more_needed(self.rows, self.segments, self.tap_noise_s)

    def _until_s(self, way: Way) -> float | None:
        limits = self.up if way == "up" else self.down
        limit = limits.high or limits.low
        if not self.begun or limit is None:
            return None
        return self.begun[0] + float(limit.value) + WAIT_AFTER_LIMIT_S

    def _begun_anew(self, why: str) -> "SweepCourse":
        begun = (SweepRow(self.begun, self._way),) if self.begun and self._way else ()
        return replace(self, rows=(), begun=(), voided=(*self.voided, *self.rows, *begun), said=why)

    def _tapped(self, taps_s: tuple[float, ...], way: Way) -> "SweepCourse":
        if len(taps_s) > self.segments:
            return self._ended(taps_s, way)
        return replace(self, begun=taps_s, said="")

    def _ended(self, taps_s: tuple[float, ...], way: Way) -> "SweepCourse":
        return replace(self, rows=(*self.rows, SweepRow(taps_s, way)), begun=(), said="")


@dataclass(frozen=True, slots=True)
class RateCourse:
    """One tap at every `every`-th flash; 14 will do, or as many as came when the lamp flashed no more (`has_ended`).

    `voided` are rows that were interrupted, for the record.
    """

    limits: Limits
    every: int
    taps_s: tuple[float, ...] = ()
    voided: tuple[tuple[float, ...], ...] = ()
    said: str = ""
    has_ended: bool = False

    @property
    def cue(self) -> RowCue:
        """What to do now; taps that were too many make the row longer."""
        if self.judgement is not None:
            return Done()
        number = len(self.taps_s) + 1
        return AwaitTap(number, max(RATE_TAPS, number), "flash", self._until_s, self.said)

    @property
    def judgement(self) -> Judgement | None:
        """What the taps amount to; None until they are settled."""
        count = len(self.taps_s)
        if self.has_ended and count < FEWEST_RATE_TAPS:
            return stopped_flashing(count, self.limits, self.every)
        if not self.has_ended and count < RATE_TAPS:
            return None
        judged = judge_rate_by_taps(self.taps_s, self.limits, self.every)
        if not self.has_ended:
            return judged
        if judged is None:
            return too_few_count(count, self.limits, self.every)
        return replace(judged, sentence=f"{judged.sentence} No tap came after number {count}.")

    def after(self, mark: Mark) -> "RateCourse":
        """Take a mark; one that doesn't fit the cue changes nothing."""
        if isinstance(mark, Doubted) and mark.at_s in self.taps_s:
            return self._begun_anew(mark.why)
        if self.judgement is not None:
            return self
        until_s = self._until_s
        match mark:
            case Interrupted(why):
                return self._begun_anew(why)
            case TimedOut():  # before the first tap it is the person who says that it never flashed
                return replace(self, has_ended=True, said="")
            case Tapped(at_s) if until_s is not None and at_s > until_s:
                return replace(self, has_ended=True, said="")
            case Tapped(at_s) if not self.taps_s or at_s > self.taps_s[-1]:
                return replace(self, taps_s=(*self.taps_s, at_s), said="")
            case _:
                return self

    def _begun_anew(self, why: str) -> "RateCourse":
        begun = (self.taps_s,) if self.taps_s else ()
        return replace(self, taps_s=(), voided=(*self.voided, *begun), said=why, has_ended=False)

    @property
    def _until_s(self) -> float | None:
        """Four tapped periods at the low limit after the last tap; without one, four of the longest so far."""
        if not self.taps_s:
            return None
        low = self.limits.low
        if low is not None and low.value > 0:
            period_s = self.every / float(low.value)
        else:
            period_s = max((later - time for time, later in pairwise(self.taps_s)), default=0.0)
        return self.taps_s[-1] + max(SHORTEST_WAIT_S, WAIT_PERIODS * period_s)
