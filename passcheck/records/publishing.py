"""What has a bench sealed that others may have?

Asked of the bench's own archive, which holds no journal that was altered. Only what the ledger knows as sealed is given
out: it never changes again. Practice stays at its bench.
"""

import sqlite3
from functools import partial

from passcheck.errors import FileFault
from passcheck.records.archive import SqliteArchive
from passcheck.records.shared_archive import Sealed
from passcheck.records.shop import LogFolder
from passcheck.records.verified import Standing

_SEALED = (
    "SELECT job.job, job.bench, job.digest FROM job JOIN taken ON taken.job = job.job "
    "WHERE taken.standing = ? AND job.practice = 0 ORDER BY job.opened_at, job.job"
)


def sealed_jobs(archive: SqliteArchive, logs: LogFolder) -> tuple[Sealed, ...]:
    """Every sealed job of a bench, the oldest first, once its archive has caught up. Raises BenchFailed."""
    return tuple(Sealed(job, bench, digest, partial(_bytes, logs, job)) for job, bench, digest in archive.ask(_sealed))


def _sealed(connection: sqlite3.Connection) -> list[tuple[str, str, str]]:
    return connection.execute(_SEALED, (Standing.SEALED.value,)).fetchall()


def _bytes(logs: LogFolder, job: str) -> bytes:
    data = logs.journal_bytes(job)
    if data is None:
        raise FileFault(f"{job}: its journal is gone. Look for it in a backup.")
    return data
