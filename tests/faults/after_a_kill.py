"""What is left on the disk after a kill, and does it hold all that was there or acknowledged before?"""

from collections.abc import Mapping
from pathlib import Path

from kill_tally import Tally

from passcheck.job.journal_line import Line
from passcheck.records.agreement import Prefixes, contradictions, due, entries, stands_on
from passcheck.records.journal_file import JournalFile, State, examine
from passcheck.records.shop import LogFolder

Bytes = Mapping[Path, bytes]


class Remains:
    """The records folder of a bench, looked at between one life of the program and the next."""

    def __init__(self, logs: Path, letter: str = "A") -> None:
        """Args: logs: the folder; letter: the bench's."""
        self.logs = logs
        self._letter = letter
        self._last: dict[Path, bytes] = {}

    @property
    def ledger(self) -> Path:
        """The ledger's file."""
        return self.logs / "ledger.jsonl"

    def job(self, path: Path) -> tuple[Line, ...]:
        """The lines that a journal holds, a torn end apart; none where there is no such file."""
        return examine(path.read_bytes()).lines if path.exists() else ()

    def look(self, tally: Tally, seen: Bytes, sizes: Mapping[Path, int], *, orderly: bool) -> None:
        """Compare what is there with what was there, and keep it for the next time.

        Args:
            tally: where findings are counted.
            seen: files as they were read before the end.
            sizes: bytes that were seen in them later, still before the end.
            orderly: the program was asked to end, so nothing may be torn.
        """
        now = {path: path.read_bytes() for path in (*seen, *self._last) if path.exists()}
        for path, before in (*self._last.items(), *seen.items()):
            self._compare(tally, path, before, now.get(path, b""))
        for path, size in sizes.items():
            if len(now.get(path, b"")) < size:
                tally.lost.append(f"{path.name} had {size} bytes before the end and has {len(now.get(path, b''))}")
        for path in seen:
            tally.seen += len(examine(seen[path]).lines) - len(examine(self._last.get(path, b"")).lines)
        for path in dict.fromkeys((*seen, *self._last)):
            self._state(tally, path, now.get(path, b""), orderly=orderly)
        self._square(tally, now)
        self._last = {path: data for path, data in now.items() if not examine(data).sealed}

    def taken_up(self, tally: Tally, path: Path) -> None:
        """The program has the job in hand again: its torn end is mended, and the ledger knows what it had to be told.

        Nothing is compared with what the program writes meanwhile, only with what the last life left.
        """
        left = self._last.get(path)
        if left is None:
            return
        was, now = examine(left), examine(path.read_bytes())
        if was.state is State.TORN and "mended" not in [line.event for line in now.lines[len(was.lines) :]]:
            tally.altered.append(f"{path.name} ended torn, and no line names what was torn")
        untold = due(path.stem, was, left, entries(examine(self.ledger.read_bytes()).lines))
        tally.lost += [f"{path.name}: the ledger was not told of '{one.event}'" for one in untold]

    def close_the_books(self, tally: Tally) -> None:
        """At the very end: every job opens, is whole, and agrees with the ledger."""
        logs = LogFolder(self.logs, self._letter)
        for job_id in logs.job_ids():
            journal, _ = logs.open_job(job_id)
            tally.ended += journal.sealed
            journal.close()
            tally.altered += logs.intact(job_id)
        ledger = logs.ledger.file()
        tally.told_late += sum(line.data.get("late") is True for line in ledger.lines) if ledger else 0

    def _compare(self, tally: Tally, path: Path, before: bytes, now: bytes) -> None:
        if now.startswith(before):
            return
        there, was = examine(now).lines, examine(before).lines
        gone = [line for line in was if line not in there]
        tally.lost += [f"{path.name}, line {line.number}, '{line.event}' was there and is gone" for line in gone]
        tally.altered.append(f"{path.name} no longer begins with the {len(before)} bytes that it had")

    def _state(self, tally: Tally, path: Path, data: bytes, *, orderly: bool) -> None:
        if not data:
            return
        file = examine(data)
        if file.state is State.ALTERED:
            tally.altered.append(f"{path.name}, {file.fault}")
        torn = file.state is State.TORN or file.line_feed_due
        if torn and orderly:
            tally.altered.append(f"{path.name} is torn after an orderly end: {file.fault}")
        tally.torn += torn

    def _square(self, tally: Tally, now: Bytes) -> None:
        """The ledger may be behind a journal; it never tells another story."""
        ledger = now.get(self.ledger, b"")
        said = entries(_lines(ledger))
        for path, data in now.items():
            if path == self.ledger:
                continue
            file = examine(data)
            mine = [one for one in said if one.job == path.stem]
            tally.altered += contradictions(path.name, file, data, mine)
            if file.lines and not stands_on(file.lines[0], Prefixes(ledger)):
                tally.altered.append(f"{path.name} stands on a ledger that is no longer there")


def _lines(data: bytes) -> tuple[Line, ...]:
    file: JournalFile | None = examine(data) if data else None
    return file.lines if file is not None else ()
