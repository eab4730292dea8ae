"""When does a simulated hand tap, on our screen and on a unit?

It sees cues, lights and what the unit does, never a limit. All times are seconds of the hand's own clock.
"""

import math
import random
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import count, islice
from typing import Final, TypeVar

from passcheck.bench.tap_rows import RATE_TAPS
from passcheck.bench.timing import AwaitStop, Done, Drawn, Light, Pressed, ReferenceCourse, Tapped, TimedOut, Withdrawn
from passcheck.bench.unit_trials import UnitCourse
from passcheck.job.answers import HowStamped
from passcheck.judge.latency import Latency
from passcheck.practice.person import Deed, Person

KEY_JITTER_S: Final = 0.004
HOW: Final = HowStamped("simulated", f"{KEY_JITTER_S:g}")
MOST_TRIALS: Final = 200
"""A course that isn't settled by then is handed back as it stands."""
LAPSE_S: Final = (0.15, 0.80)
DOUBLED_S: Final = (0.04, 0.15)
FORESEEN_AFTER_S: Final = 0.1
FORESEEN_FROM_S: Final = 0.6
"""A tap that doesn't wait for the answer comes anywhere from so long before it shows to so long after, and never before
the start. At the short delays that the population was assumed for that is the whole wait; who waits for a minute taps a
little too early, not anywhere in it."""
FORESEEN: Final = "tapped before I saw it"
LEARNED_FROM_S: Final = 0.15
ALIKE: Final = 0.1
"""Delays that differ by less than this share are the same to a person."""
SOONEST_AGAIN_S: Final = 0.1
"""The fastest finger taps some ten times a second."""
BETWEEN_S: Final = (1.0, 2.0)
"""From one trial to the next."""
DRAWN_WITHIN_S: Final = 0.004

C = TypeVar("C", bound=UnitCourse)


