"""What does a job's number say?

`A31-0417` is the 417th job of bench A in 2031. It names the journal, and nothing else about the unit.
"""

import re
from dataclasses import dataclass

from passcheck.errors import FileFault

_FORM = re.compile(r"([A-Z])(\d\d)-(\d{4,7})", re.ASCII)
_CENTURY = 2000


@dataclass(frozen=True, slots=True, order=True)
class JobNumber:
    """A number taken apart; in order of year, then count."""

    year: int
    count: int
    letter: str

    def __str__(self) -> str:
        return f"{self.letter}{self.year % 100:02d}-{self.count:04d}"


def job_number(text: str) -> JobNumber:
    """Take a number apart. Raises FileFault for any other text, so that a number never leads out of the folder."""
    found = _FORM.fullmatch(text)
    if found is None:
        raise FileFault(f"{text[:40]!a} is not a job number. One looks like A31-0417; 'passcheck jobs' lists them.")
    return JobNumber(_CENTURY + int(found[2]), int(found[3]), found[1])


def year_numbered(at: str) -> int:
    """The year of a moment (UTC, as a line has it) as numbers tell it: by two digits, whatever the century.

    A clock whose battery is empty says 1970.
    """
    return _CENTURY + int(at[2:4])


def is_job_number(text: str) -> bool:
    """Whether the text has the form of a job's number."""
    return _FORM.fullmatch(text) is not None
