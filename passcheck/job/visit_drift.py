"""Did a step read otherwise when the unit came back than when it left?

The two readings know nothing of each other: between visits an instrument may have been adjusted, so no part of its
error is taken to cancel, as it is within one visit (`before_after.py`).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from passcheck.job.archive_rows import AttemptRow
from passcheck.job.before_after import OF_A_DIFFERENCE, Difference
from passcheck.judge.quantity import show_limit, six
from passcheck.judge.sentence import decade
from passcheck.judge.student import student_quantile

APART: Final = (
    "Readings of two visits are taken to be independent: an instrument may have been adjusted between them, so none of "
    "its error is taken to cancel."
)
FEWEST_MOVES: Final = 2  # so three visits at least
_TWO_SIDED_95: Final = student_quantile(0.975, math.inf)
_WORST_OF_SEVERAL: Final = "presses"  # of other kinds the archive keeps no number where there were several


@dataclass(frozen=True, slots=True)
class Drift:
    """One step as the unit left, and as it was found at the next visit.

    Attributes:
        left, found: the two attempts.
        change: found less left with its uncertainty; None where the two can't be compared as numbers.
        words: one clause that says what changed, or why that can't be told.
        remarks: what else is different, and so may be the reason.
    """

    left: AttemptRow
    found: AttemptRow
    change: Difference | None
    words: str
    remarks: tuple[str, ...]

    @property
    def short(self) -> str:
        """The words for a narrow column."""
        return self.change.short if self.change is not None else self.words

    @property
    def changed(self) -> bool:
        """True where the two can't be the same."""
        return self.change is not None and self.change.changed


def drift(left: AttemptRow, found: AttemptRow) -> Drift | None:
    """What became of a step's number between two visits; None for a step that has none."""
    if left.value is None and found.value is None:
        return None
    change = _change(left, found)
    words = _why_not(left, found) if change is None else change.words
    return Drift(left, found, change, words, tuple(_remarks(left, found)))


def moves(drifts: Sequence[Drift]) -> str:
    """Whether a number went the same way each time it was compared, counted and nothing more; "" where it didn't.

    Two moves the same way are what chance alone gives for every second unit, so it is only said where at least one of
    them is more than the readings can tell.
    """
    latest = drifts[-1].found.unit if drifts else ""
    known = [one.change for one in drifts if one.change is not None and one.found.unit == latest]
    ways = {math.copysign(1, change.value) if change.value else 0 for change in known}
    beyond = sum(change.changed for change in known)
    if len(known) < FEWEST_MOVES or len(ways) > 1 or 0 in ways or not beyond:
        return ""
    way = "higher" if ways == {1} else "lower"
    times = f"at {beyond} of them" if beyond < len(known) else "each time"
    return f"{way} at each of {len(known)} returns that can be compared, {times} by more than these readings can tell"


def reach(row: AttemptRow) -> tuple[float, float] | None:
    """From where to where a reading may lie, at 95 %; None without a number or its uncertainty."""
    if row.value is None or not row.u:
        return None
    return row.value - _TWO_SIDED_95 * row.u, row.value + _TWO_SIDED_95 * row.u


def limits_words(row: AttemptRow) -> str:
    """The limits that an attempt was judged by, or "no limits"."""
    low, high = (None if limit is None else show_limit(Decimal(six(limit)), row.unit) for limit in (row.low, row.high))
    if low is not None and high is not None:
        return f"{low} .. {high}"
    return f"at least {low}" if low is not None else f"at most {high}" if high is not None else "no limits"


def _change(left: AttemptRow, found: AttemptRow) -> Difference | None:
    if left.value is None or found.value is None or not (left.u and found.u) or left.unit != found.unit:
        return None
    u = float(six(math.hypot(left.u, found.u)))
    value = Decimal(six(found.value)) - Decimal(six(left.value))
    unit = OF_A_DIFFERENCE.get(found.unit, found.unit)
    return Difference("", Decimal(six(value)), u, _TWO_SIDED_95 * u, decade(u), unit)


def _why_not(left: AttemptRow, found: AttemptRow) -> str:
    if left.value is None or found.value is None:
        return f"no number to compare: {left.verdict} as left, {found.verdict} as found"
    if left.unit != found.unit:
        return f"nothing to compare: {left.unit or 'no unit'} as left, {found.unit or 'no unit'} as found"
    if left.value == found.value:
        return f"the same: {found.figure}"
    return f"{left.figure} as left, {found.figure} as found; no uncertainty is on record"


def _remarks(left: AttemptRow, found: AttemptRow) -> list[str]:
    """What is different beside the number."""
    said = []
    if None not in (left.value, found.value) and limits_words(left) != limits_words(found):
        said.append(f"the limits were {limits_words(left)}, now {limits_words(found)}")
    if left.instrument != found.instrument:
        said.append(f"read with {left.instrument or 'no instrument'}, now with {found.instrument or 'none'}")
    if left.conditions != found.conditions:
        said.append(f"tried under {left.conditions or 'no condition'}, now under {found.conditions or 'none'}")
    if found.kind == _WORST_OF_SEVERAL:
        said.append("each is the worst of several numbers, which need not be the same one")
    return said
