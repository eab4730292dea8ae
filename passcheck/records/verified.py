"""Can a job's records still be believed?

Nothing here writes, locks or mends: it works on a folder that only may be read, and while another process writes. The
ledger is read before the journal, so that a line that comes in between looks like a ledger that is a little behind,
never like an altered journal; and where the files changed meanwhile, they are looked at again.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path

from passcheck.errors import FileFault
from passcheck.job.ending import is_seal
from passcheck.job.journal_line import Line
from passcheck.records.agreement import (
    BACKUP,
    OPENED,
    SEALED,
    Entry,
    Findings,
    LedgerSeen,
    Prefixes,
    compare,
    misplaced,
    other_texts,
    sequence_text,
    stands_elsewhere,
)
from passcheck.records.disk import FileFacts
from passcheck.records.job_number import JobNumber, is_job_number, job_number
from passcheck.records.journal_file import State
from passcheck.records.line_codec import SEQUENCE_EVENTS, NotALineError, decode_line
from passcheck.records.shop import JOURNAL, LogFolder

LOOKS = 3
"""How often a job is looked at while another process writes it; what it finds then is told as it is."""
_REVISED = b'"event":"sequence revised"'
_BESIDE = re.compile(r"(?P<job>.+)\.jsonl(|\.lock|\.new|\.sig|\.unsynced|\.suspect(-\d+)?)", re.ASCII | re.DOTALL)
"""What lies in a year's folder: journals, and what belongs to one."""
_SHOWN = 60


class Standing(Enum):
    """What may be believed of a job's records."""

    SEALED = "sealed"
    """Whole, and the ledger knows the seal."""
    OPEN = "open"
    """Whole, and not sealed by the ledger's word."""
    TORN = "torn"
    """Its end was cut short, as a crash or a full disk leaves it."""
    ALTERED = "altered"
    """No crash leaves this."""
    UNKNOWN = "unknown to the ledger"
    """Whole, and the ledger has no opening of it, as a crash leaves it, or somebody who put the journal there."""


@dataclass(frozen=True, slots=True)
class Verified:
    """How a job's records stand."""

    job: str
    standing: Standing
    faults: tuple[str, ...]
    """Why it stands so, where it isn't as it should be; each names file, line and what to do."""
    remarks: tuple[str, ...]
    """What is worth knowing and takes nothing from the records."""
    digest: str
    """SHA-256 of the whole journal in hexadecimal; empty when there is none."""
    against: tuple[str, ...] | None = None
    """What stood against its ending, by its own events (`walked_again`); None where nobody asked, or nobody can tell.

    It takes nothing from the standing, which is about the records, and everything from the release.
    """


@dataclass(frozen=True, slots=True)
class Looked:
    """A job that was looked at."""

    verified: Verified
    sequence: str | None
    """The text of the sequence that the job stands on, the last one that it was given; None when it can't be told."""
    sealed_at: str | None = None
    """`at` of the line that sealed it, whether or not the ledger knows of it; None while there is none."""
    sealed_by: str | None = None
    """Who sealed it, by that line."""


@dataclass(frozen=True, slots=True)
class VerifiedLedger:
    """How the ledger itself stands."""

    state: State | None
    """None before the first job."""
    faults: tuple[str, ...]
    size: int
    digest: str
    """SHA-256 of the whole ledger in hexadecimal."""


def verify_job(logs: LogFolder, job_id: str) -> Verified:
    """How one job stands.

    Raises FileFault when neither a journal nor the ledger knows it, BenchFailed when its files can't be read.
    """
    return Verifier(logs).look(job_id).verified


def verify_all(logs: LogFolder) -> tuple[Verified, ...]:
    """Every journal of the folder and every job that only the ledger knows, the oldest first.

    Raises BenchFailed when a file can't be read.
    """
    verifier = Verifier(logs)
    return tuple(verifier.look(job).verified for job in verifier.jobs())


def verify_ledger(logs: LogFolder) -> VerifiedLedger:
    """How the ledger stands. Raises BenchFailed when it can't be read."""
    file, (size, digest) = logs.ledger.file(), logs.ledger.position()
    if file is None and logs.job_ids():
        # It is begun before the first journal, so no crash leaves one without it.
        name = logs.ledger.path.name
        missing = f"{name}: it is missing, and there are journals. Look for it in a backup before you open a job."
        return VerifiedLedger(State.ALTERED, (missing,), size, digest)
    if logs.ledger.chain().faults:  # a closed ledger is part of it
        return VerifiedLedger(State.ALTERED, logs.ledger.faults(), size, digest)
    return VerifiedLedger(file.state if file else None, logs.ledger.faults(), size, digest)


