"""Which trial on the unit is walked next, and what became of the last one?

The courses of steps that are answered by pairs of taps: one beside the press, one at the unit's answer. Marks and cues
are those of `timing`.
"""

from abc import ABC, abstractmethod
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Self

from passcheck.bench.timing import (
    EARLY,
    UNSETTLED,
    AwaitStart,
    AwaitStop,
    Cue,
    Done,
    Doubted,
    Interrupted,
    Mark,
    Tapped,
    TimedOut,
    Withdrawn,
)
from passcheck.judge.judgement import Judgement
from passcheck.judge.latency import Latency
from passcheck.judge.limits import Limits
from passcheck.judge.press_taps import HandTime, judge_presses_by_taps
from passcheck.judge.response_judged import hand_trials_wanted, judge_by_hand_alone, judge_by_reference
from passcheck.judge.response_taps import LOOKS
from passcheck.judge.screening import BLOCK, VOID_UNDER_S, WAIT_AFTER_LIMIT_S, too_many_voids


@dataclass(frozen=True, slots=True)
class Trial:
    """One trial on the unit, raw: the tap beside the press, and the tap at the answer, None where none came.

    `void` says why it was taken back or can't be trusted.
    """

    start_s: float
    stop_s: float | None
    void: str = ""

    @property
    def time_s(self) -> float | None:
        """From tap to tap, None for no response."""
        return None if self.stop_s is None else self.stop_s - self.start_s

    @property
    def is_void(self) -> bool:
        """Was it taken back, or tapped before anybody can have seen the answer?"""
        return bool(self.void) or (self.time_s is not None and self.time_s < VOID_UNDER_S)

    @property
    def is_valid(self) -> bool:
        """Does it enter the decision with a time?"""
        return self.time_s is not None and not self.is_void

    @property
    def deciding_s(self) -> float | None:
        """Its time as the judge takes it; a void one as nothing that a hand could have seen."""
        return 0.0 if self.is_void else self.time_s


