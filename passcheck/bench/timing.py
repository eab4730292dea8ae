"""Which reference trial is walked next, and what became of the last one?

Pure courses of trials, here on our own screen, in `unit_trials` and `tap_rows` on the unit. Whoever walks one gives it
marks (a tap, the moment a light was drawn, a time-out, an interruption) and does what its cue says; screens and a
simulated hand walk the same code. All times are seconds of one monotonic clock. No cue holds a running time: a hand
that knows its times bends the next one.
"""

from dataclasses import dataclass, replace
from typing import Final

from passcheck.judge.screening import BLOCK, VOID_UNDER_S, VOIDS_PER_BLOCK, WAIT_AFTER_LIMIT_S

EARLY: Final = "tapped before it was seen"
NOT_STOPPED: Final = "not tapped in time"
NOT_TOGETHER: Final = "press and tap at the same moment"
UNSETTLED: Final = f"more than {VOIDS_PER_BLOCK} of {BLOCK} trials were void: the hand isn't settled, begin again"
TOGETHER_S: Final = 0.25
"""Two hands that mean the same moment are within some 20 ms of each other; this far apart they didn't."""


@dataclass(frozen=True, slots=True)
class Pressed:
    """The key that stands for the unit's button was read; only reference trials have one."""

    at_s: float


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
    """Something came between: the trial that was begun is void."""

    why: str


@dataclass(frozen=True, slots=True)
class Doubted:
    """A tap that was taken can't be trusted after all: the trial it belongs to is void."""

    at_s: float
    why: str


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """The person takes the last trial back, with a reason, before anything was shown of it."""

    why: str


Mark = Pressed | Tapped | Drawn | TimedOut | Interrupted | Doubted | Withdrawn


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
    """One trial on our own screen, raw: press and tap beside each other, the light, the second tap.

    `void` says why it doesn't count.
    """

    programmed_s: float
    pressed_s: float
    start_s: float
    drawn_s: float | None
    stop_s: float | None
    void: str = ""

    @property
    def beyond_delay_s(self) -> float | None:
        """Time from tap to tap less the delay that was really drawn: what the judge takes of this trial."""
        if self.void or self.stop_s is None or self.drawn_s is None:
            return None
        return (self.stop_s - self.start_s) - (self.drawn_s - self.pressed_s)


@dataclass(frozen=True, slots=True)
class ReferenceCourse:
    """A block of reference trials: one hand presses the stand-in key, the other taps, then taps again at the light.

    `delays_s` are those still to be walked; a void one is walked again at the end. `begun_again` are trials of blocks
    that were given up, kept for the record.
    """

    delays_s: tuple[float, ...]
    limit_s: float
    all_delays_s: tuple[float, ...] = ()
    trials: tuple[ReferenceTrial, ...] = ()
    begun_again: tuple[ReferenceTrial, ...] = ()
    pressed_s: float | None = None
    start_s: float | None = None
    drawn_s: float | None = None
    said: str = ""

    @property
    def cue(self) -> Cue:
        """What to do now."""
        if not self.delays_s:
            return Done()
        if self.start_s is None or self.pressed_s is None:
            walked = sum(not one.void for one in self.trials)
            return AwaitStart(walked + 1, walked + len(self.delays_s), self.said)
        if self.drawn_s is None:
            return Light(self.pressed_s + self.delays_s[0])
        return AwaitStop(self.start_s + self.limit_s + WAIT_AFTER_LIMIT_S)

    @property
    def beyond_delays_s(self) -> tuple[float, ...]:
        """What the judge takes of the block, in the order walked."""
        return tuple(it for one in self.trials if (it := one.beyond_delay_s) is not None)

    def after(self, mark: Mark) -> "ReferenceCourse":
        """Take a mark; one that doesn't fit the cue changes nothing."""
        match self.cue, mark:
            case _, Doubted(at_s, why):
                return self._doubted(at_s, why)
            case Done(), _:
                return self
            case _, Interrupted(why):
                return self._not_begun(why)
            case AwaitStart(), Pressed(at_s):
                return self._beside(replace(self, pressed_s=at_s), at_s)
            case AwaitStart(), Tapped(at_s):
                return self._beside(replace(self, start_s=at_s), at_s)
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

    def _not_begun(self, said: str) -> "ReferenceCourse":
        return replace(self, pressed_s=None, start_s=None, drawn_s=None, said=said)

    def _beside(self, after: "ReferenceCourse", at_s: float) -> "ReferenceCourse":
        """Press and tap belong together only while they are near each other; else the later one begins anew."""
        if after.pressed_s is None or after.start_s is None:
            return after
        if abs(after.pressed_s - after.start_s) <= TOGETHER_S:
            return replace(after, said="", all_delays_s=self.all_delays_s or self.delays_s)
        anew = self._not_begun(NOT_TOGETHER)
        return replace(anew, pressed_s=at_s) if after.pressed_s == at_s else replace(anew, start_s=at_s)

    def _doubted(self, at_s: float, why: str) -> "ReferenceCourse":
        if at_s in (self.start_s, self.pressed_s):
            return self._not_begun(why)
        last = self.trials[-1] if self.trials else None
        if last is None or last.void or at_s not in (last.pressed_s, last.start_s, last.stop_s):
            return self
        trials = (*self.trials[:-1], replace(last, void=why))
        return replace(self, trials=trials, delays_s=(*self.delays_s, last.programmed_s), said=why)

    def _ended(self, stop_s: float | None, void: str) -> "ReferenceCourse":
        delay_s, *left = self.delays_s
        trial = ReferenceTrial(delay_s, self.pressed_s or 0.0, self.start_s or 0.0, self.drawn_s, stop_s, void)
        walked = (*self.trials, trial)
        after = replace(self._not_begun(void), trials=walked)
        if not void:
            return replace(after, delays_s=tuple(left))
        if sum(bool(one.void) for one in walked[-BLOCK:]) > VOIDS_PER_BLOCK:
            given_up = (*self.begun_again, *walked)
            return replace(after, delays_s=self.all_delays_s, trials=(), begun_again=given_up, said=UNSETTLED)
        return replace(after, delays_s=(*left, delay_s))
