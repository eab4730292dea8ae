"""Which of the keys that came in are taps of a hand, and which of those can be trusted?

A switch bounces, a held key repeats, and a busy computer reads two taps at once. Times are those at which the byte was
read, in seconds of one monotonic clock.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import median
from typing import Final, Literal

StampedBy = Literal["reader", "screen"]
Kind = Literal["tap", "bounce", "held", "doubtful"]

BOUNCE_S: Final = 0.050
"""No hand taps again so soon: a switch bounces after 2 to 4 ms, and the fastest finger taps some 10 times a second."""
STARVED_S: Final = 0.001
"""Two keys nearer than this were read in one go, so neither time is known."""
REPEAT_S: Final = 0.060
"""A held key repeats about 30 times a second; three gaps in a row under this are no hand."""
REPEATS: Final = 3
HOST_S: Final = 0.005
"""What keyboard and host leave unknown of a tap where nothing worse shows; the scan of a USB keyboard takes so long."""
LOST_S: Final = 0.024
"""The same where the screen stamps, once the reading process is lost: 99 of 100 taps beside a busy screen, measured."""

_NOT_A_TAP_KEY: Final = frozenset(
    {
        "escape",  # reported only after the wait that tells it from a sequence
        *(
            f"{side}_{name}"
            for side in ("left", "right")
            for name in ("shift", "control", "alt", "super", "hyper", "meta")
        ),
        *("caps_lock", "num_lock", "scroll_lock", "iso_level3_shift", "iso_level5_shift"),
    }
)


@dataclass(frozen=True, slots=True)
class Arrival:
    """One key as it came in: when its byte was read, when the screen got to handle it, and what it is taken for."""

    event_s: float
    handler_s: float
    kind: Kind
    stamped_by: StampedBy = "reader"

    @property
    def lag_s(self) -> float:
        """How long the screen took to come to it; says how busy the screen was, not how wrong the time is."""
        return self.handler_s - self.event_s


@dataclass(frozen=True, slots=True)
class Taps:
    """Every arrival of the tap key so far, the oldest first."""

    arrivals: tuple[Arrival, ...] = ()
    stamped_by: StampedBy = "reader"

    def reader_lost(self) -> "Taps":
        """From now on the screen stamps, less exactly."""
        return replace(self, stamped_by="screen")

    def after(self, event_s: float, handler_s: float) -> "Taps":
        """Take one more arrival; what it shows of those before it changes what they are taken for."""
        row = (*self.arrivals, Arrival(event_s, handler_s, "tap", self.stamped_by))
        return replace(self, arrivals=_seen_together(row))

    def of(self, kind: Kind) -> tuple[Arrival, ...]:
        """The arrivals of one kind."""
        return tuple(one for one in self.arrivals if one.kind == kind)

    @property
    def resolution_s(self) -> float:
        """What is unknown of a tap's time on this host, in seconds; doubtful ones are not used and don't count."""
        return LOST_S if self.has_some_by_screen else HOST_S

    @property
    def has_some_by_screen(self) -> bool:
        """Was any of them stamped by the screen, because the reading process was lost?"""
        return any(one.stamped_by == "screen" for one in self.arrivals)


def _seen_together(row: tuple[Arrival, ...]) -> tuple[Arrival, ...]:
    """What the last arrival is taken for, and what it shows of those before it."""
    if len(row) == 1:
        return row
    *before, last = row
    if last.event_s - before[-1].event_s < STARVED_S:  # read in one go with the one before it
        return (*before[:-1], _as(before[-1], "doubtful"), _as(last, "doubtful"))
    accepted = next((one for one in reversed(before) if one.kind == "tap"), None)
    if accepted is not None and last.event_s - accepted.event_s < BOUNCE_S:
        return _held((*before, _as(last, "bounce")))
    return _held(row)


def _as(arrival: Arrival, kind: Kind) -> Arrival:
    return replace(arrival, kind=kind)


def _held(row: tuple[Arrival, ...]) -> tuple[Arrival, ...]:
    """Three short gaps in a row are a held key; what began them may be its first repeat, long after the tap."""
    last = row[-REPEATS - 1 :]
    gaps = [b.event_s - a.event_s for a, b in pairwise(last)]
    if len(gaps) < REPEATS or not all(STARVED_S <= gap < REPEAT_S for gap in gaps):
        return row
    head, *rest = last
    began = head if head.kind == "held" else _as(head, "doubtful")
    return (*row[: -REPEATS - 1], began, *(_as(one, "held") for one in rest))


def intervals_s(arrivals: Sequence[Arrival]) -> tuple[float, ...]:
    """Times between taps that follow each other, doubtful ones left out, in seconds."""
    times = [one.event_s for one in arrivals if one.kind == "tap"]
    return tuple(b - a for a, b in pairwise(times))


def usual_lag_s(arrivals: Sequence[Arrival]) -> float:
    """The middle lag of the screen behind the key, in seconds; 0 where nothing came."""
    return median(one.lag_s for one in arrivals) if arrivals else 0.0


def no_tap_key_because(key: str, character: str | None) -> str:
    """Why a key can't be the tap key, as the rest of a sentence, or "" where it can.

    A pedal that sends F18 arrives as a space without a character on most terminals, and F13 to F17 as control
    characters: another program may read them as another key.
    """
    if key in _NOT_A_TAP_KEY:
        return f"{key.replace('_', ' ')} comes late or not at all by itself"
    if key == "space" and character is None:
        return "this pedal sends F18, which terminals take for a space; set it to another key"
    if key.startswith("ctrl+"):
        return "with the control key it is a command to most terminals"
    if len(key) == 1 and not key.isprintable():
        return "this pedal sends a key that terminals don't know; set it to space, Enter, page down or a letter"
    return ""
