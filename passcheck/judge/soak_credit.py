"""How much of a soak is shown by what was seen at its looks?

Only time between two good looks counts. A stretch counts in full where the second look came in time and power is shown
to have stayed on; it counts one interval at most where the look came late, and nothing where a look was missed, or
where nothing shows the continuity that the sequence asks for. Planned times off are taken out. Every rule can only
take away: the credit is never more than the time that was measured at power, and runs ahead of an hour meter by less
than that meter's last digit.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final, Literal

GRACE_SHARE: Final = 0.1
LEAST_GRACE_S: Final = 300.0
"""How late a look may come and still be in time: a tenth of the interval, five minutes at least."""
MISSED_AFTER: Final = 2.0
"""From this many intervals on, at least one look between is missing."""

Standing = Literal["in time", "late", "missed", "continuity not shown"]


@dataclass(frozen=True, slots=True)
class Look:
    """One look at a soaking unit; the first of a leg is its start.

    Attributes:
        utc: when it began, by the clock on the wall; used to name it, and to bound a gap that no clock measured.
        begun_ms: when it began, on a clock that counts measured time only.
        done_ms: when the last of its steps had passed, on the same clock.
        good: every step of the look passed and the surroundings were as the sequence wants them.
        shown: something showed that power had stayed on since the look before.
        cycles: planned times off and on since the look before.
        meter_s: an hour meter's reading in seconds, None where none is read; what counts never runs ahead of it.
        gap: some time since the look before was measured by no clock: the machine was started again.
        why_not: what was not good or not shown, in words.
    """

    utc: datetime
    begun_ms: int
    done_ms: int
    good: bool
    shown: bool
    cycles: int = 0
    meter_s: float | None = None
    gap: bool = False
    why_not: str = ""


@dataclass(frozen=True, slots=True)
class Stretch:
    """The time from one good look to the next: how long it was, and how much of it counts, in seconds."""

    begun: datetime
    ended: datetime
    length_s: float
    counted_s: float
    standing: Standing
    why: str = ""


@dataclass(frozen=True, slots=True)
class Credit:
    """What a soak has shown so far."""

    counted_s: float
    cycles: int
    stretches: tuple[Stretch, ...]


def grace_s(every_s: float) -> float:
    """How late a look may come and still be in time, in seconds."""
    return max(GRACE_SHARE * every_s, LEAST_GRACE_S)


def credit(legs: Iterable[Sequence[Look]], every_s: float, off_s: float, *, continuous: bool) -> Credit:
    """The credit of a soak over its legs; a leg is the looks between a start and an end at power.

    Args:
        legs: for each leg its looks in order.
        every_s: the interval of the looks, in seconds, more than 0.
        off_s: how long power is off in one planned cycle, in seconds.
        continuous: True where the sequence wants hours whose continuity is shown.
    """
    stretches: list[Stretch] = []
    cycles = 0
    for looks in legs:
        cycles += sum(look.cycles for look in looks)
        stretches.extend(_stretches(looks, every_s, off_s, continuous))
    return Credit(sum(one.counted_s for one in stretches), cycles, tuple(stretches))


def _stretches(looks: Sequence[Look], every_s: float, off_s: float, continuous: bool) -> list[Stretch]:
    """A leg's stretches; a look that was not good ends none, so that the stretch goes on to the next good one."""
    found: list[Stretch] = []
    last: Look | None = None
    between: list[Look] = []
    base_s: float | None = None  # the meter where what counts began
    since_s = 0.0  # what counted since
    for look in looks:
        if last is not None:
            between.append(look)
        if not look.good:
            continue
        if last is not None:
            begun_ms = last.begun_ms if found else last.done_ms  # before the first look was done nothing was shown
            one = _stretch(last, begun_ms, between, every_s, off_s, continuous)
            if one.counted_s and base_s is not None and look.meter_s is not None:
                one = replace(one, counted_s=max(0.0, min(one.counted_s, look.meter_s - base_s - since_s)))
            found.append(one)
            since_s += one.counted_s
            if one.standing in ("missed", "continuity not shown"):
                base_s, since_s = look.meter_s, 0.0
        if last is None:
            base_s = look.meter_s
        last, between = look, []
    return found


def _stretch(
    first: Look, begun_ms: int, later: Sequence[Look], every_s: float, off_s: float, continuous: bool
) -> Stretch:
    end = later[-1]
    measured_s = max(0.0, (end.begun_ms - begun_ms) / 1000)
    off = sum(look.cycles for look in later) * off_s
    length_s = measured_s
    if any(look.gap for look in later):  # longer than measured, nobody knows by how much: late is late by either clock
        length_s = max(measured_s, (end.utc - first.utc).total_seconds())
    unshown = [look.why_not or "nothing showed that power stayed on" for look in later if not look.shown]
    in_time = every_s + grace_s(every_s)
    if length_s >= MISSED_AFTER * every_s and length_s > in_time:
        return Stretch(first.utc, end.utc, length_s, 0.0, "missed", "a look between is missing")
    if unshown and continuous:
        return Stretch(first.utc, end.utc, length_s, 0.0, "continuity not shown", unshown[0])
    late = length_s > in_time
    counted_s = max(0.0, (min(measured_s, every_s) if late else measured_s) - off)
    if unshown:
        return Stretch(first.utc, end.utc, length_s, counted_s, "continuity not shown", unshown[0])
    why = "the look came late: one interval counts" if late else ""
    return Stretch(first.utc, end.utc, length_s, counted_s, "late" if late else "in time", why)
