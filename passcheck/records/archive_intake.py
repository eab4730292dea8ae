"""How does one journal become rows that may be believed?

It is walked line by line and held against its name and the ledger, as `verify` does it; one that the ledger knows as
sealed, to its last byte, is hashed once. A journal that holds what no crash leaves gives no rows but a sentence that
says why. This needs nothing but the journal's bytes and what the ledger
says of this one job, so that other processes can do it.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from operator import itemgetter
from pathlib import Path
from typing import Any, Final

from passcheck.errors import FileFault, PasscheckError
from passcheck.job.archived import archived
from passcheck.job.ending import is_seal
from passcheck.job.fold import ReadSequence, fold
from passcheck.job.journal_line import Line
from passcheck.job.replay import recorded
from passcheck.records.agreement import (
    OPENED,
    SEALED,
    Entry,
    Kept,
    LedgerSeen,
    compare,
    misplaced,
    other_texts,
    prefix_digests,
    stands_elsewhere,
)
from passcheck.records.archive_journals import JOURNAL, Looks
from passcheck.records.archive_tables import KEYS, column_types, rows_of
from passcheck.records.disk import Disk
from passcheck.records.journal_file import State, examine
from passcheck.records.line_codec import SEQUENCE_EVENTS
from passcheck.records.many_lines import lines_vouched_for
from passcheck.records.verified import Standing, standing_of

UNREAD: Final = "unread"
Rows = tuple[tuple[str, list[tuple[Any, ...]]], ...]
"""Table by table, the values of its rows."""
_MALFORMED = (PasscheckError, ValueError, LookupError, ArithmeticError, StopIteration)
"""What lines that hold and make no sense can lead to: another program wrote them, or a later version."""


@dataclass(frozen=True, slots=True)
class ToRead:
    """A journal that is to be read.

    Attributes:
        job: the job whose name it lies under.
        path: where.
        looks: as it looked before it was read; what is written later makes it look different.
        practice: it lies among the journals of practice.
        said: what the ledger says of this job.
        ledger_altered: some lines of the ledger can't be believed.
    """

    job: str
    path: Path
    looks: Looks
    practice: bool
    said: tuple[Entry, ...]
    ledger_altered: bool


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What became of a journal.

    Attributes:
        digest: SHA-256 of it, in hexadecimal; "" where its bytes couldn't be had.
        standing: as `verify` has it, or `unread`.
        fault: why it is unread, or "".
        again: nobody can tell by its looks when it may be read, so it is tried at every turn.
        stands_on: the place in the ledger that its first line names, for whoever has the ledger.
        rows: none while it is unread.
    """

    job: str
    looks: Looks
    digest: str
    standing: str
    fault: str = ""
    again: bool = False
    stands_on: tuple[object, object] = (None, None)
    rows: Rows = ()


class _SaidOfOne(LedgerSeen):
    """What the ledger says of one job, in a process that hasn't the ledger."""

    def __init__(self, journal: ToRead) -> None:
        super().__init__((), altered=journal.ledger_altered)
        self._entries = journal.said

    def of(self, job: str) -> tuple[Entry, ...]:  # noqa: ARG002 - there is only one
        return self._entries

    def carries(self, job: str, first: Line) -> bool:  # noqa: ARG002 - asked of the ledger itself, by `carried`
        return True


def read(journal: ToRead, read_sequence: ReadSequence, disk: Disk) -> TakenIn:
    """Read a journal and make its rows; one that can't be had is unread and hides no other."""
    try:
        data = disk.read_all(journal.path)
    except OSError as fault:
        why = f"{journal.path.name}: it can't be read ({fault.strerror or fault}). Look at what lies there."
        return TakenIn(journal.job, journal.looks, "", UNREAD, why, again=True)
    return _understood(journal, data, read_sequence)


