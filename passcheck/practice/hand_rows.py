"""How does a simulated hand walk rows of taps, at a pointer's marks and at a lamp's flashes?"""

from collections.abc import Callable, Iterable, Sequence
from typing import Final, TypeVar

from passcheck.bench.tap_rows import AwaitTap, RateCourse, RowCue, SweepCourse
from passcheck.bench.timing import Done, Interrupted, Tapped, TimedOut
from passcheck.judge.sweep_judged import Way
from passcheck.practice.hand import Hand

MOST_ROWS: Final = 60
MOST_TAPS: Final = 60
"""A course that isn't settled by then is handed back as it stands."""
TOO_MANY: Final = "a tap too many"

C = TypeVar("C", SweepCourse, RateCourse)


def rows_of_sweep(hand: Hand, course: SweepCourse, travel: Callable[[Way], Sequence[float]]) -> SweepCourse:
    """Walk sweeps to their end; `travel` is asked for each: when the pointer passes its marks, s from when it starts.

    Fewer times than marks are a pointer that never got there, none one that never moved. A person who finds a tap over
    at the end of a row begins anew.
    """
    for _ in range(MOST_ROWS):
        cue = course.cue
        if not isinstance(cue, AwaitTap):
            break
        way: Way = "up" if cue.row == "up" else "down"
        course = _row(hand, course, hand.along_marks(travel(way)))
    return course


def rows_of_flashes(hand: Hand, course: RateCourse, lit_s: Iterable[float]) -> RateCourse:
    """Walk a row of flashes to its end; `lit_s` are the flashes, s from when the lamp is watched, perhaps without end.

    None at all is a lamp that never flashed; after the last one the hand waits as long as the course does.
    """
    for taken, at_s in enumerate(hand.along_flashes(lit_s, course.every), start=1):
        if _is_over(course.cue, at_s):
            break
        course = course.after(Tapped(at_s))
        if course.cue == Done() or taken == MOST_TAPS:
            return course
    return _waited(hand, course)


def _row(hand: Hand, course: SweepCourse, taps_s: Sequence[float]) -> SweepCourse:
    rows = len(course.rows)
    for at_s in taps_s:
        if _is_over(course.cue, at_s):
            break
        course = course.after(Tapped(at_s))
    if len(course.rows) == rows:
        return _waited(hand, course)
    return course.after(Interrupted(TOO_MANY)) if course.begun else course


def _is_over(cue: RowCue, at_s: float) -> bool:
    """Would a tap at this time come after everything, or after the row's time?"""
    return cue == Done() or (isinstance(cue, AwaitTap) and cue.until_s is not None and at_s > cue.until_s)


def _waited(hand: Hand, course: C) -> C:
    """Nothing more is tapped until the course's time is up; before a first tap the person says that nothing comes."""
    cue = course.cue
    if not isinstance(cue, AwaitTap):
        return course
    at_s = hand.now_s if cue.until_s is None else cue.until_s
    hand.wait_until(at_s)
    return course.after(TimedOut(at_s))