def remarks_on_folder(logs: LogFolder) -> tuple[str, ...]:
    """What lies among the journals and is none, and numbers that nothing is known of; it takes nothing from any job.

    Raises BenchFailed when the folder can't be read.
    """
    known = set(Verifier(logs).jobs())
    return (*_strays(logs, known), *_gaps(sorted(map(job_number, known))))


class Verifier:
    """Looks at jobs; the ledger is read once for all of them, and again when it has changed."""

    def __init__(self, logs: LogFolder) -> None:
        """Nothing is read before the first question."""
        self._logs = logs
        self._seen: LedgerSeen | None = None
        self._seen_at: tuple[FileFacts | None, ...] = ()

    def jobs(self) -> tuple[str, ...]:
        """Every job that has a journal or is named by the ledger, the oldest first."""
        named = {job for job in self._ledger().jobs if is_job_number(job) and str(job_number(job)) == job}
        return tuple(map(str, sorted(map(job_number, named.union(self._logs.job_ids())))))

    def knows(self, job_id: str) -> bool:
        """Whether there is such a job; False for a text that is no job number, too."""
        if not is_job_number(job_id):
            return False
        return bool(self._ledger().of(job_id)) or self._logs.facts_of(self._logs.journal_path(job_id)) is not None

    def look(self, job_id: str) -> Looked:
        """How a job stands, and by which text it is walked. Raises FileFault, BenchFailed; see `verify_job`."""
        job_id = str(job_number(job_id))
        path = self._logs.journal_path(job_id)
        for _ in range(LOOKS - 1):
            before = self._logs.facts_of(path)
            found = self._once(job_id)
            if _is_quiet(found.verified) or not self._written_since(path, before):
                return found
            self._seen = None
        return self._once(job_id)

    def _written_since(self, path: Path, before: FileFacts | None) -> bool:
        return (self._logs.facts_of(path), self._logs.ledger.facts()) != (before, self._seen_at)

    def _ledger(self) -> LedgerSeen:
        if self._seen is None:
            self._seen_at = self._logs.ledger.facts()
            self._seen = self._logs.seen_ledger()
        return self._seen

    def _once(self, job_id: str) -> Looked:
        """What is found, and last what stays said of the job since a damaged ledger was closed over it."""
        found, marks = self._found(job_id), self._logs.concerned(job_id)
        if not marks:
            return found
        return replace(found, verified=replace(found.verified, remarks=(*found.verified.remarks, *marks)))

    def _found(self, job_id: str) -> Looked:
        ledger = self._ledger()
        data = self._logs.journal_bytes(job_id)
        if data is None:
            return Looked(self._missing(job_id, ledger), None)
        sealed = _as_sealed(data, ledger.of(job_id))
        if sealed is not None:
            return self._confirmed(job_id, data, sealed, ledger)
        kept = self._logs.kept(job_id, data)
        found = compare(kept, ledger, self._logs.fails)
        verified = standing_of(job_id, found, kept.file.digest, sealed=kept.file.sealed)
        text = sequence_text(kept.file.lines) if not found.altered else None
        if not kept.file.sealed:
            return Looked(verified, text)
        return Looked(verified, text, kept.file.lines[-1].at, kept.file.lines[-1].by)

    def _missing(self, job_id: str, ledger: LedgerSeen) -> Verified:
        if not ledger.of(job_id):
            raise FileFault(f"There is no job {job_id} on this bench. 'passcheck jobs' lists them.")
        fault = f"{ledger.place_of(job_id)}: it names {job_id}, and the journal {job_id}{JOURNAL} is missing. {BACKUP}"
        return Verified(job_id, Standing.ALTERED, (fault,), (), "")

    def _confirmed(self, job_id: str, data: bytes, sealed: "_Sealed", ledger: LedgerSeen) -> Looked:
        name, first = f"{job_id}{JOURNAL}", sealed.carrying[0][1]
        faults = (
            *misplaced(name, job_id, first, practice=self._logs.practice),
            *stands_elsewhere(name, job_id, first, ledger),
            *other_texts(name, data, sealed.carrying),
        )
        standing = Standing.ALTERED if faults else Standing.SEALED
        text = None if faults else sequence_text(line for _, line in sealed.carrying)
        return Looked(Verified(job_id, standing, faults, (), sealed.digest), text, sealed.at, sealed.by)


@dataclass(frozen=True, slots=True)
class _Sealed:
    """A sealed journal that the ledger vouches for, to its last byte."""

    carrying: tuple[tuple[int, Line], ...]
    """The lines that carry a sequence, the opening first, each behind a number of first bytes that ends in it."""
    digest: str
    at: str
    """When it was sealed."""
    by: str
    """By whom."""


