"""What does an archive count, wherever it lies?

The same statements for SQLite, PostgreSQL and Parquet files, and the same answers in the same order: texts are put in
order here, because databases differ in how they order them.
"""

from collections.abc import Mapping
from datetime import date

from passcheck.job.counts import Counts
from passcheck.records import archive_attempt_counts as of_attempts
from passcheck.records import archive_job_counts as of_jobs
from passcheck.records.archive_scope import Ask, scope_of


def counts(ask: Ask, board: str | None, doubtful: Mapping[str, date], practice: int = 0) -> Counts:
    """Everything that the figures need, of one board or of all.

    `Counts.attempts` are those that were counted: without voids. A month is one of UTC.

    Args:
        ask: puts a statement to the database; the answers are of one moment when it asks within one transaction.
        board: the sequence's name.
        doubtful: instruments found out of tolerance, with the day of their last good check.
        practice: 1 counts jobs of practice and nothing else, 0 leaves them out.
    """
    scope = scope_of(ask, board, practice)
    judged = of_attempts.judged(scope)
    titles = of_attempts.titles(judged)
    return Counts(
        jobs=of_jobs.job_count(scope),
        attempts=sum(one.times for one in judged),
        first_tries=of_jobs.first_tries(scope),
        verdicts=of_attempts.step_verdicts(judged, titles),
        instruments=of_attempts.instrument_verdicts(judged),
        margins=of_attempts.month_margins(scope, titles),
        seconds=of_attempts.step_seconds(scope, titles),
        out_and_back=of_jobs.out_and_back(scope),
        blocks=of_jobs.block_work(scope),
        parts=of_jobs.part_months(scope),
        months=of_jobs.jobs_months(scope),
        review=of_attempts.under_review(scope, doubtful),
    )
