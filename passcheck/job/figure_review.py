"""Which readings are under review, because their instrument was found out of tolerance later?"""

from typing import Final

from passcheck.job.counts import Counts, UnderReview
from passcheck.job.figure import Figure
from passcheck.judge.rounding import counted

TITLE: Final = "Which readings are under review?"
HEADS: Final = ("WITH", "JOB", "UNIT", "STEP", "READING", "VERDICT", "TAKEN", "UNIT IS")
WORDS: Final = (
    "Assess each: how far off was the instrument there, and does the verdict still hold? Write down what was found and "
    "by whom. Nothing is judged anew by itself, and no verdict is taken back here.",
    "What is out comes first; where it says 'counts', the release stood on this very reading. If a verdict doesn't "
    "hold, tell the owner what is doubtful and offer the test again. Use the instrument no more until it is put right.",
    "Listed are readings since the day that bench.yaml gives as `doubtful_since` of their instrument; an instrument "
    "with no such day isn't looked at.",
)
NONE: Final = (
    "No reading is under review: no instrument in bench.yaml has a day `doubtful_since`, or none was used since that "
    "day. After a calibration that found an instrument out of tolerance, enter the day of its last good check there."
)
RELEASED: Final = "signed off"


def review_figure(counts: Counts) -> Figure:
    """A row a reading: of units that were released first, of those the readings that counted first."""
    every = sorted(counts.review, key=_order)
    rows = tuple(_row(one) for one in every)
    words = (_in_all(counts), *WORDS) if rows else (NONE,)
    return Figure("review", TITLE, HEADS, (False,) * len(HEADS), rows, words, long=("STEP", "UNIT"))


def _order(one: UnderReview) -> tuple[object, ...]:
    return one.ended != RELEASED, not one.ended, not one.as_left, one.instrument, one.at, one.job, one.number


def _row(one: UnderReview) -> tuple[str, ...]:
    return one.instrument, one.job, one.serial, one.step, one.figure, one.verdict, one.at[:10], _where(one)


def _where(one: UnderReview) -> str:
    if one.ended == RELEASED:
        return "out, counts" if one.as_left else "out"
    return "returned" if one.ended else "here"


def _in_all(counts: Counts) -> str:
    units = {one.serial for one in counts.review}
    gone = {one.serial for one in counts.review if one.ended == RELEASED}
    taken = f"{counted(len(counts.review), 'reading')} of {counted(len(units), 'unit')}"
    return f"{taken}; {counted(len(gone), 'unit')} of them signed off since."