def _as_sealed(data: bytes, said: Sequence[Entry]) -> _Sealed | None:
    """What is known of a sealed journal after one pass of SHA-256 over it; None when its lines have to be walked.

    Nothing is lost by not walking them: the ledger's `sealed` names the digest of every byte, so the file is the very
    one that was sealed; a ledger that was rewritten to fit another file would fit its lines as well. The last line's
    own hash, which is checked too, covers every byte before it, so that whoever changed a line had to make at least
    that one anew. A fault needs its place, so anything that doesn't agree at once is left to the walk.
    """
    opened = any(entry.event == OPENED for entry in said)
    seals = {entry.bytes for entry in said if entry.event == SEALED}
    if not opened or seals != {len(data)} or not data.endswith(b"\n"):
        return None
    starts = (0, *_starts(data, _REVISED), data.rfind(b"\n", 0, -1) + 1)
    prefixes = Prefixes(data)
    # Rising, so that the whole takes one pass; a copy is kept of each place that is asked for.
    running = {size: prefixes.running(size) for size in sorted({*starts, *(entry.bytes for entry in said)})}
    digests = {size: digest.hexdigest() for size, digest in running.items() if digest is not None}
    if any(digests.get(entry.bytes) != entry.digest for entry in said):
        return None
    try:
        lines = [
            (start + 1, decode_line(data[start : data.find(b"\n", start)], before))
            for start in starts
            if (before := running[start]) is not None
        ]
    except NotALineError:
        return None
    if not is_seal(lines[-1][1]):
        return None
    carrying = (lines[0], *(one for one in lines[1:] if one[1].event in SEQUENCE_EVENTS))
    return _Sealed(carrying, digests[len(data)], lines[-1][1].at, lines[-1][1].by)


def _starts(data: bytes, mark: bytes) -> Iterator[int]:
    """The first byte of each line that holds these bytes, in order."""
    place = data.find(mark)
    while place >= 0:
        yield data.rfind(b"\n", 0, place) + 1
        end = data.find(b"\n", place)
        place = data.find(mark, end) if end >= 0 else -1


def standing_of(job_id: str, found: Findings, digest: str, *, sealed: bool) -> Verified:
    """Where the ledger is behind, the journal is as good as it was; what was to be told is said with what to do."""
    if found.altered:
        return Verified(job_id, Standing.ALTERED, found.altered, (), digest)
    if found.torn:
        return Verified(job_id, Standing.TORN, found.torn, found.lacking, digest)
    lacks = [entry.event for entry in found.lacks]
    if OPENED in lacks:
        return Verified(job_id, Standing.UNKNOWN, found.lacking[:1], found.lacking[1:], digest)
    # A seal that the ledger doesn't know is one that anybody may have written there: it isn't called sealed yet.
    standing = Standing.SEALED if sealed and SEALED not in lacks else Standing.OPEN
    return Verified(job_id, standing, (), found.lacking, digest)


def _is_quiet(verified: Verified) -> bool:
    """Whether nothing was found that a line written meanwhile could explain."""
    return not verified.faults and not verified.remarks


def _strays(logs: LogFolder, known: set[str]) -> Iterator[str]:
    for year in logs.names():
        if not (year.isdecimal() and year.isascii()):
            yield f"{_shown('jobs', year)}: only folders of a year belong there. Look at what it is, and move it away."
            continue
        for name in logs.names(year):
            stray = _stray(year, name, known)
            if stray is not None:
                yield f"{_shown('jobs', year, name)}: {stray}"


def _stray(year: str, name: str, known: set[str]) -> str | None:
    """Why a file doesn't belong in that year's folder; None for a journal and for what lies beside one."""
    beside = _BESIDE.fullmatch(name)
    if beside is None or not is_job_number(beside["job"]):
        return "it is no journal. Look at what it is, and move it away."
    number = job_number(beside["job"])
    if str(number) != beside["job"]:
        return f"the journal of that job would be {number}{JOURNAL}. Look at what it is, and move it away."
    if str(number.year) != year:
        return f"it belongs in jobs/{number.year}, and nobody reads it here. Look at what it is, and move it."
    if str(number) not in known:
        return (
            "neither a journal nor the ledger tells of that job. passcheck was stopped before the job was begun, "
            "or both were taken away: look for them in a backup."
        )
    return None


def _gaps(numbers: Sequence[JobNumber]) -> Iterator[str]:
    """Within a year counts rise by one, whatever the letter; no crash makes a number that was never given."""
    before = JobNumber(0, 0, "")
    for number in numbers:
        count = 1 + (before.count if before.year == number.year else 0)
        if number.count > count:
            first, last = replace(number, count=count), replace(number, count=number.count - 1)
            which = f"There is no job {first}" if first == last else f"There are no jobs {first} to {last}"
            yield f"{which}, and numbers are given without a gap. Look for them in a backup."
        before = number


def _shown(*names: str) -> str:
    """A path as it may stand in a sentence: a name may hold anything, a line feed too."""
    return "/".join(name if name.isascii() and name.isprintable() else f"{name[:_SHOWN]!a}" for name in names)
