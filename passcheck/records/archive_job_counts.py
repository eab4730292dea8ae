"""What do the archive's jobs say, with the blocks and parts of their rework, counted by board and month?

The statements are read alike by SQLite, PostgreSQL and DuckDB.
"""

from collections import Counter
from dataclasses import dataclass, field
from typing import Final

from passcheck.job.counts import BlockWork, FirstTries, JobsMonth, OutAndBack, PartMonth
from passcheck.records.archive_scope import Scope

_JOBS: Final = "SELECT COUNT(*) FROM job WHERE {here}"
_FIRST_TRIES: Final = """
    SELECT board, COUNT(CASE WHEN first_try = 1 THEN 1 END), COUNT(*) FROM job
    WHERE first_try IS NOT NULL AND {here} GROUP BY board"""
_MONTHS: Final = """
    SELECT board, month, COUNT(CASE WHEN released = 0 THEN 1 END), COUNT(CASE WHEN released = 1 THEN 1 END)
    FROM (SELECT board, substr(opened_at, 1, 7) AS month, 0 AS released FROM job WHERE {here}
        UNION ALL
        SELECT board, substr(ended_at, 1, 7), 1 FROM job WHERE ended = 'signed off' AND {here}) AS happened
    GROUP BY board, month"""
_PARTS: Final = """
    SELECT board, substr("at", 1, 7), part, part_number, COUNT(*), COUNT(DISTINCT job) FROM part
    WHERE {here} GROUP BY board, substr("at", 1, 7), part, part_number"""
# The inner one makes one row of all that was done to a block in a job.
_BLOCKS: Final = """
    SELECT board, block, signed_off, fault, shown, COUNT(*)
    FROM (SELECT job, board, block, MAX(CASE WHEN confirmed IS NULL THEN 0 ELSE 1 END) AS signed_off,
            MAX(CASE WHEN confirmed = 1 THEN 1 ELSE 0 END) AS fault,
            MAX(CASE WHEN confirmed = 1 THEN shown_by ELSE '' END) AS shown
        FROM touched WHERE kind = 'rework' AND block <> '' AND {here} GROUP BY job, board, block) AS work
    GROUP BY board, block, signed_off, fault, shown"""
# A time is twenty characters, so that the least of time and job in one text is the earliest arrival after a release.
_OUT_AND_BACK: Final = """
    SELECT released.ended_at, released.job, released.serial, released.board, back.opened_at, back.job, back.ended
    FROM (SELECT * FROM job WHERE ended = 'signed off' AND {here}) AS released
    LEFT JOIN (SELECT went.job, MIN(came.opened_at || came.job) AS first
        FROM job AS went JOIN job AS came
            ON came.serial = went.serial AND came.board = went.board AND came.practice = went.practice
            AND came.opened_at > went.ended_at
        WHERE went.ended = 'signed off' GROUP BY went.job) AS next ON next.job = released.job
    LEFT JOIN job AS back ON back.job = substr(next.first, 21)
    ORDER BY released.ended_at, released.job"""
_WORKED_ON: Final = "SELECT job, block FROM touched WHERE block <> '' AND {here}"


def job_count(scope: Scope) -> int:
    """How many jobs there are."""
    found: int = scope.rows(_JOBS)[0][0]
    return found


def first_tries(scope: Scope) -> tuple[FirstTries, ...]:
    """How many units passed their first acceptance run at once; one that came twice counts twice."""
    return tuple(FirstTries(*row) for row in sorted(scope.rows(_FIRST_TRIES)))


def jobs_months(scope: Scope) -> tuple[JobsMonth, ...]:
    """What came and what was released, month by month in UTC."""
    return tuple(JobsMonth(*row) for row in sorted(scope.rows(_MONTHS)))


def part_months(scope: Scope) -> tuple[PartMonth, ...]:
    """What was replaced, month by month in UTC."""
    return tuple(PartMonth(*row) for row in sorted(scope.rows(_PARTS)))


def out_and_back(scope: Scope) -> tuple[OutAndBack, ...]:
    """Every release with the same unit's next arrival after it, in the order of the releases.

    A unit is a board and a serial, because makers of two boards may number alike. A visit that was opened before the
    release, with the unit still here, is no return.
    """
    worked_on: dict[str, set[str]] = {}
    for job, block in scope.rows(_WORKED_ON):
        worked_on.setdefault(job, set()).add(block)
    none: set[str] = set()

    def same_block(job: str, back_job: str | None, ended: str | None) -> int | None:
        if back_job is None or ended != "signed off":
            return None
        return int(bool(worked_on.get(job, none) & worked_on.get(back_job, none)))

    return tuple(
        OutAndBack(job, serial, board, out_at, back_at, back, same_block(job, back, ended))
        for out_at, job, serial, board, back_at, back, ended in sorted(scope.rows(_OUT_AND_BACK))
    )


@dataclass(slots=True)
class _Work:
    """What was done to one block so far."""

    jobs: int = 0
    signed_off: int = 0
    confirmed: int = 0
    shown: Counter[str] = field(default_factory=Counter)


def block_work(scope: Scope) -> tuple[BlockWork, ...]:
    """The blocks that rework was done to; the entries of one job on one block are one."""
    sums: dict[tuple[str, str], _Work] = {}
    for board, block, signed_off, fault, shown, jobs in scope.rows(_BLOCKS):
        work = sums.setdefault((board, block), _Work())
        work.jobs += jobs
        work.signed_off += jobs * signed_off
        work.confirmed += jobs * fault
        for step in set(shown.split()):
            work.shown[step] += jobs
    return tuple(
        BlockWork(*key, of.jobs, of.signed_off, of.confirmed, _the_most_first(of.shown))
        for key, of in sorted(sums.items(), key=lambda item: item[0])
    )


def _the_most_first(shown: Counter[str]) -> tuple[tuple[str, int], ...]:
    return tuple(sorted(shown.items(), key=lambda one: (-one[1], one[0])))
