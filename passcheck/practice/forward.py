"""How much time may go by at one key, and what has to be done first?

Ten minutes, less than it takes until nobody is taken to be at the bench; on the rack and while a unit soaks up to the
look that falls due next. Time never goes past a look that waits to be taken.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

from passcheck.job.moment import ABSENCE, Moment
from passcheck.job.power import on_now
from passcheck.job.rack import Place
from passcheck.job.soak import going_on
from passcheck.job.state import Job

MINUTES: Final = 10.0
AFTER_DUE: Final = 2.0
"""Minutes past the due time, still in time: what a slow first look takes isn't short at the last one."""
Soaks = Literal["none", "waiting", "due", "open", "done"]


@dataclass(frozen=True, slots=True)
class Soaking:
    """One unit on soak: what it waits for, and minutes until its next look."""

    serial: str
    state: Soaks
    minutes: float


@dataclass(frozen=True, slots=True)
class Stretch:
    """Minutes that may go by; `why_not` is a sentence where none may."""

    minutes: float
    why_not: str = ""


def stretch(soaking: Iterable[Soaking], *, up_to_a_look: bool) -> Stretch:
    """How long time may go by.

    Args:
        soaking: every unit on soak.
        up_to_a_look: True where whoever asks waits for a look: on the rack, or at a unit that soaks.
    """
    every = tuple(soaking)
    for state, words in (
        ("open", "The look at {} is open: walk its steps before time goes by."),
        ("due", "The look at {} is due: take it before time goes by."),
    ):
        found = next((one for one in every if one.state == state), None)
        if found is not None:
            return Stretch(0.0, words.format(found.serial))
    waiting = min((one.minutes for one in every if one.state == "waiting"), default=None)
    if waiting is None:
        done = next((one for one in every if one.state == "done"), None)
        if done is not None and up_to_a_look:
            return Stretch(0.0, f"{done.serial} has its hours: end its soak.")
        return Stretch(MINUTES)
    to_look = waiting + AFTER_DUE
    return Stretch(to_look if up_to_a_look else min(MINUTES, to_look))


def soaking_of(job: Job, moment: Moment) -> Soaking | None:
    """The unit in hand as one on soak, or None."""
    now = going_on(job)
    if now is None or now.due is None:
        return None
    late_s = now.due.late_s(moment)
    return Soaking(job.serial, _state(bool(now.still_to_pass), now.complete, late_s), -late_s / 60)


def soaking_on(places: Iterable[Place]) -> tuple[Soaking, ...]:
    """The units of the rack."""
    return tuple(
        Soaking(one.row.serial, _state(bool(one.tag.still_to_pass), one.tag.complete, one.late_s), -one.late_s / 60)
        for one in places
    )


def worst_of(soaking: Iterable[Soaking]) -> Soaks:
    """What is to be done first."""
    order: tuple[Soaks, ...] = ("open", "due", "done", "waiting")
    states = {one.state for one in soaking}
    return next((state for state in order if state in states), "none")


def has_to_say_so(job: Job, moment: Moment, minutes: float) -> bool:
    """Would the supply that was told on count as unknown before these minutes are over?"""
    gone = moment.since(job.last)
    return bool(on_now(job, moment)) and gone is not None and gone.total_seconds() + minutes * 60 >= _ABSENCE_S


def _state(still: bool, complete: bool, late_s: float) -> Soaks:
    if still:
        return "open"
    if complete:
        return "done"
    return "due" if late_s >= 0 else "waiting"


_ABSENCE_S: Final = ABSENCE.total_seconds()
