"""Does a journal belong to this shop, or was it copied across between practice and the bench?

A practice job must never pass for evidence of a real unit, so the two never lie in one folder, and a journal that does
is not read, whoever asks for it.
"""

from collections.abc import Callable, Sequence

from passcheck.bench.ports import JobFiles, JournalWriter
from passcheck.errors import FileFault
from passcheck.job.journal_line import Line

_PRACTISED = (
    "Job {job} was made in practice and is no evidence of a unit. Move its journal back to the practice folder."
)
_REAL = "Job {job} is of a real unit, so practice doesn't read it. Move its journal back to where it was copied from."


class OwnJobs:
    """The journals of one bench as its shop sees them: those of the other kind are refused."""

    def __init__(self, files: JobFiles, *, practice: bool) -> None:
        """Stand before these files; `practice` tells which kind of shop asks."""
        self._files = files
        self._practice = practice

    def job_ids(self) -> tuple[str, ...]:
        """Every job that has a journal, the oldest first."""
        return self._files.job_ids()

    def new_job(self, first: Callable[[str, tuple[int, str]], Line]) -> tuple[str, JournalWriter]:
        """Begin a job."""
        return self._files.new_job(first)

    def open_job(self, job_id: str) -> tuple[JournalWriter, tuple[Line, ...]]:
        """A job to write on with; one of the other kind is refused before its journal or the ledger is touched."""
        self.read_job(job_id)
        return self._files.open_job(job_id)

    def read_job(self, job_id: str) -> tuple[Line, ...]:
        """A job's lines. Raises FileFault when it is of the other kind."""
        return own_lines(self._files.read_job(job_id), practice=self._practice)

    def intact(self, job_id: str) -> tuple[str, ...]:
        """What is wrong with the journal or the ledger, as sentences."""
        return self._files.intact(job_id)

    def concerned(self, job_id: str) -> tuple[str, ...]:
        """What stays said of a job that a damaged ledger was closed over, as sentences."""
        return self._files.concerned(job_id)


def own_lines(lines: tuple[Line, ...], *, practice: bool) -> tuple[Line, ...]:
    """The lines of a journal of that kind of shop.

    Raises:
        FileFault: the journal is of the other kind.
    """
    if lines and _is_practice(lines) != practice:
        raise FileFault((_REAL if practice else _PRACTISED).format(job=lines[0].data.get("job")))
    return lines


def _is_practice(lines: Sequence[Line]) -> bool:
    """As the line that opened the job says; journals from before there was practice say nothing and are real."""
    return bool(lines[0].data.get("practice", False))
