"""A small bench whose jobs stand in every way that records can."""

import hashlib
from collections.abc import Callable
from pathlib import Path

from journal_lines import a_fail, a_line, opening, sign_off, stamp

from passcheck.job.journal_line import Line
from passcheck.records.journal import Journal
from passcheck.records.line_codec import encode_line, new_digest
from passcheck.records.shop import LogFolder

SEALED, OPEN, TORN, ALTERED, MISSING, UNKNOWN = (f"A31-{count:04d}" for count in range(1, 7))


def logs_in(folder: Path, *, practice: bool = False) -> LogFolder:
    """The folder as another process finds it."""
    return LogFolder(folder, "A", practice=practice, stamp=stamp)


def a_job(logs: LogFolder, *lines: Line, first: Callable[[str, tuple[int, str]], Line] = opening) -> tuple[str, Path]:
    """A job that was carried as far as these lines and let go, the ledger told as it should be."""
    job, journal = logs.new_job(first)
    for line in lines:
        journal.append([line], fail=line.event == "attempt judged", seal=line.event == "signed off")
    journal.close()
    return job, journal.path


def written(*lines: Line) -> bytes:
    """The bytes of a journal whose every hash is right, whoever wrote it."""
    running, data = new_digest(), b""
    for line in lines:
        encoded = encode_line(line, running)
        running.update(encoded)
        data += encoded
    return data


def every_standing(folder: Path) -> LogFolder:
    """One job for each name above, the journal of `MISSING` taken away."""
    logs = logs_in(folder)
    a_job(logs, a_line(1), a_fail(2), sign_off(3))
    a_job(logs, a_line(1), a_fail(2))
    _, torn = a_job(logs, a_line(1), a_line(2))
    torn.write_bytes(torn.read_bytes()[:-9])
    _, altered = a_job(logs, a_line(1), a_line(2))
    altered.write_bytes(altered.read_bytes().replace(b"note 1", b"note 8"))
    _, missing = a_job(logs, a_line(1))
    missing.unlink()
    Journal.create(logs.journal_path(UNKNOWN), [opening(UNKNOWN, logs.ledger.position())], stamp=stamp).close()
    return logs


def tree(folder: Path) -> dict[str, tuple[int, str]]:
    """Every name below a folder with its time and its bytes' SHA-256: equal when nothing was touched."""
    return {
        str(path.relative_to(folder)): (
            path.stat().st_mtime_ns,
            hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else "",
        )
        for path in sorted(folder.rglob("*"))
    }
