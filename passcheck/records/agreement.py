"""Do a job's journal, the name it lies under and the ledger tell the same story?

Each ledger line about a job names a number of the journal's first bytes and their SHA-256; so every one of them is
checked the same way, by `head -c BYTES JOURNAL | sha256sum`. The journal is always written first: a crash can leave
the ledger behind its journal, and never ahead of it.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from passcheck.job.ending import is_failure
from passcheck.job.journal_line import Line
from passcheck.records.journal_file import JournalFile, State
from passcheck.records.line_codec import SEQUENCE_EVENTS, Digest, NotALineError, decode_line, new_digest

OPENED = "job opened"
FAILED = "failed"
SEALED = "sealed"
BACKUP = "Look for the unaltered journal in a backup."


@dataclass(frozen=True, slots=True)
class Entry:
    """What the ledger says of a job: at this event, its journal began with these bytes."""

    event: str
    job: str
    bytes: int
    digest: str

    def facts(self, *, late: bool) -> dict[str, object]:
        """The data of the ledger's line; `late` marks a line that the journal was ahead of."""
        facts: dict[str, object] = {"bytes": self.bytes, "digest": self.digest, "job": self.job}
        return facts | {"late": True} if late else facts


def entries(ledger: Iterable[Line]) -> tuple[Entry, ...]:
    """The ledger's lines about jobs, in order."""
    return tuple(entry for entry in map(_entry, ledger) if entry is not None)


def _entry(line: Line) -> Entry | None:
    job, size, digest = line.data.get("job"), line.data.get("bytes"), line.data.get("digest")
    if isinstance(job, str) and isinstance(size, int) and isinstance(digest, str):
        return Entry(line.event, job, size, digest)
    return None


class Prefixes:
    """SHA-256 of a file's first n bytes, for one n after another; as long as n rises, all together cost one pass."""

    def __init__(self, data: bytes) -> None:
        """Nothing is hashed yet."""
        self._data = data
        self._running, self._done = new_digest(), 0

    def running(self, size: int) -> Digest | None:
        """The digest of the first `size` bytes, to go on with; None when there aren't so many."""
        if not 0 <= size <= len(self._data):
            return None
        if size < self._done:
            self._running, self._done = new_digest(), 0
        self._running.update(self._data[self._done : size])
        self._done = size
        return self._running.copy()

    def digest(self, size: int) -> str | None:
        """The same in hexadecimal."""
        running = self.running(size)
        return running.hexdigest() if running is not None else None


def prefix_digests(data: bytes, sizes: Iterable[int]) -> dict[int, str]:
    """SHA-256 of the first n bytes for each n that the data has, in one pass."""
    prefixes = Prefixes(data)
    found = ((size, prefixes.digest(size)) for size in sorted(set(sizes)))
    return {size: digest for size, digest in found if digest is not None}


@dataclass(frozen=True, slots=True)
class LedgerRead:
    """A ledger's file as it was read; `data` may have got longer since `file` was made from it."""

    name: str
    file: JournalFile
    data: bytes


class LedgerSeen:
    """One reading of the ledger, for as many jobs as you like; the older jobs first, then it is hashed once."""

    def __init__(
        self, ledgers: Sequence[LedgerRead], *, altered: bool = False, concerned: frozenset[str] = frozenset()
    ) -> None:
        """Take the ledgers.

        Args:
            ledgers: those that were closed, the oldest first, then the present one; none before the first job.
            altered: a closed one is not what was closed.
            concerned: jobs that somebody answered for by name when the ledger they were opened on was closed.
        """
        self.altered = altered or any(one.file.state is State.ALTERED for one in ledgers[-1:])
        """Some lines can't be believed, so what the others don't say may have been said."""
        self._concerned = concerned
        self._begins = [Prefixes(one.data) for one in ledgers] or [Prefixes(b"")]
        self._said: dict[str, list[Entry]] = {}
        self._first: dict[str, tuple[LedgerRead, int]] = {}
        for one in ledgers:
            for line, end in zip(one.file.lines, one.file.ends, strict=True):
                entry = _entry(line)
                if entry is not None:
                    self._said.setdefault(entry.job, []).append(entry)
                    self._first.setdefault(entry.job, (one, end))

    @property
    def jobs(self) -> tuple[str, ...]:
        """Every job that it names, as it names them."""
        return tuple(self._said)

    def of(self, job: str) -> tuple[Entry, ...]:
        """What it says of a job."""
        return tuple(self._said.get(job, ()))

    def place_of(self, job: str) -> str:
        """File and line that name a job first, the line counted from 1."""
        ledger, end = self._first[job]
        return f"{ledger.name}, line {line_at(ledger.data, end)}"

    def carries(self, job: str, first: Line) -> bool:
        """Whether a ledger still begins as it did when the job was opened, or it was answered for that none does."""
        return job in self._concerned or any(stands_on(first, begins) for begins in self._begins)


