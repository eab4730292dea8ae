"""Which trial is walked next, and what became of the last one?

Pure courses of trials. Whoever walks one gives it marks (a tap, the moment a light was drawn, a time-out, an
interruption) and does what its cue says; screens and a simulated hand walk the same code. All times are seconds of one
monotonic clock. No cue holds a running time: a hand that knows its times bends the next one.
"""

from dataclasses import dataclass, replace
from typing import Final

from passcheck.judge.latency import Latency
from passcheck.judge.press_times import PressTimes, judge_press_times
from passcheck.judge.response_taps import LOOKS, TapFinding, decide_by_taps
from passcheck.judge.screening import BLOCK, VOID_UNDER_S, VOIDS_PER_BLOCK, WAIT_AFTER_LIMIT_S

EARLY: Final = "tapped before it was seen"
NOT_STOPPED: Final = "not tapped in time"
UNSETTLED: Final = f"more than {VOIDS_PER_BLOCK} of {BLOCK} trials were void: the hand isn't settled, begin again"


@dataclass(frozen=True, slots=True)
class Tapped:
    """The tap key's byte was read."""

    at_s: float


@dataclass(frozen=True, slots=True)
class Drawn:
    """The light stood on the screen: when it was drawn, not when it was asked for."""

    at_s: float


@dataclass(frozen=True, slots=True)
class TimedOut:
    """The cue's time went by without a tap."""

    at_s: float


@dataclass(frozen=True, slots=True)
class Interrupted:
    """Resize, suspension, lost focus or a doubtful tap: what was begun is void."""

    why: str


Mark = Tapped | Drawn | TimedOut | Interrupted


@dataclass(frozen=True, slots=True)
class AwaitStart:
    """Wait for the first tap of trial `number` of about `of`; `said` is what became of the last one, or ""."""

    number: int
    of: int
    said: str = ""


@dataclass(frozen=True, slots=True)
class Light:
    """Draw the light at this moment and mark it as drawn; a tap before that is taken as one."""

    at_s: float


@dataclass(frozen=True, slots=True)
class AwaitStop:
    """Wait for the second tap until this moment, then mark the time-out."""

    until_s: float


@dataclass(frozen=True, slots=True)
class Done:
    """Nothing more is to be walked."""


Cue = AwaitStart | Light | AwaitStop | Done


@dataclass(frozen=True, slots=True)
class ReferenceTrial:
    """One trial on our own screen, raw: both taps and the light between them; `void` says why it doesn't count."""

    programmed_s: float
    start_s: float
    drawn_s: float | None
    stop_s: float | None
    void: str = ""

    @property
    def beyond_delay_s(self) -> float | None:
        """Time from tap to tap less the delay that was really drawn: what the judge takes of this trial."""
        if self.void or self.stop_s is None or self.drawn_s is None:
            return None
        return self.stop_s - self.drawn_s


@dataclass(frozen=True, slots=True)
class ReferenceCourse:
    """A block of reference trials; `delays_s` are those still to be walked, a void one is walked again at the end."""

    delays_s: tuple[float, ...]
    limit_s: float
    all_delays_s: tuple[float, ...] = ()
    trials: tuple[ReferenceTrial, ...] = ()
    begun_again: tuple[ReferenceTrial, ...] = ()  # trials of blocks that were given up, kept for the record
    start_s: float | None = None
    drawn_s: float | None = None
    said: str = ""

    @property
    def cue(self) -> Cue:
        """What to do now."""
        if not self.delays_s:
            return Done()
        if self.start_s is None:
            walked = sum(not one.void for one in self.trials)
            return AwaitStart(walked + 1, walked + len(self.delays_s), self.said)
        if self.drawn_s is None:
            return Light(self.start_s + self.delays_s[0])
        return AwaitStop(self.start_s + self.limit_s + WAIT_AFTER_LIMIT_S)

    @property
    def beyond_delays_s(self) -> tuple[float, ...]:
        """What the judge takes of the block, in the order walked."""
        return tuple(it for one in self.trials if (it := one.beyond_delay_s) is not None)

    def after(self, mark: Mark) -> "ReferenceCourse":
        """Take a mark; one that doesn't fit the cue changes nothing."""
        match self.cue, mark:
            case Done(), _:
                return self
            case _, Interrupted(why):
                return replace(self, start_s=None, drawn_s=None, said=why)
            case AwaitStart(), Tapped(at_s):
                return replace(self, start_s=at_s, said="", all_delays_s=self.all_delays_s or self.delays_s)
            case Light(), Drawn(at_s):
                return replace(self, drawn_s=at_s)
            case Light(), Tapped(at_s):
                return self._ended(at_s, EARLY)
            case AwaitStop(), Tapped(at_s):
                is_early = self.start_s is not None and at_s - self.start_s < VOID_UNDER_S
                return self._ended(at_s, EARLY if is_early or at_s < (self.drawn_s or 0.0) else "")
            case AwaitStop(), TimedOut():
                return self._ended(None, NOT_STOPPED)
            case _:
                return self

    def _ended(self, stop_s: float | None, void: str) -> "ReferenceCourse":
        delay_s, *left = self.delays_s
        trial = ReferenceTrial(delay_s, self.start_s or 0.0, self.drawn_s, stop_s, void)
        walked = (*self.trials, trial)
        after = replace(self, trials=walked, start_s=None, drawn_s=None, said=void)
        if not void:
            return replace(after, delays_s=tuple(left))
        if sum(bool(one.void) for one in walked[-BLOCK:]) > VOIDS_PER_BLOCK:
            given_up = (*self.begun_again, *walked)
            return replace(after, delays_s=self.all_delays_s, trials=(), begun_again=given_up, said=UNSETTLED)
        return replace(after, delays_s=(*left, delay_s))


