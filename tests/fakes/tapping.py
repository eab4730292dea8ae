"""A simulated hand at a unit: reacts, taps a little beside the press, lapses never; for tests that need no statistics.

hand = TapHand(seed=1)
block = hand.at_our_screen(ReferenceCourse(...))
course = hand.at_the_unit(ResponseCourse(...), delay_s=0.25)
"""

import random  # noqa: TID251 - a simulated hand from a seed
from typing import TypeVar

from passcheck.bench.reference_block import programmed_delays
from passcheck.bench.tapped_answers import reference_pairs
from passcheck.bench.timing import (
    AwaitStart,
    AwaitStop,
    Done,
    Drawn,
    Light,
    Pressed,
    ReferenceCourse,
    Tapped,
    TimedOut,
)
from passcheck.bench.unit_trials import UnitCourse
from passcheck.job.answers import HowStamped
from passcheck.job.commands import TapReference
from passcheck.judge.latency import Latency

FILMED = Latency(0.05, 0.002)
KEY_S, DISPLAY_S = 0.010, 0.040
HOW = HowStamped("monotonic", "0.005")
C = TypeVar("C", bound=UnitCourse)


class TapHand:
    """One person at one bench, on a clock of their own."""

    def __init__(self, seed: int, now_s: float = 1000.0) -> None:
        self._draw = random.Random(seed)  # noqa: S311 - a simulation
        self.now_s = now_s

    def reaction_s(self) -> float:
        """From seeing to tapping: ex-Gaussian with a mean of 0.22 s."""
        return 0.18 + self._draw.gauss(0, 0.02) + self._draw.expovariate(1 / 0.04)

    def beside_s(self) -> float:
        """How much later than the press the other hand taps."""
        return self._draw.gauss(0.005, 0.012)

    def uniforms(self, count: int) -> list[float]:
        return [self._draw.random() for _ in range(count)]

    def at_our_screen(self, course: ReferenceCourse) -> ReferenceCourse:
        """Walk a reference course to its end."""
        while (cue := course.cue) != Done():
            match cue:
                case AwaitStart():
                    self.now_s += 1.0
                    course = course.after(Pressed(self.now_s)).after(Tapped(self.now_s + self.beside_s()))
                case Light(at_s):
                    self.now_s = at_s + self._draw.uniform(0, 0.004)
                    course = course.after(Drawn(self.now_s))
                case AwaitStop():
                    self.now_s += DISPLAY_S + self.reaction_s() + KEY_S
                    course = course.after(Tapped(self.now_s))
        return course

    def at_the_unit(self, course: C, delay_s: float | None) -> C:
        """Walk trials on a unit that answers after so long; None: never."""
        while (cue := course.cue) != Done():
            match cue:
                case AwaitStart():
                    self.now_s += 1.0
                    course = course.after(Tapped(self.now_s + self.beside_s()))
                case AwaitStop(until_s) if delay_s is None:
                    self.now_s = until_s
                    course = course.after(TimedOut(until_s))
                case AwaitStop():
                    self.now_s += (delay_s or 0.0) + self.reaction_s()
                    course = course.after(Tapped(self.now_s))
        return course

    def block(self, middle_s: float = 0.5, by: str = "t1", trials: int = 20) -> TapReference:
        """The command that gives a block of reference trials."""
        delays = programmed_delays(middle_s, self.uniforms(2 * trials), trials)
        course = self.at_our_screen(ReferenceCourse(tuple(round(each, 6) for each in delays), middle_s))
        return TapReference(by, f"{middle_s:.6f}", reference_pairs(course), HOW)