@dataclass(frozen=True, slots=True)
class Kept:
    """A journal as it was read."""

    job: str
    """The job whose name it lies under."""
    practice: bool
    """It lies among the journals of practice."""
    data: bytes
    file: JournalFile

    @property
    def name(self) -> str:
        """The file's name, as sentences begin."""
        return f"{self.job}.jsonl"


@dataclass(frozen=True, slots=True)
class Findings:
    """What is wrong with a job's records, as sentences; nothing when all is well."""

    altered: tuple[str, ...] = ()
    """What no crash leaves."""
    torn: tuple[str, ...] = ()
    lacks: tuple[Entry, ...] = ()
    """What the ledger should say and doesn't: a crash between the two files leaves that."""
    lacking: tuple[str, ...] = ()
    """A sentence for each of `lacks`."""


def compare(kept: Kept, ledger: LedgerSeen, fails: Callable[[Line], bool] = is_failure) -> Findings:
    """Hold a journal against its name and the ledger; `fails` tells which lines the ledger has to name."""
    name, file, data = kept.name, kept.file, kept.data
    if file.state is State.ALTERED:
        return Findings((f"{name}, {file.fault}. It was altered outside passcheck. Look for it in a backup.",))
    torn = (f"{name}, {file.fault}. Its end was cut short; open the job and it is mended.",)
    said = ledger.of(kept.job)
    lines = zip(file.ends, file.lines, strict=True)
    lacks = due(kept.job, file, data, said, fails)
    return Findings(
        altered=(
            *misplaced(name, kept.job, file.lines[0], practice=kept.practice),
            *contradictions(name, file, data, said),
            *stands_elsewhere(name, kept.job, file.lines[0], ledger),
            *other_texts(name, data, lines),
        ),
        torn=torn if file.state is State.TORN else (),
        lacks=lacks,
        lacking=tuple(_lacking(name, data, entry, ledger) for entry in lacks),
    )


def due(
    job: str, file: JournalFile, data: bytes, said: Sequence[Entry], fails: Callable[[Line], bool] = is_failure
) -> tuple[Entry, ...]:
    """What the ledger should say of a job and doesn't, from its journal and the ledger's entries about it."""
    if not file.lines:
        return ()
    missing: list[tuple[str, int]] = []
    if not any(entry.event == OPENED for entry in said):
        missing.append((OPENED, file.ends[0]))
    failed_to = max((entry.bytes for entry in said if entry.event == FAILED), default=0)
    missing += [
        (FAILED, end) for line, end in zip(file.lines, file.ends, strict=True) if fails(line) and end > failed_to
    ]
    if file.sealed and not any(entry.event == SEALED for entry in said):
        missing.append((SEALED, file.ends[-1]))
    digests = prefix_digests(data, (size for _, size in missing))
    return tuple(Entry(event, job, size, digests[size]) for event, size in missing if size in digests)


def contradictions(name: str, file: JournalFile, data: bytes, said: Sequence[Entry]) -> tuple[str, ...]:
    """Each entry of the ledger that the journal can't be squared with, as a sentence; `name` is the file's."""
    digests = prefix_digests(data, (entry.bytes for entry in said))
    agreeing = [entry.bytes for entry in said if digests.get(entry.bytes) == entry.digest]
    found = [_difference(name, entry, data, agreeing) for entry in said if digests.get(entry.bytes) != entry.digest]
    seals = [entry.bytes for entry in said if entry.event == SEALED]
    last = line_at(data, len(data))
    if seals and not file.sealed:
        found.append(
            f"{name}, line {last}: the ledger says that it was sealed, and its seal is gone. Look for it in a backup."
        )
    elif any(size in agreeing and size < len(data) for size in seals):
        found.append(f"{name}, line {last}: it goes on after the bytes that the ledger says were sealed. {BACKUP}")
    return tuple(found)


