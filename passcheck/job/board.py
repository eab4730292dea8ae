"""What does a sequence file of the folder offer to a new job?"""

from dataclasses import dataclass

from passcheck.sequence.model import Sequence


@dataclass(frozen=True, slots=True)
class Board:
    """One sequence file of the folder; `sequence` is None where it can't be used, and `faults` says why."""

    name: str
    path: str
    text: str
    digest: str
    sequence: Sequence | None
    faults: str = ""
