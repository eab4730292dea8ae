"""What do the records hold of one job, read once, so that all that is made of it is made of the same bytes?"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from passcheck.errors import FileFault
from passcheck.records.agreement import Entry, Kept, LedgerRead, LedgerSeen, compare
from passcheck.records.closed_ledger import Chain, chain_of
from passcheck.records.disk import Disk, FileFacts
from passcheck.records.journal_file import JournalFile, State, examine, torn_facts
from passcheck.records.ledger import LEDGER, ledger_faults
from passcheck.records.remedy import if_there
from passcheck.records.shop import LogFolder
from passcheck.records.signers import ALLOWED

SIGNATURE = ".sig"
_HASH_MEMBER = len(',"hash":"')
_HEX = 64
_HASH_TAIL = _HASH_MEMBER + _HEX + len('"}')
_DIGEST = re.compile(r"[0-9a-f]{64}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a line stands in its file, for `sed -n NUMBERp`, `head -c` and `tail -c`."""

    number: int
    """Counts from 1, as editors do; bytes that a crash left count as lines too."""
    end: int
    """The byte after it, its line feed included."""
    covered: int
    """So many first bytes of the file are what its hash was made of."""
    hash: str

    @property
    def hash_from_end(self) -> int:
        """So many last bytes of the line begin with its hash."""
        return self.end - self.covered - _HASH_MEMBER


def place_of(data: bytes, end: int) -> Place:
    """The place of a whole line from the byte after it."""
    stop = _stop(data, end)
    return Place(1 + data.count(b"\n", 0, stop), end, stop - _HASH_TAIL, _hash_at(data, end))


@dataclass(frozen=True)  # no slots: what is worked out once is kept beside the members
class Evidence:
    """A job's journal and all that stands beside it, as bytes.

    `signature` and `signers` are None where there are none.
    """

    job: str
    journal: bytes
    ledger: bytes
    signature: bytes | None = None
    signers: bytes | None = None
    closed: Mapping[str, bytes] = field(default_factory=dict)
    """The closed ledgers that the ledger vouches for, itself or through one of them, by file name."""
    practice: bool = False
    """It lies among the journals of practice."""

    @property
    def name(self) -> str:
        """The journal's file name."""
        return f"{self.job}.jsonl"

    @cached_property
    def file(self) -> JournalFile:
        """How far the journal's bytes can be believed."""
        return examine(self.journal)

    @cached_property
    def ledger_file(self) -> JournalFile | None:
        """How far the ledger's bytes can be believed; None where there is no ledger."""
        return examine(self.ledger) if self.ledger else None

    @cached_property
    def chain(self) -> Chain:
        """The closed ledgers, as the ledger tells of them and as they are."""
        return chain_of(LEDGER, self.ledger_file, self._closed)

    @cached_property
    def ledgers(self) -> tuple[LedgerRead, ...]:
        """The closed ledgers that are there, the oldest first, then the present one; none before the first job."""
        newest = (LedgerRead(LEDGER, self.ledger_file, self.ledger),) if self.ledger_file is not None else ()
        return (*self.chain.read(lambda name: self.closed[name]), *newest)

    @cached_property
    def said(self) -> tuple[Entry, ...]:
        """What the ledgers say of this job in lines that hold, the oldest ledger first."""
        return self._seen.of(self.job)

    @cached_property
    def marks(self) -> tuple[str, ...]:
        """What stays said of this job since a damaged ledger was closed over it; nothing of any other job."""
        return self.chain.concerned(self.job)

    @cached_property
    def damage(self) -> tuple[str, ...]:
        """What no crash can have done to these bytes, as sentences that name file and place; none when all is well."""
        altered = self.ledger_file is not None and self.ledger_file.state is State.ALTERED
        ledger = (*(ledger_faults(LEDGER, self.ledger_file) if altered else ()), *self.chain.faults)
        found = compare(Kept(self.job, self.practice, self.journal, self.file), self._seen).altered
        # Where the journal holds by itself, what is wrong with the ledger may be why the two don't agree.
        return (*found, *ledger) if self.file.state is State.ALTERED else (*ledger, *found)

    @cached_property
    def _seen(self) -> LedgerSeen:
        return LedgerSeen(self.ledgers, altered=bool(self.chain.faults), concerned=self.chain.marked)

    def _closed(self, name: str) -> tuple[JournalFile, FileFacts | None]:
        data = self.closed.get(name)
        return examine(data or b""), FileFacts(len(data), 1, 0, (0, 0)) if data is not None else None