def misplaced(name: str, job: str, first: Line, *, practice: bool) -> tuple[str, ...]:
    """Whether a journal lies under another job's name, or on the wrong side between practice and the bench."""
    found = []
    if first.event != OPENED or first.data.get("job") != job:
        other = first.data.get("job")
        of = f"names {other[:40]!a}" if isinstance(other, str) else "names no job"
        found.append(
            f"{name}, line 1: '{OPENED}' {of}, so this is another's journal under this name. "
            f"Take it away, and look for that of {job} in a backup."
        )
    # A journal from before there was practice has no mark and is of a real unit.
    made_in_practice = bool(first.data.get("practice", False))
    if made_in_practice and not practice:
        found.append(
            f"{name}, line 1: it was made in practice and is no evidence of a unit. "
            "Move it back to the folder of practice."
        )
    if practice and not made_in_practice:
        found.append(
            f"{name}, line 1: it is of a real unit and lies among those of practice. "
            "Move it back to where it was copied from."
        )
    return tuple(found)


def stands_on(first: Line, ledger: Prefixes) -> bool:
    """Whether the ledger still begins with the bytes that the journal's first line was written on."""
    size, digest = first.data.get("ledger_bytes"), first.data.get("ledger_digest")
    if not isinstance(size, int) or not isinstance(digest, str):
        return True  # a sample without a place in a ledger claims nothing
    return ledger.digest(size) == digest


def stands_elsewhere(name: str, job: str, first: Line, ledger: LedgerSeen) -> tuple[str, ...]:
    """A sentence when the ledger isn't the one that the job was opened on."""
    if ledger.carries(job, first):
        return ()
    return (
        f"{name}, line 1: the ledger no longer begins as it did when the job was opened. "
        "Look for that ledger in a backup; if the job is another bench's, give its journal back.",
    )


def other_texts(name: str, data: bytes, lines: Iterable[tuple[int, Line]]) -> tuple[str, ...]:
    """A sentence for each line, behind a number of first bytes that ends in it, whose sequence isn't as its digest."""
    found = []
    for size, line in lines:
        text, digest = line.data.get("sequence_text"), line.data.get("sequence_digest")
        carries = line.event in SEQUENCE_EVENTS and isinstance(text, str) and isinstance(digest, str)
        if carries and _digest_of(str(text)) != digest:
            where = f"{name}, line {line_at(data, size)}"
            found.append(f"{where}: the sequence that it keeps is not the one that its digest names. {BACKUP}")
    return tuple(found)


def sequence_text(lines: Iterable[Line]) -> str | None:
    """The text that a job stands on: that of its opening, or of its last new revision; None when it can't be told."""
    texts = [line.data.get("sequence_text") for line in lines if line.event in SEQUENCE_EVENTS]
    return texts[-1] if texts and isinstance(texts[-1], str) else None


def first_line(data: bytes) -> Line | None:
    """A journal's first line; None when its bytes aren't one."""
    try:
        return decode_line(data.split(b"\n", 1)[0], new_digest())
    except NotALineError:
        return None


def _digest_of(text: str) -> str:
    """As `sequence.load.digest`, without loading all that reads sequences: no start has to wait for that."""
    running = new_digest()
    running.update(text.encode("utf-8"))
    return running.hexdigest()


def line_at(data: bytes, size: int) -> int:
    """The line, counted from 1 as editors do, that the last of the first `size` bytes belongs to."""
    return 1 + data.count(b"\n", 0, max(size - 1, 0))


def _difference(name: str, entry: Entry, data: bytes, agreeing: Sequence[int]) -> str:
    said = f"the ledger's {entry.event[:40]!a} names its first {entry.bytes} bytes"
    if entry.bytes > len(data):
        return f"{name}, line {line_at(data, len(data))}: {said}, and it ends here with {len(data)}. {BACKUP}"
    before = max((size for size in agreeing if size < entry.bytes), default=0)
    so_far = f"; up to line {line_at(data, before)} they agree" if before else ""
    return f"{name}, line {line_at(data, entry.bytes)}: {said}, and up to here they are others now{so_far}. {BACKUP}"


def _lacking(name: str, data: bytes, entry: Entry, ledger: LedgerSeen) -> str:
    where = f"{name}, line {line_at(data, entry.bytes)}"
    if ledger.altered:
        return f"{where}: what can still be believed of the ledger doesn't know of '{entry.event}'. See to it first."
    if entry.event == OPENED:
        return (
            f"{where}: the ledger doesn't know of '{OPENED}'. A crash while the unit was taken in leaves that: "
            "open the job and the ledger is told. If there was none, find out who put the file here."
        )
    return f"{where}: the ledger doesn't know of '{entry.event}' yet; open the job and it is told."
