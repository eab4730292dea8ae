"""What did earlier visits of a unit leave, and what is different now?"""

from dataclasses import dataclass

from passcheck.job.archive_rows import AttemptRow, JobRow, SaidRow, TouchRow


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit as the archive has it: attempts are those that stand as found and those that count as left."""

    job: JobRow
    attempts: tuple[AttemptRow, ...]
    touched: tuple[TouchRow, ...]
    said: tuple[SaidRow, ...]