@dataclass(frozen=True, slots=True)
class UnitCourse(ABC):
    """The root of the courses on the unit: trials of two taps, decided by `judgement` of each kind.

    `set_aside` are void trials that were too many: no valid one is ever dropped, or a slow one could be lost by tapping
    badly.
    """

    trials: tuple[Trial, ...] = ()
    set_aside: tuple[Trial, ...] = ()
    start_s: float | None = None
    said: str = ""

    @property
    @abstractmethod
    def wait_s(self) -> float:
        """How long an answer is waited for."""

    @property
    @abstractmethod
    def judgement(self) -> Judgement | None:
        """What the trials amount to; None while more are needed."""

    @property
    @abstractmethod
    def wanted(self) -> int:
        """After how many valid trials a decision is tried next."""

    @property
    def cue(self) -> Cue:
        """What to do now."""
        if self.start_s is not None:
            return AwaitStop(self.start_s + self.wait_s)
        if self.is_settled:
            return Done()
        return AwaitStart(self.valid + 1, self.wanted, self.said)

    @property
    def valid(self) -> int:
        """Trials of this course that enter the decision with a time."""
        return sum(one.is_valid for one in self.trials)

    @property
    def is_settled(self) -> bool:
        """Is there a judgement at a point at which one may be looked at?"""
        return self.judgement is not None

    def after(self, mark: Mark) -> Self:
        """Take a mark; one that doesn't fit the cue changes nothing."""
        match self.cue, mark:
            case _, Doubted(at_s, why):
                return self._doubted(at_s, why)
            case Done(), _:
                return self
            case _, Interrupted(why):
                return replace(self, start_s=None, said=why)
            case AwaitStart(), Tapped(at_s):
                return replace(self, start_s=at_s, said="")
            case AwaitStart(), Withdrawn(why) if self.trials and not self.trials[-1].is_void:
                return self._voided(why)
            case AwaitStop(), Tapped(at_s):
                return self._ended(at_s)
            case AwaitStop(), TimedOut():
                return self._ended(None)
            case _:
                return self

    def _doubted(self, at_s: float, why: str) -> Self:
        if at_s == self.start_s:
            return replace(self, start_s=None, said=why)
        last = self.trials[-1] if self.trials else None
        is_it = last is not None and not last.is_void and at_s in (last.start_s, last.stop_s)
        return self._voided(why) if is_it else self

    def _voided(self, why: str) -> Self:
        return replace(self, trials=(*self.trials[:-1], replace(self.trials[-1], void=why)), said=why)._settled_hand()

    def _ended(self, stop_s: float | None) -> Self:
        trials = (*self.trials, Trial(self.start_s or 0.0, stop_s))
        after = replace(self, trials=trials, start_s=None)._settled_hand()
        if after.said:
            return after
        return replace(after, said=EARLY if trials[-1].is_void else after.next_words())

    def _settled_hand(self) -> Self:
        """Set the void trials aside where they are too many."""
        void = tuple(one for one in self.trials if one.is_void)
        if not too_many_voids(len(void), self.valid):
            return self
        kept = tuple(one for one in self.trials if not one.is_void)
        return replace(self, trials=kept, set_aside=(*self.set_aside, *void), said=UNSETTLED)

    def next_words(self) -> str:
        """What may be said before the next trial; never how fast the last one was."""
        return ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ResponseCourse(UnitCourse):
    """Trials for one upper limit, decided with a reference block at 3, 5 and 8 valid trials.

    `earlier_s` are the trials since the last rework: they enter the same decision, and where they were a whole block
    already, a second one is walked to its end before it is looked at.
    """

    limit_s: float
    reference_s: tuple[float, ...]
    latency: Latency
    earlier_s: tuple[float | None, ...] = ()

    @property
    def wait_s(self) -> float:
        """Up to 2.5 s beyond the limit."""
        return self.limit_s + WAIT_AFTER_LIMIT_S

    @property
    def judgement(self) -> Judgement | None:
        """All trials since the last rework, judged beside the block."""
        times_s = (*self.earlier_s, *(one.deciding_s for one in self.trials))
        return judge_by_reference(times_s, self.reference_s, self.latency, self.limit_s)

    @property
    def wanted(self) -> int:
        """The next look."""
        return next(at for at in self._looks if at > self.valid)

    @property
    def is_settled(self) -> bool:
        """At a look only, or when the unit didn't answer: between looks nothing is decided."""
        unanswered = any(one.stop_s is None and not one.is_void for one in self.trials)
        return unanswered or (self.valid in self._looks and self.judgement is not None)

    @property
    def _looks(self) -> tuple[int, ...]:
        """Numbers of valid trials of this block after which a decision is tried."""
        earlier = sum(time_s is not None and time_s >= VOID_UNDER_S for time_s in self.earlier_s)
        return LOOKS if earlier < BLOCK else (BLOCK,)

    def next_words(self) -> str:
        """How many more may decide it, once a look was taken."""
        if self.is_settled or self.valid not in self._looks:
            return ""
        left = self.wanted - self.valid
        return f"{left} more trial{'s' if left != 1 else ''} may decide it"


@dataclass(frozen=True, slots=True, kw_only=True)
class HandCourse(UnitCourse):
    """Trials for limits of 1 s and more, judged by the stated error of a hand."""

    limits: Limits

    @property
    def wait_s(self) -> float:
        """Up to 2.5 s beyond the longer limit."""
        return longest_s(self.limits) + WAIT_AFTER_LIMIT_S

    @property
    def judgement(self) -> Judgement | None:
        """The worst of the trials, by hand."""
        return judge_by_hand_alone([one.time_s for one in self.trials if not one.is_void], self.limits)

    @property
    def wanted(self) -> int:
        """Three, or one where the limits are long."""
        return hand_trials_wanted(self.limits)


@dataclass(frozen=True, slots=True, kw_only=True)
class PressCourse(UnitCourse):
    """A row of presses that all have to be answered in time."""

    limit_s: float
    presses: int
    hand: HandTime

    @property
    def wait_s(self) -> float:
        """Up to 2.5 s beyond the limit."""
        return self.limit_s + WAIT_AFTER_LIMIT_S

    @property
    def judgement(self) -> Judgement | None:
        """All that were tapped, each by itself."""
        times_s = [one.time_s for one in self.trials if not one.is_void]
        return judge_presses_by_taps(times_s, self.hand, self.limit_s, self.presses)

    @property
    def wanted(self) -> int:
        """All of them."""
        return self.presses


def longest_s(limits: Limits) -> float:
    """The longest time that limits speak of, in seconds."""
    return float(max((end.value for end in (limits.low, limits.high) if end is not None), default=Decimal(0)))
