"""What did earlier visits of a unit leave, and what is different now?

Everything is told of a visit beside the one before it: how long the unit was away, whether the same block was reworked,
and what each step read as it left and as it came back.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from passcheck.job.archive_rows import AttemptRow, JobRow, SaidRow, TouchRow
from passcheck.job.moment import Moment
from passcheck.job.time_away import Away, away_before, so_far
from passcheck.job.visit_drift import Drift, drift, moves


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit as the archive has it: attempts are those that stand as found and those that count as left."""

    job: JobRow
    attempts: tuple[AttemptRow, ...]
    touched: tuple[TouchRow, ...]
    said: tuple[SaidRow, ...]


@dataclass(frozen=True, slots=True)
class ToldVisit:
    """One visit beside the one before it.

    Attributes:
        place: counted from 1, the oldest.
        visit: its rows.
        away: how long the unit was gone before; None at the first visit.
        finding: whether the block of the visit before was reworked again; "" at the first visit.
        remarks: what was another board or revision then.
    """

    place: int
    visit: Visit
    away: Away | None
    finding: str
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TouchedBlock:
    """One block; for each visit what was done to it (`rework 1, 3`), or ""."""

    board: str
    block: str
    done: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StepAtVisit:
    """A step at one visit: as found, as left, and what changed since the unit left at the visit before."""

    found: AttemptRow | None
    left: AttemptRow | None
    since: Drift | None


@dataclass(frozen=True, slots=True)
class StepHistory:
    """One step over all visits; `moves` says whether it went the same way each time, or ""."""

    board: str
    step: str
    title: str
    visits: tuple[StepAtVisit, ...]
    moves: str


@dataclass(frozen=True, slots=True)
class UnitHistory:
    """All that the records say of one unit, the oldest visit first.

    `now_words` say how long the last visit is open, or how long ago it ended; dates everywhere are UTC.
    """

    visits: tuple[ToldVisit, ...]
    blocks: tuple[TouchedBlock, ...]
    steps: tuple[StepHistory, ...]
    now_words: str

    def step(self, step: str) -> StepHistory | None:
        """A step by its id, on the board of the latest visit that walked it; None where none did."""
        return next((one for one in reversed(self.steps) if one.step == step), None)


def story(visits: Sequence[Visit], now: Moment | str) -> UnitHistory:
    """Tell the visits of one unit, given the oldest first.

    Args:
        visits: as the archive has them.
        now: this moment, or its UTC as the archive's rows have it.
    """
    before = (None, *visits)
    told = tuple(
        _told(place, last, one) for place, (last, one) in enumerate(zip(before, visits, strict=False), start=1)
    )
    at = datetime.fromisoformat(now) if isinstance(now, str) else now.utc
    return UnitHistory(told, _blocks(visits), _steps(visits), so_far(visits[-1].job, at) if visits else "")


def reworked(visit: Visit) -> tuple[str, ...]:
    """The blocks that were reworked, in the order of the work."""
    return tuple(dict.fromkeys(one.block for one in visit.touched if one.kind == "rework" and one.block))


def _told(place: int, last: Visit | None, visit: Visit) -> ToldVisit:
    if last is None:
        return ToldVisit(place, visit, None, "", ())
    away = away_before(last.job, visit.job)
    return ToldVisit(place, visit, away, _finding(last, visit), tuple(_remarks(last, visit)))


def _finding(last: Visit, visit: Visit) -> str:
    """In which way this visit is a return of the one before: the same block, another one, nothing, not reproduced."""
    now, then = reworked(visit), reworked(last)
    again = [block for block in now if block in then and visit.job.board == last.job.board]
    if again:
        return f"same block reworked: {', '.join(again)}"
    if now:
        return f"other block: {', '.join(now)}; at the visit before {', '.join(then) or 'nothing'} was reworked"
    if "not reproduced" in visit.job.outcome:
        return visit.job.outcome
    return "nothing reworked" if visit.job.ended else "nothing reworked yet"


def _remarks(last: Visit, visit: Visit) -> list[str]:
    if last.job.board != visit.job.board:
        return [f"it was tested as {last.job.board} then, as {visit.job.board} now: nothing is compared"]
    if last.job.revision != visit.job.revision:
        return [f"sequence revision {last.job.revision} then, {visit.job.revision} now: steps may ask for other things"]
    return []


def _blocks(visits: Sequence[Visit]) -> tuple[TouchedBlock, ...]:
    keys = dict.fromkeys((one.board, one.block) for visit in visits for one in visit.touched if one.block)
    return tuple(TouchedBlock(*key, tuple(_done(visit, *key) for visit in visits)) for key in keys)


def _done(visit: Visit, board: str, block: str) -> str:
    """`rework 1, 3; incident 2`."""
    kinds: dict[str, list[str]] = {}
    for one in visit.touched:
        if (one.board, one.block) == (board, block):
            kinds.setdefault(one.kind, []).append(str(one.number))
    return "; ".join(f"{kind} {', '.join(dict.fromkeys(numbers))}" for kind, numbers in kinds.items())


def _steps(visits: Sequence[Visit]) -> tuple[StepHistory, ...]:
    """Every step that was walked, in the order in which it first was, under its latest title."""
    titles: dict[tuple[str, str], str] = {}
    for visit in visits:
        for row in sorted(visit.attempts, key=lambda one: one.number):
            titles[row.board, row.step] = row.title
    return tuple(_step(visits, *key, title) for key, title in titles.items())


def _step(visits: Sequence[Visit], board: str, step: str, title: str) -> StepHistory:
    cells: list[StepAtVisit] = []
    for visit in visits:
        rows = [row for row in visit.attempts if (row.board, row.step) == (board, step)]
        found, left = _latest(row for row in rows if row.as_found), _latest(row for row in rows if row.as_left)
        last = cells[-1].left if cells else None
        since = drift(last, found) if last is not None and found is not None else None
        cells.append(StepAtVisit(found, left, since))
    return StepHistory(board, step, title, tuple(cells), moves([cell.since for cell in cells if cell.since]))


def _latest(rows: Iterable[AttemptRow]) -> AttemptRow | None:
    return max(rows, key=lambda row: row.number, default=None)
