"""What do the archive's attempts say, counted by step, instrument, month and time?

The statements are read alike by SQLite, PostgreSQL and DuckDB: whatever they do differently (division, rounding, the
order of texts) is done here. Each goes over the attempts once. Voids are left out; an attempt that something else
struck did happen and is counted.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from passcheck.job.counts import InstrumentVerdicts, MonthMargins, StepSeconds, StepVerdicts, UnderReview
from passcheck.records.archive_scope import Scope

_JUDGED: Final = """
    SELECT board, step, title, purpose, instrument, verdict, COUNT(*), MAX("at") FROM attempt
    WHERE struck_by <> 'void' AND {here}
    GROUP BY board, step, title, purpose, instrument, verdict"""
_MARGINS: Final = """
    SELECT board, step, substr("at", 1, 7), COUNT(*), AVG(margin), AVG(margin * margin), MIN(margin) FROM attempt
    WHERE as_left = 1 AND verdict = 'pass' AND margin IS NOT NULL AND struck_by <> 'void' AND {here}
    GROUP BY board, step, substr("at", 1, 7)"""
_SECONDS: Final = """
    SELECT board, step, seconds, COUNT(*) FROM attempt
    WHERE struck_by <> 'void' AND seconds IS NOT NULL AND {here}
    GROUP BY board, step, seconds"""
_REVIEW: Final = """
    SELECT reading."at", reading.job, reading.number, job.serial, job.board, reading.step, reading.title,
        reading.figure, reading.verdict, reading.as_left, job.ended
    FROM (SELECT * FROM attempt
        WHERE instrument = :instrument AND "at" >= :since
            AND struck_by <> 'void' AND verdict <> 'not measured' AND {here}) AS reading
    JOIN job ON job.job = reading.job"""

ROUNDED_TO_S: Final = 5
DIGITS: Final = 12
"""Significant digits of a mean: two engines, or two threads, add up in different orders."""
FIRST_OF_THE_DATE: Final = timedelta(hours=-14)
"""When a date begins where it begins first on earth, against the same midnight in UTC."""


@dataclass(frozen=True, slots=True)
class Judged:
    """How often one step ended in one verdict, and when last."""

    board: str
    step: str
    title: str
    purpose: str
    instrument: str
    verdict: str
    times: int
    last: str


def judged(scope: Scope) -> tuple[Judged, ...]:
    """The one pass over all attempts that most of the other counts are made of."""
    return tuple(Judged(*row) for row in scope.rows(_JUDGED))


def titles(found: Iterable[Judged]) -> dict[tuple[str, str], str]:
    """The latest title of each step, by board and step: a later revision may have worded it better."""
    latest: dict[tuple[str, str], tuple[str, str]] = {}
    for one in found:
        key = one.board, one.step
        latest[key] = max(latest.get(key, ("", "")), (one.last, one.title))
    return {key: title for key, (_last, title) in latest.items()}


def step_verdicts(found: Iterable[Judged], names: Mapping[tuple[str, str], str]) -> tuple[StepVerdicts, ...]:
    """How often each step ended how, by purpose."""
    sums: dict[tuple[str, str, str], Counter[str]] = {}
    for one in found:
        sums.setdefault((one.board, one.step, one.purpose), Counter())[one.verdict] += one.times
    return tuple(
        StepVerdicts(board, step, names[board, step], purpose, *(of[verdict] for verdict in _IN_ORDER))
        for (board, step, purpose), of in sorted(sums.items(), key=lambda item: item[0])
    )


_IN_ORDER: Final = ("pass", "fail", "in doubt", "not measured")


def instrument_verdicts(found: Iterable[Judged]) -> tuple[InstrumentVerdicts, ...]:
    """How many readings with each instrument were judged, and how many of those left doubt.

    What was not measured is no reading, so it makes no share of doubt smaller.
    """
    judgements: Counter[tuple[str, str, str]] = Counter()
    doubts: Counter[tuple[str, str, str]] = Counter()
    for one in found:
        if one.instrument and one.verdict != "not measured":
            key = one.instrument, one.board, one.step
            judgements[key] += one.times
            doubts[key] += one.times * (one.verdict == "in doubt")
    return tuple(InstrumentVerdicts(*key, judgements[key], doubts[key]) for key in sorted(judgements))


def month_margins(scope: Scope, names: Mapping[tuple[str, str], str]) -> tuple[MonthMargins, ...]:
    """The margins of a step as units left, month by month; a unit that came twice in a month counts twice."""
    return tuple(
        MonthMargins(board, step, names[board, step], month, units, _steady(mean), _steady(square_mean), least)
        for board, step, month, units, mean, square_mean, least in sorted(scope.rows(_MARGINS))
    )


def _steady(mean: float) -> float:
    return float(f"{mean:.{DIGITS}g}")


def step_seconds(scope: Scope, names: Mapping[tuple[str, str], str]) -> tuple[StepSeconds, ...]:
    """How often each step took how long."""
    sums: Counter[tuple[str, str, int]] = Counter()
    for board, step, seconds, attempts in scope.rows(_SECONDS):
        sums[board, step, (seconds + ROUNDED_TO_S // 2) // ROUNDED_TO_S * ROUNDED_TO_S] += attempts
    return tuple(
        StepSeconds(board, step, names[board, step], seconds, sums[board, step, seconds])
        for board, step, seconds in sorted(sums)
    )


def under_review(scope: Scope, doubtful: Mapping[str, date]) -> tuple[UnderReview, ...]:
    """Every reading with a doubtful instrument since the day of its last good check, that day included.

    Where on earth the shop stands isn't asked: readings count from the moment at which that date began anywhere. A
    reading too many costs a look; one too few leaves a doubtful unit out there.
    """
    return tuple(
        UnderReview(instrument, job, serial, board, step, title, number, at, figure, verdict, as_left, ended)
        for instrument in sorted(doubtful)
        for at, job, number, serial, board, step, title, figure, verdict, as_left, ended in sorted(
            scope.rows(_REVIEW, instrument=instrument, since=_since(doubtful[instrument]))
        )
    )


def _since(day: date) -> str:
    begins = day + timedelta(days=-1), 24 + FIRST_OF_THE_DATE // timedelta(hours=1)
    return f"{begins[0].isoformat()}T{begins[1]:02}:00:00Z"