class Hand:
    """One person at one bench; `now_s` is where their clock stands after the last tap."""

    def __init__(self, person: Person, draw: random.Random, latency: Latency, now_s: float = 1000.0) -> None:
        """Args:
        person: whose hand it is.
        draw: all of its chance.
        latency: what the bench holds its key to light for. Where that was filmed the true one lies about it by its
            uncertainty; where nobody did it is the person's own.
        now_s: where the clock begins.
        """
        self.person = person
        self.latency_s = max(0.0, draw.gauss(latency.value_s, latency.u_s)) if latency.measured else person.latency_s
        self.now_s = now_s
        self._draw = draw

    def reaction_s(self, delay_s: float = math.inf) -> float:
        """From seeing to tapping, after a delay."""
        return self.person.reaction_s(self._draw, delay_s)

    def beside_s(self) -> float:
        """How much later than the press the other hand's key is stamped."""
        return self.person.beside_press_s(self._draw) + self._shake_s()

    def wait_until(self, at_s: float) -> None:
        """Nothing is tapped until then."""
        self.now_s = max(self.now_s, at_s)

    def at_our_screen(self, course: ReferenceCourse) -> ReferenceCourse:
        """Walk a block of reference trials to its end."""
        for _ in range(MOST_TRIALS):
            if course.cue == Done():
                break
            course = self._reference_trial(course)
        return course

    def at_the_unit(self, course: C, delays: Callable[[], float | None]) -> C:
        """Walk trials on the unit to their end; `delays` is asked at each press, None: the unit never answers.

        What was learned of a delay is lost at one that is another.
        """
        met_s: float | None = None
        for _ in range(MOST_TRIALS):
            if course.cue == Done():
                break
            delay_s = delays()
            if delay_s is None:
                course = self._unit_trial(course, math.inf, 0.0)
                continue
            is_learned = delay_s >= LEARNED_FROM_S and (met_s is None or abs(delay_s - met_s) <= ALIKE * met_s)
            course = self._unit_trial(course, delay_s, self.person.learned_s if is_learned else 0.0)
            met_s = delay_s
        return course

    def along_marks(self, marks_s: Sequence[float]) -> tuple[float, ...]:
        """Taps at a pointer that passes its marks at these times, from its start; now and then there is one too many.

        It is watched all the way, so lapses and double taps befall one tap of so many rows, not so many taps.
        """
        begun_s = self._after_a_pause()
        deed, slip = self.person.deed(self._draw), self._draw.randrange(len(marks_s) or 1)
        taps: list[float] = []
        for place, mark_s in enumerate(marks_s):
            late_s = self._draw.uniform(*LAPSE_S) if (place, deed) == (slip, "lapses") else 0.0
            taps.append(self._tap(begun_s + mark_s + self._draw.gauss(0, self.person.along_s) + late_s))
            if (place, deed) == (slip, "doubles"):
                taps.append(self._tap_again())
        return tuple(taps)

    def flashes(self, period_s: float, every: int = 1, taps: int = RATE_TAPS) -> tuple[float, ...]:
        """So many taps, one at every `every`-th flash of a lamp that blinks steadily."""
        return tuple(islice(self.along_flashes((period_s * number for number in count()), every), taps))

    def along_flashes(self, lit_s: Iterable[float], every: int = 1) -> Iterator[float]:
        """Taps at every `every`-th flash, one by one; `lit_s` are the flashes, from when the lamp is first watched.

        Each is reacted to; one that comes before the last was answered goes by, so a fast lamp is tapped too slowly.
        """
        begun_s = self._after_a_pause()
        for flash_s in islice(lit_s, None, None, every):
            if begun_s + flash_s < self.now_s:
                continue
            deed = self.person.deed(self._draw)
            late_s = self._draw.uniform(*LAPSE_S) if deed == "lapses" else 0.0
            yield self._tap(begun_s + flash_s + self.reaction_s() + self._shake_s() + late_s)
            if deed == "doubles":
                yield self._tap_again()

    def _reference_trial(self, course: ReferenceCourse) -> ReferenceCourse:
        self.now_s = begun_s = self._after_a_pause()
        press = Pressed(_stamp(begun_s + self._shake_s()))
        start = Tapped(_stamp(begun_s + self.beside_s()))
        course = course.after(press).after(start) if press.at_s <= start.at_s else course.after(start).after(press)
        cue = course.cue
        if not isinstance(cue, Light):
            return course
        lit_s = _stamp(cue.at_s + self._draw.uniform(0, DRAWN_WITHIN_S))
        seen_s = lit_s + self.latency_s
        stop_s = self._stop_s(self.person.deed(self._draw), start.at_s, seen_s, self.reaction_s(cue.at_s - press.at_s))
        self.now_s = max(seen_s, stop_s)
        if stop_s >= lit_s:
            course = course.after(Drawn(lit_s))
        return course.after(_stopped(stop_s, course.cue))

    def _unit_trial(self, course: C, delay_s: float, learned_s: float) -> C:
        """One press of a unit that answers after so long, or never (inf)."""
        self.now_s = begun_s = self._after_a_pause()
        start_s = _stamp(begun_s + self.beside_s())
        course = course.after(Tapped(start_s))
        deed = self.person.deed(self._draw)
        seen_s = begun_s + delay_s + self.person.mismatch_s
        stop = _stopped(self._stop_s(deed, start_s, seen_s, self.reaction_s(delay_s) - learned_s), course.cue)
        self.now_s = stop.at_s if math.isinf(delay_s) else max(stop.at_s, begun_s + delay_s)
        course = course.after(stop)
        return course.after(Withdrawn(FORESEEN)) if deed == "owns up" and isinstance(stop, Tapped) else course

    def _stop_s(self, deed: Deed, start_s: float, seen_s: float, reaction_s: float) -> float:
        """When the second tap comes; never (inf), where nothing is seen and nothing comes double."""
        match deed:
            case "doubles":
                stop_s = start_s + self._draw.uniform(*DOUBLED_S)
            case "foresees" | "owns up" if math.isfinite(seen_s):
                from_s = max(start_s, seen_s - FORESEEN_FROM_S)
                stop_s = from_s + self._draw.random() * (seen_s + FORESEEN_AFTER_S - from_s)
            case "lapses":
                stop_s = seen_s + reaction_s + self._shake_s() + self._draw.uniform(*LAPSE_S)
            case _:
                stop_s = seen_s + reaction_s + self._shake_s()
        return _stamp(max(stop_s, start_s + DOUBLED_S[0])) if math.isfinite(stop_s) else stop_s

    def _tap(self, at_s: float) -> float:
        """A tap of a row: not sooner after the last than a finger can."""
        self.now_s = _stamp(max(at_s, self.now_s + SOONEST_AGAIN_S))
        return self.now_s

    def _tap_again(self) -> float:
        """The tap too many that a finger makes by itself."""
        self.now_s = _stamp(self.now_s + self._draw.uniform(*DOUBLED_S))
        return self.now_s

    def _shake_s(self) -> float:
        return self._draw.uniform(-KEY_JITTER_S, KEY_JITTER_S)

    def _after_a_pause(self) -> float:
        return self.now_s + self._draw.uniform(*BETWEEN_S)


def _stopped(stop_s: float, cue: object) -> Tapped | TimedOut:
    """A tap after the wait comes to nothing."""
    return TimedOut(cue.until_s) if isinstance(cue, AwaitStop) and stop_s > cue.until_s else Tapped(stop_s)


def _stamp(at_s: float) -> float:
    """As a key is stamped: to the microsecond."""
    return round(at_s, 6)
