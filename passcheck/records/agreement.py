"""Do a job's journal and the ledger tell the same story?

Each ledger line about a job names a number of the journal's first bytes and their SHA-256; so every one of them is
checked the same way, by `head -c BYTES JOURNAL | sha256sum`.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from passcheck.job.ending import is_failure
from passcheck.job.journal_line import Line
from passcheck.records.journal_file import JournalFile
from passcheck.records.line_codec import new_digest

OPENED = "job opened"
FAILED = "failed"
SEALED = "sealed"


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
    found = []
    for line in ledger:
        job, size, digest = line.data.get("job"), line.data.get("bytes"), line.data.get("digest")
        if isinstance(job, str) and isinstance(size, int) and isinstance(digest, str):
            found.append(Entry(line.event, job, size, digest))
    return tuple(found)


def prefix_digests(data: bytes, sizes: Iterable[int]) -> dict[int, str]:
    """SHA-256 of the first n bytes for each n that the data has, in one pass."""
    digests: dict[int, str] = {}
    running, done = new_digest(), 0
    for size in sorted(set(sizes)):
        if size > len(data):
            break
        running.update(data[done:size])
        digests[size], done = running.hexdigest(), size
    return digests


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
    found = [
        f"{name}: the ledger's '{entry.event}' names its first {entry.bytes} bytes, and {_difference(entry, data)}. "
        "Look for the unaltered journal in a backup."
        for entry in said
        if digests.get(entry.bytes) != entry.digest
    ]
    if any(entry.event == SEALED for entry in said) and not file.sealed:
        found.append(f"{name}: the ledger says that it was sealed, and its seal is gone. Look for it in a backup.")
    return tuple(found)


def stands_on(first: Line, ledger: bytes) -> bool:
    """Whether the ledger still begins with the bytes that the journal's first line was written on."""
    size, digest = first.data.get("ledger_bytes"), first.data.get("ledger_digest")
    if not isinstance(size, int) or not isinstance(digest, str):
        return True  # a sample without a place in a ledger claims nothing
    return prefix_digests(ledger, (size,)).get(size) == digest


def _difference(entry: Entry, data: bytes) -> str:
    return f"it has only {len(data)}" if entry.bytes > len(data) else "they are others now"
