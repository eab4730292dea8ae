"""What does the ledger say of the journals that an archive takes in?

It is read before the journals, so that it never names bytes that they don't have yet. An archive remembers how far it
knew the ledger: what the ledger says since may speak against a journal that itself looks as it did.
"""

from collections.abc import Iterable
from pathlib import Path

from passcheck.records.agreement import LedgerSeen, Prefixes, entries
from passcheck.records.archive_intake import TakenIn, ToRead, carried
from passcheck.records.archive_journals import JOURNAL, Looks
from passcheck.records.archive_marks import LedgerMark
from passcheck.records.ledger import LEDGER
from passcheck.records.remedy import ask_disk
from passcheck.records.shop import LogFolder

_STEM = Path(LEDGER).stem


def ledger_looks(root: Path) -> str:
    """How the ledger and the closed ones look from outside, as one text: nothing is read for it. Raises BenchFailed."""
    paths = ask_disk(lambda: sorted(root.glob(f"{_STEM}*{JOURNAL}")), root)
    seen = [(path.name, ask_disk(path.lstat, path)) for path in paths]
    return " ".join(f"{name}:{one.st_size}:{one.st_mtime_ns}" for name, one in seen)


class LedgerAsked:
    """One reading of the ledger, for as many journals as you like; the older ones first, then it is hashed once."""

    def __init__(self, logs: LogFolder) -> None:
        """Read it. Raises BenchFailed."""
        self._logs = logs
        looks = ledger_looks(logs.root)
        chain, self._read = logs.ledger.chain(), logs.ledger.read()
        self._seen = LedgerSeen(self._read, altered=bool(chain.faults), concerned=chain.marked)
        newest = self._read[-1] if self._read else None
        size = newest.file.size if newest else 0
        self.mark = LedgerMark(size, newest.file.digest if newest else "", looks)
        """What is to be remembered of it."""

    def to_read(self, job: str, looks: Looks) -> ToRead:
        """A journal with what the ledger says of it."""
        path = self._logs.journal_path(job)
        return ToRead(job, path, looks, self._logs.practice, self._seen.of(job), self._seen.altered)

    def held(self, handful: Iterable[TakenIn]) -> list[TakenIn]:
        """What became of journals, once each is held against the ledger that it was opened on."""
        return [carried(one, self._seen, f"{one.job}{JOURNAL}") for one in handful]

    def to_ask_again(self, before: LedgerMark, known: Iterable[str]) -> frozenset[str]:
        """Of the journals that are known, those of which the ledger may say something else than it did before."""
        if before.looks == self.mark.looks:
            return frozenset()
        newest = self._read[-1] if self._read else None
        if newest is None or Prefixes(newest.data).digest(before.size) != before.digest:
            return frozenset(known)  # it isn't the ledger of the last time with more at its end
        since = [line for line, end in zip(newest.file.lines, newest.file.ends, strict=True) if end > before.size]
        named = frozenset(entry.job for entry in entries(since))
        return named.intersection(known)
