"""Papers without a page: what the records say is given, and what would be made is written down.

papers = HeadsAtHand({"A31-0001": head})
maker = MakerAtHand(rig, possible=("findings",))      # rig.shop.papers is it from here
assert maker.made == [("A31-0001", "findings")]
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from rig import Rig

from passcheck.errors import FileFault
from passcheck.job.label_match import Match
from passcheck.job.made_paper import MadePaper
from passcheck.job.record_head import RecordHead
from passcheck.job.state import Job
from passcheck.report.label import both, label


def head_of(digest: str = "ab" * 32, *, sealed: bool = True) -> RecordHead:
    """A journal and a ledger that end somewhere."""
    return RecordHead(4096, digest, sealed, 900, "cd" * 32)


@dataclass(frozen=True)
class HeadsAtHand:
    """What the records say of jobs."""

    heads: Mapping[str, RecordHead]

    def head(self, job_id: str) -> RecordHead:
        return self.heads[job_id]

    def journal(self, job_id: str) -> bytes:
        raise FileFault(f"{job_id}: no bytes here")

    def keep(self, job_id: str, name: str, data: bytes) -> str:
        raise FileFault(f"{job_id}: {name} is kept nowhere")


@dataclass
class MakerAtHand:
    """Makes papers of the rig's jobs; `before` is called in the thread that asks, and may wait or raise."""

    rig: Rig
    kinds: tuple[str, ...] = ("test-record", "release-note")
    remarks: tuple[str, ...] = ()
    before: Callable[[], None] | None = None
    digest: str = "ab" * 32
    made: list[tuple[str, str]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.rig.shop.papers = self

    def possible(self, job: Job) -> tuple[str, ...]:
        return self.kinds

    def make(self, job_id: str, kind: str) -> MadePaper:
        if self.before is not None:
            self.before()
        self.made.append((job_id, kind))
        return MadePaper(f"logs/papers/2031/{job_id}-{kind}.pdf", self.remarks)

    def label(self, job_id: str) -> tuple[str, ...]:
        if self.before is not None:
            self.before()
        job = self.rig.shop.look(job_id)
        return label(job, self._head(job), 12)

    def both(self, job_id: str, label_text: str, serial: str) -> Match:
        if self.before is not None:
            self.before()
        job = self.rig.shop.look(job_id)
        return both(label_text, serial, job, self._head(job))

    def _head(self, job: Job) -> RecordHead:
        return head_of(self.digest, sealed=job.ended is not None)
