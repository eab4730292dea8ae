"""What does a rework leave on the unit that only another rework takes away again?

A leg that was lifted has to be soldered back; a part from another unit goes back, or stays as a part of this one.
Saying so is not enough: hands were on the unit again, and what they did makes results stale.
"""

from collections.abc import Mapping

from passcheck.job.events import Action, ReworkLogged
from passcheck.job.state import Fitted

CLEARED_BY: Mapping[Action, tuple[Action, ...]] = {
    "leg lifted": ("put back", "replaced", "reflowed"),
    "swapped in": ("put back", "replaced"),
}
"""The actions that leave something behind, each with those of a later rework on all the same parts that clear it."""


def left_behind(event: ReworkLogged, line: int) -> Fitted | None:
    """What this rework puts on the list of what to put back, or None."""
    if event.action not in CLEARED_BY or not event.parts:
        return None
    parts = ", ".join(event.parts)
    words = (
        f"{parts}: a leg was lifted (rework {event.rework}) and has to be soldered back"
        if event.action == "leg lifted"
        else f"{parts}: swapped in from unit {event.donor} (rework {event.rework}), to go back or to stay as replaced"
    )
    return Fitted(f"rework {event.rework}", words, line, parts=event.parts, cleared_by=CLEARED_BY[event.action])


def still_fitted(fitted: tuple[Fitted, ...], event: ReworkLogged) -> tuple[Fitted, ...]:
    """What is left on the list after a rework: what it cleared is gone."""
    return tuple(it for it in fitted if event.action not in it.cleared_by or not set(it.parts) <= set(event.parts))


def lift_of(it: Fitted) -> str:
    """What takes this off the list."""
    if not it.cleared_by:
        return "Put it back and say so."
    *most, last = it.cleared_by
    return f"Enter the rework on {', '.join(it.parts)} that clears it: {', '.join(most)} or {last}."