def carried(taken: TakenIn, ledger: LedgerSeen, name: str) -> TakenIn:
    """The same, or unread where the ledger isn't the one that the job was opened on; older jobs first, then it's fast.

    Args:
        taken: what became of a journal.
        ledger: the ledger itself, as it was read before the journals.
        name: the journal's file name.
    """
    size, digest = taken.stands_on
    first = Line(0, "", "", 0, OPENED, {"ledger_bytes": size, "ledger_digest": digest})
    found = stands_elsewhere(name, taken.job, first, ledger)
    return _unread(taken, found) if found and taken.standing != UNREAD else taken


def _understood(journal: ToRead, data: bytes, read_sequence: ReadSequence) -> TakenIn:
    digest = _vouched_for(data, journal.said)
    lines = lines_vouched_for(data) if digest else None
    if not lines or not is_seal(lines[-1]):
        return _walked(journal, data, read_sequence)
    # Every byte is the one that was sealed, so its lines need no hashes of their own, as `verify` has it.
    taken = TakenIn(journal.job, journal.looks, digest, Standing.SEALED.value)
    name = f"{journal.job}{JOURNAL}"
    texts = ((len(data), line) for line in lines if line.event in SEQUENCE_EVENTS)
    faults = (*misplaced(name, journal.job, lines[0], practice=journal.practice), *other_texts(name, data, texts))
    return _unread(taken, faults) if faults else _with_rows(taken, lines, read_sequence)


def _vouched_for(data: bytes, said: Sequence[Entry]) -> str:
    """SHA-256 of a journal that the ledger knows as sealed, to its last byte; "" where its lines have to be walked."""
    seals = {entry.bytes for entry in said if entry.event == SEALED}
    if seals != {len(data)} or not any(entry.event == OPENED for entry in said):
        return ""
    digests = prefix_digests(data, (entry.bytes for entry in said))
    agrees = all(digests.get(entry.bytes) == entry.digest for entry in said)
    return digests[len(data)] if agrees else ""


def _walked(journal: ToRead, data: bytes, read_sequence: ReadSequence) -> TakenIn:
    file = examine(data)
    found = compare(Kept(journal.job, journal.practice, data, file), _SaidOfOne(journal))
    verified = standing_of(journal.job, found, file.digest, sealed=file.sealed)
    taken = TakenIn(journal.job, journal.looks, file.digest, verified.standing.value)
    if verified.standing is Standing.ALTERED:
        return _unread(taken, verified.faults)
    return _with_rows(taken, file.lines, read_sequence)


def _with_rows(taken: TakenIn, lines: Sequence[Line], read_sequence: ReadSequence) -> TakenIn:
    first = lines[0].data
    stands_on = (first.get("ledger_bytes"), first.get("ledger_digest"))
    try:
        rows = _rows(lines, taken.digest, read_sequence)
    except _MALFORMED as fault:
        words = str(fault).rstrip(".") if isinstance(fault, PasscheckError) else "its events make no job"
        return _unread(taken, [f"{taken.job}{JOURNAL}: {words}. 'passcheck show {taken.job}' says more."])
    return replace(taken, stands_on=stands_on, rows=rows)


def _rows(lines: Sequence[Line], digest: str, read_sequence: ReadSequence) -> Rows:
    events = tuple(recorded(lines))
    rows = tuple(rows_of(archived(fold(events, read_sequence), events, digest)))
    for table, values in rows:
        if len({_key(table)(row) for row in values}) < len(values):
            raise FileFault(f"two rows of '{table}' have one number, as passcheck never gives them")
    return rows


def rows_of_journal(data: bytes, read_sequence: ReadSequence) -> Rows:
    """The rows of a journal that somebody vouches for. Raises FileFault where it makes no job."""
    file = examine(data)
    if file.state is not State.WHOLE:
        raise FileFault(f"a journal: {file.fault}")
    return _rows(file.lines, file.digest, read_sequence)


@cache
def _key(table: str) -> Callable[[tuple[Any, ...]], object]:
    names = [name for name, _words in column_types(table)]
    return itemgetter(*map(names.index, KEYS[table]))


def _unread(taken: TakenIn, faults: Sequence[str]) -> TakenIn:
    return TakenIn(taken.job, taken.looks, taken.digest, UNREAD, " ".join(faults))