@dataclass(frozen=True, slots=True)
class Trial:
    """One trial on the unit, raw: the tap beside the press, and the tap at the answer, None where none came."""

    start_s: float
    stop_s: float | None

    @property
    def time_s(self) -> float | None:
        """From tap to tap, None for no response."""
        return None if self.stop_s is None else self.stop_s - self.start_s

    @property
    def is_void(self) -> bool:
        """Was it tapped before anybody can have seen the answer?"""
        return self.time_s is not None and self.time_s < VOID_UNDER_S

    @property
    def is_valid(self) -> bool:
        """Does it enter the decision with a time?"""
        return self.time_s is not None and not self.is_void


@dataclass(frozen=True, slots=True)
class UnitCourse:
    """Trials on the unit for one upper limit, decided with a reference block at 3, 5 and 8 valid trials.

    `earlier_s` are the trials since the last rework: they enter the same decision, and where they were a whole block
    already, a second one is walked to its end before it is looked at. `set_aside` are void trials that were too many:
    no valid one is ever dropped, or a slow one could be lost by tapping badly.
    """

    limit_s: float
    reference_s: tuple[float, ...]
    latency: Latency
    earlier_s: tuple[float | None, ...] = ()
    trials: tuple[Trial, ...] = ()
    set_aside: tuple[Trial, ...] = ()
    start_s: float | None = None
    said: str = ""

    @property
    def finding(self) -> TapFinding:
        """What the trials so far amount to; "more trials" while there is none."""
        return decide_by_taps(self.times_s, self.reference_s, self.latency, self.limit_s)

    @property
    def times_s(self) -> tuple[float | None, ...]:
        """Every trial that enters the decision."""
        return (*self.earlier_s, *(one.time_s for one in self.trials))

    @property
    def cue(self) -> Cue:
        """What to do now."""
        if self.start_s is not None:
            return AwaitStop(self.start_s + self.limit_s + WAIT_AFTER_LIMIT_S)
        if self._is_settled:
            return Done()
        valid = self._valid
        return AwaitStart(valid + 1, next(at for at in self._looks if at > valid), self.said)

    @property
    def _valid(self) -> int:
        return sum(one.is_valid for one in self.trials)

    @property
    def _looks(self) -> tuple[int, ...]:
        """Numbers of valid trials of this block after which a decision is tried."""
        earlier = sum(time_s is not None and time_s >= VOID_UNDER_S for time_s in self.earlier_s)
        return LOOKS if earlier < BLOCK else (BLOCK,)

    @property
    def _is_settled(self) -> bool:
        found = self.finding
        if found.screened.unanswered and self.trials:
            return True
        return self._valid in self._looks and found.verdict != "more trials"

    def after(self, mark: Mark) -> "UnitCourse":
        """Take a mark; one that doesn't fit the cue changes nothing."""
        match self.cue, mark:
            case Done(), _:
                return self
            case _, Interrupted(why):
                return replace(self, start_s=None, said=why)
            case AwaitStart(), Tapped(at_s):
                return replace(self, start_s=at_s, said="")
            case AwaitStop(), Tapped(at_s):
                return self._ended(at_s)
            case AwaitStop(), TimedOut():
                return self._ended(None)
            case _:
                return self

    def _ended(self, stop_s: float | None) -> "UnitCourse":
        trials = (*self.trials, Trial(self.start_s or 0.0, stop_s))
        after = replace(self, trials=trials, start_s=None)
        if after.finding.screened.too_many_voids:
            void = tuple(one for one in trials if one.is_void)
            kept = tuple(one for one in trials if not one.is_void)
            return replace(after, trials=kept, set_aside=(*self.set_aside, *void), said=UNSETTLED)
        return replace(after, said=EARLY if trials[-1].is_void else after._words())

    def _words(self) -> str:
        """What may decide it, never how fast it was."""
        valid = self._valid
        if self._is_settled or valid not in self._looks:
            return ""
        left = next(at for at in self._looks if at > valid) - valid
        return f"{left} more trial{'s' if left != 1 else ''} may decide it"


@dataclass(frozen=True, slots=True)
class PressCourse:
    """A row of presses that all have to be answered in time; the first that isn't ends it."""

    limit_s: float
    wanted: int
    trials: tuple[Trial, ...] = ()
    start_s: float | None = None
    said: str = ""

    @property
    def finding(self) -> PressTimes:
        """What the presses so far amount to."""
        return judge_press_times([one.time_s for one in self.trials], self.limit_s, self.wanted)

    @property
    def cue(self) -> Cue:
        """What to do now."""
        if self.start_s is not None:
            return AwaitStop(self.start_s + self.limit_s + WAIT_AFTER_LIMIT_S)
        if self.finding.verdict != "more trials":
            return Done()
        return AwaitStart(len(self.trials) + 1, self.wanted, self.said)

    def after(self, mark: Mark) -> "PressCourse":
        """Take a mark; one that doesn't fit the cue changes nothing. A tap too soon to be an answer is done again."""
        match self.cue, mark:
            case Done(), _:
                return self
            case _, Interrupted(why):
                return replace(self, start_s=None, said=why)
            case AwaitStart(), Tapped(at_s):
                return replace(self, start_s=at_s, said="")
            case AwaitStop(), Tapped(at_s) if at_s - (self.start_s or 0.0) < VOID_UNDER_S:
                return replace(self, start_s=None, said=EARLY)
            case AwaitStop(), (Tapped() | TimedOut()):
                stop_s = mark.at_s if isinstance(mark, Tapped) else None
                trial = Trial(self.start_s or 0.0, stop_s)
                return replace(self, trials=(*self.trials, trial), start_s=None)
            case _:
                return self
