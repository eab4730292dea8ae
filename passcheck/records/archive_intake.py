"""How does one journal become rows that may be believed?

It is walked line by line and held against its name and the ledger, as `verify` does it: a journal that holds what no
crash leaves gives no rows but a sentence that says why. This needs nothing but the journal's bytes and what the ledger
says of this one job, so that other processes can do it.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from operator import itemgetter
from pathlib import Path
from typing import Any, Final

from passcheck.errors import FileFault, PasscheckError
from passcheck.job.archived import archived
from passcheck.job.fold import ReadSequence, fold
from passcheck.job.journal_line import Line
from passcheck.job.replay import recorded
from passcheck.records.agreement import OPENED, Entry, Kept, LedgerSeen, compare, stands_elsewhere
from passcheck.records.archive_journals import Looks
from passcheck.records.archive_tables import KEYS, column_types, rows_of
from passcheck.records.disk import Disk
from passcheck.records.journal_file import JournalFile, State, examine
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
    file = examine(data)
    kept = Kept(journal.job, journal.practice, data, file)
    found = compare(kept, _SaidOfOne(journal))
    verified = standing_of(journal.job, found, file.digest, sealed=file.sealed)
    taken = TakenIn(journal.job, journal.looks, file.digest, verified.standing.value)
    if verified.standing is Standing.ALTERED:
        return _unread(taken, verified.faults)
    first = file.lines[0].data
    stands_on = (first.get("ledger_bytes"), first.get("ledger_digest"))
    try:
        rows = _rows(file, read_sequence)
    except _MALFORMED as fault:
        words = str(fault).rstrip(".") if isinstance(fault, PasscheckError) else "its events make no job"
        return _unread(taken, [f"{kept.name}: {words}. 'passcheck show {journal.job}' says more."])
    return TakenIn(journal.job, journal.looks, file.digest, taken.standing, stands_on=stands_on, rows=rows)


def rows_of_journal(data: bytes, read_sequence: ReadSequence) -> Rows:
    """The rows of a journal that somebody vouches for. Raises FileFault where it makes no job."""
    file = examine(data)
    if file.state is not State.WHOLE:
        raise FileFault(f"a journal: {file.fault}")
    return _rows(file, read_sequence)


def _rows(file: JournalFile, read_sequence: ReadSequence) -> Rows:
    events = tuple(recorded(file.lines))
    rows = tuple(rows_of(archived(fold(events, read_sequence), events, file.digest)))
    for table, values in rows:
        if len({_key(table)(row) for row in values}) < len(values):
            raise FileFault(f"two rows of '{table}' have one number, as passcheck never gives them")
    return rows


@cache
def _key(table: str) -> Callable[[tuple[Any, ...]], object]:
    names = [name for name, _words in column_types(table)]
    return itemgetter(*map(names.index, KEYS[table]))


def _unread(taken: TakenIn, faults: Sequence[str]) -> TakenIn:
    return TakenIn(taken.job, taken.looks, taken.digest, UNREAD, " ".join(faults))