def gather(logs: LogFolder, job_id: str, disk: Disk | None = None) -> Evidence:
    """Read a job's journal, the ledger and, where there is one, the signature with the list of who may sign.

    Raises FileFault when there is no such job or a private key lies where a public one belongs, BenchFailed when the
    disk refuses.
    """
    disk = disk or Disk()
    path = logs.journal_path(job_id)
    # The ledger first: a line that is written meanwhile goes into the journal before it goes into the ledger, so the
    # ledger that was read never names bytes that the journal read after it doesn't have yet.
    ledger = logs.ledger.read_bytes()
    closed = _closed_before(ledger, logs.root, disk)
    journal = if_there(lambda: disk.read_all(path), path)
    if journal is None:
        raise FileFault(f"{path}: there is no job {job_id} on this bench. 'passcheck jobs' lists them.")
    signature = _public(path.with_name(path.name + SIGNATURE), disk.read_all)
    # Practice is signed by the same people: the list is the bench's own.
    bench = logs.root.parent if logs.practice else logs.root
    signers = _public(bench / ALLOWED, disk.read_behind) if signature is not None else None
    return Evidence(job_id, journal, ledger, signature, signers, closed, logs.practice)


def _closed_before(ledger: bytes, folder: Path, disk: Disk) -> Mapping[str, bytes]:
    """The closed ledgers that are there of those which the ledger vouches for."""
    found: dict[str, bytes] = {}

    def look(name: str) -> tuple[JournalFile, FileFacts | None]:
        data = if_there(lambda: disk.read_all(folder / name), folder / name)
        if data is not None:
            found[name] = data
        return examine(data or b""), None

    chain_of(LEDGER, examine(ledger) if ledger else None, look)
    return found


def exact(evidence: Evidence) -> Mapping[str, object]:
    """Every line with all its members, as JSON values: written again in the canonical form they are the journal.

    Bytes that a crash left and that were mended aren't among them; their `mended` line tells place, length and SHA-256.
    What a crash left at the very end is told by `torn_tail`, a line feed that is due by `line_feed_due`; without them
    the journal ends as it should.

    Raises FileFault when the journal was altered: then its bytes say more than its lines.
    """
    file = evidence.file
    if file.state is State.ALTERED:
        raise FileFault(
            f"{evidence.name}, {file.fault}. It was altered outside passcheck, so its lines can't be told exactly. "
            "'passcheck export JOB --to FOLDER' hands its bytes over as they are."
        )
    lines = [
        {
            "#": line.number, "at": line.at, "by": line.by, "clock": line.clock, "data": line.data, "event": line.event,
            "hash": _hash_at(evidence.journal, end),
        }
        for line, end in zip(file.lines, file.ends, strict=True)
    ]  # fmt: skip
    told: dict[str, object] = {
        "job": evidence.job,
        "journal_sha256": file.digest,
        "bytes": file.size,
        "lines": lines,
    }
    if file.torn_from is not None:
        told["torn_tail"] = torn_facts(evidence.journal[file.torn_from :], file.torn_from)
    elif file.line_feed_due:
        told["line_feed_due"] = True
    return told


def is_digest(text: str) -> bool:
    """Whether a text is a SHA-256 in hexadecimal and nothing else, so that it may stand in a command."""
    return _DIGEST.fullmatch(text) is not None


def _stop(data: bytes, end: int) -> int:
    return end - (data[end - 1 : end] == b"\n")


def _hash_at(data: bytes, end: int) -> str:
    stop = _stop(data, end)
    return data[stop - _HEX - 2 : stop - 2].decode("ascii", "replace")


def _public(path: Path, read: Callable[[Path], bytes]) -> bytes | None:
    data = if_there(lambda: read(path), path)
    if data is not None and b"PRIVATE KEY" in data:
        raise FileFault(f"{path}: a private key lies there. Take it away from the records; nothing was handed over.")
    return data
