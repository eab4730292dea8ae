"""Which soaking unit is to be looked at next, and did something hit several of them at once?

Made from the tags on the shelf and the present moment alone, so that no journal is read to paint the rack.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final, Literal

from passcheck.job.moment import Moment
from passcheck.job.shelf_row import ShelfRow, SoakTag
from passcheck.job.soak import Due
from passcheck.judge.soak_credit import MISSED_AFTER, grace_s

NOBODY_WATCHES: Final = "Between checks nobody is watching. This screen sees no smoke, heat or current."
Lateness = Literal["waiting", "due", "late", "missed"]


@dataclass(frozen=True, slots=True)
class Place:
    """One place of the rack: the unit, its tag, how late its look is (seconds, negative before) and that in words."""

    row: ShelfRow
    tag: SoakTag
    late_s: float
    lateness: Lateness
    words: str


def rack(rows: Iterable[ShelfRow], moment: Moment) -> tuple[Place, ...]:
    """All soaking units, the one whose look is longest due first."""
    places = [_place(row, row.soak, moment) for row in rows if row.soak is not None and row.ended is None]
    return tuple(sorted(places, key=lambda place: (-place.late_s, place.row.job)))


def _place(row: ShelfRow, tag: SoakTag, moment: Moment) -> Place:
    late_s = Due(datetime.fromisoformat(tag.due_at), tag.due_ms, tag.boot_id).late_s(moment)
    lateness = _lateness(tag, late_s)
    return Place(row, tag, late_s, lateness, _words(tag, lateness, late_s))


def _lateness(tag: SoakTag, late_s: float) -> Lateness:
    if late_s < 0:
        return "waiting"
    if late_s <= grace_s(tag.every_s):
        return "due"
    return "missed" if late_s >= (MISSED_AFTER - 1) * tag.every_s else "late"


def _words(tag: SoakTag, lateness: Lateness, late_s: float) -> str:
    if tag.still_to_pass:
        return f"LOOK OPEN, {tag.still_to_pass} steps to pass" if tag.still_to_pass > 1 else "LOOK OPEN, 1 step to pass"
    if tag.complete:
        return "DONE: end the soak"
    minutes = int(abs(late_s) // 60)
    length = f"{minutes // 60} h {minutes % 60:02d} min" if minutes >= 60 else f"{minutes} min"
    match lateness:
        case "waiting":
            return f"in {length}"
        case "due":
            return "DUE NOW"
        case "late":
            return f"LATE by {length}"
        case "missed":
            return f"MISSED, late by {length}"


def common_cause(rows: Iterable[ShelfRow], offset_min: int) -> tuple[str, ...]:
    """One sentence for each time in which two or more units are not shown to have kept power.

    Args:
        rows: the shelf.
        offset_min: the bench's local offset from UTC, to tell the times as its own clock on the wall shows them.
    """
    lost = sorted(
        (datetime.fromisoformat(tag.lost_from), datetime.fromisoformat(tag.lost_to), row.serial)
        for row in rows
        if (tag := row.soak) is not None and row.ended is None and tag.lost_from
    )
    groups: list[list[tuple[datetime, datetime, str]]] = []
    for one in lost:
        together = groups[-1] if groups else []
        if together and one[0] < min(end for _begin, end, _serial in together):
            together.append(one)
        else:
            groups.append([one])
    return tuple(_told(group, offset_min) for group in groups if len(group) > 1)


def _told(group: Sequence[tuple[datetime, datetime, str]], offset_min: int) -> str:
    """The time that all their stretches share: what hit them all lies in it."""
    local = timedelta(minutes=offset_min)
    begun = max(begin for begin, _end, _serial in group) + local
    ended = min(end for _begin, end, _serial in group) + local
    named = ", ".join(serial for _begin, _end, serial in group[:MOST_NAMED])
    more = f" and {len(group) - MOST_NAMED} more" if len(group) > MOST_NAMED else ""
    return (
        f"{len(group)} units may have lost power between {begun:%d %b %H:%M} and {ended:%H:%M} ({named}{more}): "
        "look first at what feeds them all."
    )


MOST_NAMED: Final = 4
