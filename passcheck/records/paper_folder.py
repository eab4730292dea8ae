"""Where do the papers of a job lie, and what do its records say that goes on them?

`papers/A31-0417/A31-0417-test-record-5f3a9c01.pdf`, below the folder of the records: job, kind and the first digits of
the journal's SHA-256. So each state of a job has papers of its own, and the same state gives the same name. A page on
sheets of US Letter ends in `-letter`, so that it doesn't take the place of the same page on A4.
"""

import re
from collections.abc import Iterator
from pathlib import Path

from passcheck.errors import FileFault, OurBug
from passcheck.job.record_head import RecordHead
from passcheck.records.agreement import LedgerRead, Prefixes, entries
from passcheck.records.disk import Disk
from passcheck.records.evidence import Evidence, gather
from passcheck.records.job_number import job_number
from passcheck.records.ledger import HEAD_CODE_DIGITS, LEDGER
from passcheck.records.remedy import if_there
from passcheck.records.shop import LogFolder
from passcheck.records.whole_file import write_whole

PAPERS = "papers"
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9.-]{0,99}", re.ASCII)


class PaperFolder:
    """The papers of one bench, or of its practice; it fits the port `Papers`."""

    def __init__(self, logs: LogFolder, *, to: Path | None = None, disk: Disk | None = None) -> None:
        """Nothing is read or made yet.

        Args:
            logs: the journals.
            to: another folder to keep papers in; each job's own folder among the records where None.
            disk: where papers are kept.

        Raises:
            FileFault: that folder lies among the records, in which only what passcheck made itself has a place.
        """
        if to is not None and to.resolve().is_relative_to(logs.root.resolve()):
            raise FileFault(f"{to} lies among the records. Name a folder outside {logs.root}, or none.")
        self._logs = logs
        self._to = to
        self._disk = disk or Disk()

    def evidence(self, job_id: str) -> Evidence:
        """Journal and ledger, read once. Raises FileFault when there is no such job, BenchFailed."""
        return gather(self._logs, job_id, self._disk)

    def head(self, job_id: str) -> RecordHead:
        """Journal and ledger of a job as they are now. Raises as `evidence` does."""
        return record_head(self.evidence(job_id))

    def journal(self, job_id: str) -> bytes:
        """Every byte of a job's journal. Raises as `evidence` does."""
        return self.evidence(job_id).journal

    def keep(self, job_id: str, name: str, data: bytes) -> str:
        """Keep a paper under that file name and give its path; the same bytes again write nothing.

        Raises:
            BenchFailed: the disk refuses; nothing stands under the name then, or what stood there before.
        """
        if _NAME.fullmatch(name) is None:
            raise OurBug(f"{name!a} is no name of a paper.")
        job = str(job_number(job_id))
        path = (self._logs.root / PAPERS / job if self._to is None else self._to) / name
        if if_there(lambda: self._disk.read_all(path), path) != data:
            write_whole(path, data, self._disk)
        return str(path)


def paper_name(kind: str, job_id: str, head: RecordHead, ending: str, size: str = "a4") -> str:
    """The file name of a paper of this state of a job; `ending` is `pdf` or `txt`, which has no size of sheets."""
    sheets = "" if size == "a4" else f"-{size}"
    return f"{job_id}-{kind}-{head.digest[:HEAD_CODE_DIGITS]}{sheets}.{ending}"


def record_head(evidence: Evidence) -> RecordHead:
    """What can be printed of these records: the journal to its last byte, the ledger to its last word of the job.

    Later jobs add to the ledger and don't change what is said of this one, so a sealed job keeps its head. A job that
    no ledger names stands on the first none of its bytes.
    """
    size, digest, name = next(_named(evidence), (0, Prefixes(b"").digest(0) or "", LEDGER))
    return RecordHead(
        size=evidence.file.size,
        digest=evidence.file.digest,
        sealed=evidence.file.sealed,
        ledger_bytes=size,
        ledger_digest=digest,
        ledger=name,
    )


def _named(evidence: Evidence) -> Iterator[tuple[int, str, str]]:
    """Where the ledgers name the job last: the present one first, then the closed ones from the latest back."""
    for ledger in reversed(evidence.ledgers):
        end = _last_end(ledger, evidence.job)
        digest = Prefixes(ledger.data).digest(end) if end else None
        if digest is not None:
            yield end, digest, ledger.name


def _last_end(ledger: LedgerRead, job: str) -> int:
    """The byte after the last line that names a job; 0 where none does."""
    lines = zip(reversed(ledger.file.lines), reversed(ledger.file.ends), strict=True)
    return next((end for line, end in lines if any(entry.job == job for entry in entries((line,)))), 0)
