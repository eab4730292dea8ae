"""How many of the units that were released came back, when most of them are still out?"""

from collections.abc import Sequence
from datetime import date
from typing import Final

from passcheck.job.counts import Counts, OutAndBack
from passcheck.job.figure import Course, Figure, Point
from passcheck.job.figure_periods import compared
from passcheck.job.figure_words import LEVEL, percent, percents, places_for, share_words
from passcheck.judge.first_pass_yield import first_pass_yield
from passcheck.judge.returns import Survival, returns_sentence, survival, survival_at
from passcheck.judge.rounding import counted

TITLE: Final = "How many released units come back?"
HORIZONS: Final = (30, 90, 180, 365)
DRAWN: Final = 200
"""Steps of the curve that are drawn: more than any window has columns for."""
HEADS: Final = ("DAYS OUT", "BACK BY THEN", "STILL FOLLOWED THEN", "BACK OF ALL RELEASED")
NUMBERS: Final = (True, False, True, False)
WORDS: Final = (
    "Back by then: Kaplan-Meier's estimate with its 95 % interval; a unit still out counts up to its age, no further.",
    "A visit counts as a return whatever brought the unit back, and a second release of a unit counts anew. One that "
    "never comes back to this shop may have failed all the same: that isn't seen here.",
)


def returns_figure(counts: Counts, until: str) -> Figure:
    """A row an age; the share that is back, over the days since the release, as a course."""
    units = [one for one in counts.out_and_back if one.released_at[:10] <= until[:10]]
    if not units:
        return Figure("returns", TITLE, HEADS, NUMBERS, (), ("No unit was released yet.",))
    fates = [fate(one, until) for one in units]
    curve = survival([float(days) for days, _back in fates], [back for _days, back in fates])
    rows = tuple(_row(curve, fates, day) for day in HORIZONS)
    words = (
        _in_all(curve),
        *WORDS,
        _too_low(fates),
        *_blocks([one for one, (_days, back) in zip(units, fates, strict=True) if back]),
        *compared(units, fates),
    )
    return Figure("returns", TITLE, HEADS, NUMBERS, rows, words, (_course(curve),))


def fate(one: OutAndBack, until: str) -> tuple[int, bool]:
    """Days out, and whether the unit came back by that day; a clock that was set back makes 0 days, not fewer."""
    came_back = one.back_at is not None and one.back_at[:10] <= until[:10]
    end = one.back_at if came_back and one.back_at is not None else until
    days = date.fromisoformat(end[:10]) - date.fromisoformat(one.released_at[:10])
    return max(days.days, 0), came_back


def _row(curve: Survival, fates: Sequence[tuple[int, bool]], day: int) -> tuple[str, ...]:
    still = sum(days > day or (days == day and not back) for days, back in fates)
    naive = share_words(sum(back and days <= day for days, back in fates), len(fates))
    return str(day), back_words(curve, day, still), str(still), naive


def back_words(curve: Survival, day: int, still: int) -> str:
    """The share that is back by an age, with its interval, or why there is none.

    While nothing came back the curve has no error of its own: units still out then show it, by Wilson's interval.
    """
    found = survival_at(curve, day, LEVEL)
    if not found.is_followed:
        return "not known: none out so long"
    if found.survival == 1:
        return f"none ({percents(0.0, first_pass_yield(0, still, LEVEL).high)})"
    if found.low is None or found.high is None:
        return "all of them"
    places = places_for(found.low, found.high)
    return f"{percent(1 - found.survival, places)} % ({percents(1 - found.high, 1 - found.low)})"


def _in_all(curve: Survival) -> str:
    """The judge's sentence at the last age that somebody reached; while nothing is back there is no share to tell."""
    if not curve.rows:
        return f"None of {counted(curve.units, 'released unit')} came back so far."
    reached = [day for day in HORIZONS if day <= curve.followed_days]
    return returns_sentence(curve, survival_at(curve, reached[-1] if reached else HORIZONS[0], LEVEL))


def _too_low(fates: Sequence[tuple[int, bool]]) -> str:
    young = sum(not back and days < HORIZONS[-1] for days, back in fates)
    if not young:
        return f"Every unit still out has been followed for {HORIZONS[-1]} days or more."
    return (
        f"Back of all released is too low as an answer: {young} of {len(fates)} are out for less than "
        f"{HORIZONS[-1]} days, and may still come back."
    )


def _blocks(back: Sequence[OutAndBack]) -> tuple[str, ...]:
    """Did the same block bring them back?"""
    if not back:
        return ()
    known = [one for one in back if one.same_block is not None]
    same = sum(one.same_block == 1 for one in known)
    unknown = len(back) - len(known)
    rest = f"; left out: {counted(unknown, 'return')} without another release so far" if unknown else ""
    return (f"Returns at which the same block was touched again: {share_words(same, len(known))}{rest}.",)


def _course(curve: Survival) -> Course:
    """The share that is back, from the release to the age of the unit longest out."""
    every = max(1, len(curve.rows) // DRAWN)
    points = [Point(0.0, 0.0), *(_point(curve, row.day) for row in curve.rows[::every] if row.day > 0)]
    points.append(_point(curve, curve.followed_days))
    reached = [day for day in (0, *HORIZONS) if day <= curve.followed_days]
    labels = tuple((float(day), str(day)) for day in reached)
    return Course("back", "days since the release", "back, %", tuple(points), stepped=True, x_labels=labels)


def _point(curve: Survival, day: float) -> Point:
    found = survival_at(curve, day, LEVEL)
    low = None if found.high is None else 100 * (1 - found.high)
    high = None if found.low is None else 100 * (1 - found.low)
    return Point(day, 100 * (1 - found.survival), low, high)
