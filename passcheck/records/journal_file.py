"""How far can the bytes of a journal be believed?

A file is *whole*; or *torn*, when it ends in bytes that a crash or a full disk can leave; or *altered*, when it holds
what no crash can leave. Torn bytes that were mended later stay in the file and are believed for what the `mended` line
says of them: their place, their number and their SHA-256.
"""

from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from passcheck.errors import FileFault
from passcheck.job.ending import SEALING_EVENTS, is_seal
from passcheck.job.journal_line import Line
from passcheck.job.uncollected import uncollected
from passcheck.records.disk import Disk
from passcheck.records.line_codec import Digest, NotALineError, WrongDigestError, decode_line, new_digest
from passcheck.records.many_lines import decode_lines
from passcheck.records.remedy import ask_disk

MENDED = "mended"
MOVED = "moved"
_STRETCH = 64 * 1024
"""Bytes whose lines are read at once; where one of them doesn't hold, so many are read one by one."""


class State(Enum):
    """What the bytes of a file are."""

    WHOLE = "whole"
    TORN = "torn"
    ALTERED = "altered"


@dataclass(frozen=True, slots=True)
class JournalFile:
    """The lines of a file that hold, and what is wrong with the rest."""

    lines: tuple[Line, ...]
    ends: tuple[int, ...]
    """The byte after each line, its line feed included."""
    size: int
    running: Digest
    """Has taken every byte of the file, torn ones included; copy it before you go on."""
    state: State
    fault: str
    """Why the file is torn or altered, `line 7: …`; empty for a whole file. Lines count from 1, as editors do."""
    torn_from: int | None
    """The first byte that is not a line, when the file is torn."""
    line_feed_due: bool
    """The file ends without a line feed."""

    @property
    def digest(self) -> str:
        """SHA-256 of the whole file, in hexadecimal."""
        return self.running.hexdigest()

    @property
    def sealed(self) -> bool:
        """Whether the last line is one that nothing may follow."""
        return bool(self.lines) and is_seal(self.lines[-1])


def torn_facts(torn: bytes, first_byte: int) -> dict[str, object]:
    """The data of the `mended` line for these bytes: `head -c` and `tail -c` find them, `sha256sum` checks them."""
    digest = new_digest()
    digest.update(torn)
    return {"bytes": len(torn), "first_byte": first_byte, "digest": digest.hexdigest()}


def read_journal(path: Path, disk: Disk | None = None) -> JournalFile:
    """Read a file without a lock; another process may be writing it, then the last line may be seen half written.

    Raises BenchFailed when the file can't be read, FileFault when there is none.
    """
    try:
        return examine(ask_disk(lambda: (disk or Disk()).read_all(path), path))
    except FileNotFoundError as fault:
        raise FileFault(f"{path}: there is no such file. Look for it in a backup; don't make a new one.") from fault


def examine(data: bytes, earlier: JournalFile | None = None) -> JournalFile:
    """Walk a file's bytes line by line; what `earlier` vouches for is hashed once and not decoded again."""
    walk = _Walk(data)
    if earlier is not None and earlier.state is State.WHOLE and not earlier.line_feed_due:
        walk.go_on_from(earlier)
    with uncollected():
        walk.go()
    return walk.result()


class _Walk:
    """One pass over the bytes of a file."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.position = 0
        self.altered = "" if data else "line 1: the file is empty"
        self._running = new_digest()
        self._lines: list[Line] = []
        self._ends: list[int] = []
        self._text_line = 1
        self._torn_from: int | None = None
        self._torn_why = ""

    def go_on_from(self, earlier: JournalFile) -> None:
        start = new_digest()
        start.update(self.data[: earlier.size])
        if earlier.size > len(self.data) or start.hexdigest() != earlier.digest:
            return
        self.position, self._running = earlier.size, start
        self._lines, self._ends = list(earlier.lines), list(earlier.ends)
        self._text_line = 1 + self.data.count(b"\n", 0, earlier.size)

    def go(self) -> None:
        while self.position < len(self.data) and not self.altered:
            end = self.data.rfind(b"\n", self.position, self.position + _STRETCH) + 1
            if not self._stretch(end):
                self._step()
                while self.position < end and not self.altered:
                    self._step()

    def _stretch(self, end: int) -> bool:
        """Take all lines up to there at once; False where one of them has to be looked at alone: none is taken then."""
        if self._torn_from is not None or (self._lines and is_seal(self._lines[-1])):
            return False
        decoded = decode_lines(self.data[self.position : end], self._running)
        if decoded is None:
            return False
        events = [line.event for line in decoded.lines]
        in_turn = range(len(self._lines), len(self._lines) + len(events))
        if MENDED in events or not SEALING_EVENTS.isdisjoint(events[:-1]):
            return False
        if [line.number for line in decoded.lines] != list(in_turn):
            return False
        self._lines += decoded.lines
        self._ends += [self.position + stop for stop in decoded.ends]
        self._running, self.position = decoded.running, end
        self._text_line += len(events)
        return True

    def _step(self) -> None:
        """Take the bytes up to the next line feed."""
        # Only the line feed ends a line: str.splitlines would also cut at U+2028 inside a note.
        feed = self.data.find(b"\n", self.position)
        stop = len(self.data) if feed < 0 else feed
        text = self.data[self.position : stop]
        try:
            self._accept(decode_line(text, self._running), stop + (feed >= 0))
        except WrongDigestError as fault:
            self.altered = self._torn_why or f"line {self._text_line}: {fault}"
        except NotALineError as fault:
            if self._torn_from is None:
                self._torn_from, self._torn_why = self.position, f"line {self._text_line}: {fault}"
        end = stop + (feed >= 0)
        self._running.update(self.data[self.position : end])
        self.position = end
        self._text_line += 1

    def _accept(self, line: Line, end: int) -> None:
        if line.number != len(self._lines):
            self.altered = f"line {self._text_line}: it is number {line.number} where {len(self._lines)} belongs"
        elif self._lines and is_seal(self._lines[-1]):
            self.altered = f"line {self._text_line}: it stands after the line that sealed the journal"
        elif not self._mends(line):
            self.altered = self._torn_why or f"line {self._text_line}: it mends bytes that are not torn"
        else:
            self._torn_from, self._torn_why = None, ""
            self._lines.append(line)
            self._ends.append(end)

    def _mends(self, line: Line) -> bool:
        """Torn bytes are followed by the line that names them, and that line follows nothing else."""
        if self._torn_from is None:
            return line.event != MENDED
        torn = self.data[self._torn_from : self.position]
        return line.event == MENDED and dict(line.data) == torn_facts(torn, self._torn_from)

    def result(self) -> JournalFile:
        if not self.altered and self._torn_from == 0:
            # A file is put under its name only when its first line is on disk, so no crash leaves this.
            self.altered = self._torn_why
        if self._torn_from is not None and self._lines and is_seal(self._lines[-1]):
            # Nor is a sealed journal ever written again.
            self.altered = self._torn_why
        if self.altered:
            self._running.update(self.data[self.position :])
        state = State.ALTERED if self.altered else State.WHOLE if self._torn_from is None else State.TORN
        return JournalFile(
            lines=tuple(self._lines),
            ends=tuple(self._ends),
            size=len(self.data),
            running=self._running,
            state=state,
            fault=self.altered or self._torn_why,
            torn_from=self._torn_from if state is State.TORN else None,
            line_feed_due=not self.data.endswith(b"\n"),
        )
