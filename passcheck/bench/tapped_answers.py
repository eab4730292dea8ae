"""What does the record get of a course of taps?

Every trial and every row in the order tapped, void ones too, as the facts of commands and answers: screens and a
simulated hand hand in the same.
"""

from typing import Final

from passcheck.bench.tap_rows import RateCourse, SweepCourse
from passcheck.bench.timing import EARLY, ReferenceCourse, ReferenceTrial
from passcheck.bench.unit_trials import Trial, UnitCourse
from passcheck.job.answers import Departure, HowStamped, TapPair, TapPairsAnswer, TapRow, TapRowsAnswer
from passcheck.job.events import ReferencePair
from passcheck.job.judging_taps import moment_text

BEGUN_ANEW: Final = "the block was begun anew"
BROKEN_OFF: Final = "broken off"


def reference_pairs(course: ReferenceCourse) -> tuple[ReferencePair, ...]:
    """The trials of a block, those of blocks that were given up first and void."""
    given_up = (_reference_pair(one, one.void or BEGUN_ANEW) for one in course.begun_again)
    return (*given_up, *(_reference_pair(one, one.void) for one in course.trials))


def pairs_answer(course: UnitCourse, how: HowStamped) -> TapPairsAnswer:
    """The answer of a course of trials on the unit."""
    return TapPairsAnswer(pairs_of(course), how)


def rows_answer(
    course: SweepCourse | RateCourse, how: HowStamped, departures: tuple[Departure, ...] = ()
) -> TapRowsAnswer:
    """The answer of a course of rows, with the lamps that were amiss."""
    return TapRowsAnswer(rows_of(course), how, departures)


def pairs_of(course: UnitCourse) -> tuple[TapPair, ...]:
    """Every trial in the order tapped, with the begun one."""
    walked = sorted((*course.set_aside, *course.trials), key=lambda one: one.start_s)
    begun = () if course.start_s is None else (TapPair(moment_text(course.start_s), None, BROKEN_OFF),)
    return (*(_pair(one) for one in walked), *begun)


def rows_of(course: SweepCourse | RateCourse) -> tuple[TapRow, ...]:
    """Every row in the order tapped, void ones first."""
    if isinstance(course, SweepCourse):
        swept_void = (TapRow(row.way, _moments(row.taps_s), BROKEN_OFF) for row in course.voided)
        return (*swept_void, *(TapRow(row.way, _moments(row.taps_s)) for row in course.rows))
    flashed_void = (TapRow("flash", _moments(taps_s), BROKEN_OFF) for taps_s in course.voided)
    return (*flashed_void, TapRow("flash", _moments(course.taps_s)))


def _reference_pair(one: ReferenceTrial, void: str) -> ReferencePair:
    return ReferencePair(
        programmed=moment_text(one.programmed_s),
        pressed=moment_text(one.pressed_s),
        start=moment_text(one.start_s),
        drawn=None if one.drawn_s is None else moment_text(one.drawn_s),
        stop=None if one.stop_s is None else moment_text(one.stop_s),
        void=void,
    )


def _pair(one: Trial) -> TapPair:
    stop = None if one.stop_s is None else moment_text(one.stop_s)
    return TapPair(moment_text(one.start_s), stop, one.void or (EARLY if one.is_void else ""))


def _moments(taps_s: tuple[float, ...]) -> tuple[str, ...]:
    return tuple(moment_text(each) for each in taps_s)
