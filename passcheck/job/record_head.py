"""What do the records say of a job as a whole, that a paper can print and somebody can check later?"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class RecordHead:
    """The journal to its last byte, and the place in the ledger that names it last.

    Attributes:
        size: bytes of the journal.
        digest: SHA-256 of all of them, in hexadecimal.
        sealed: the last line is one that nothing may follow.
        ledger_bytes: bytes of the ledger to the end of the last line that names this job.
        ledger_digest: SHA-256 of those, in hexadecimal.
        ledger: the name of the ledger's file.
    """

    size: int
    digest: str
    sealed: bool
    ledger_bytes: int
    ledger_digest: str
    ledger: str = "ledger.jsonl"

    @property
    def noted(self) -> str:
        """What `verify --head` takes: the bytes and sixteen digits."""
        return f"{self.ledger_bytes}:{self.ledger_digest[:16]}"
