"""How does an event get on disk so that it is there after any crash?

A writer appends one line, syncs, then the next; so a crash leaves at most one line unfinished. Before each append the
file must be the one that the writer left. The first refusal of the disk ends the writer; the next one reads the file
anew, and after a failed *sync* it goes on in a copy: the system forgets which pages didn't reach the disk, so that file
is never written again (it stays beside the copy, with `.suspect` on its name).
"""

import errno
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path

from filelock import FileLock

from passcheck.errors import BenchFailed, FileFault, OurBug
from passcheck.job.ending import is_seal
from passcheck.job.journal_line import Line
from passcheck.records.disk import Disk, FileFacts
from passcheck.records.failed_sync import SyncRefused, forget_failed_sync, note_failed_sync, noted_failed_sync
from passcheck.records.journal_file import MENDED, MOVED, JournalFile, State, examine, torn_facts
from passcheck.records.line_codec import Digest, encode_line, new_digest
from passcheck.records.lock import take_lock
from passcheck.records.remedy import remedy
from passcheck.records.stamp import RECORDS, Stamp, machine_stamp


class Journal:
    """The one writer of a file of lines, from `create` or `open` until `close` or the first failure."""

    def __init__(self, path: Path, disk: Disk, stamp: Callable[[], Stamp], lock: FileLock | None) -> None:
        """Use `create` or `open`."""
        self.path = path
        self.failed_sync: str | None = None
        """The name of the error (`EIO`) with which a sync failed; hand it to the next `open`."""
        self._disk = disk
        self._stamp = stamp
        self._lock = lock
        self._handle: int | None = None
        self._lines: list[Line] = []
        self._ends: list[int] = []
        self._running: Digest = new_digest()
        self._facts = FileFacts(0, 1, 0, (0, 0))

    @classmethod
    def create(
        cls,
        path: Path,
        lines: Sequence[Line],
        *,
        disk: Disk | None = None,
        stamp: Callable[[], Stamp] = machine_stamp,
        own_lock: bool = True,
    ) -> "Journal":
        """Start a file with its first lines; it gets its name only when they are on disk.

        Raises BenchFailed when the disk refuses or the file is there already.
        """
        disk = disk or Disk()
        journal = cls(path, disk, stamp, _lock_for(path) if own_lock else None)
        try:
            if disk.facts_of(path) is not None:
                raise BenchFailed(f"{path} exists already. Nothing was changed.")
            draft = path.with_name(path.name + ".new")
            journal._handle = disk.create(draft)
            journal._put(lines)
            journal._take_name(draft)
        except OSError as fault:
            raise journal._die("start", fault) from fault
        except BaseException:
            journal.close()
            raise
        return journal

    @classmethod
    def open(
        cls,
        path: Path,
        *,
        disk: Disk | None = None,
        stamp: Callable[[], Stamp] = machine_stamp,
        own_lock: bool = True,
        earlier: JournalFile | None = None,
        failed_sync: str | None = None,
    ) -> "Journal":
        """Go on writing a file; what a crash left at its end is kept, and named in a `mended` line.

        Args:
            path: the file.
            disk: where it lies.
            stamp: the moment for lines that the records write themselves.
            own_lock: False when the caller holds a lock already.
            earlier: what the file was when last read, to read only what was added.
            failed_sync: the error of an earlier writer whose sync failed: go on in a copy.

        Raises FileFault when the file was altered, BenchFailed when somebody else writes it or the disk refuses;
        SyncRefused, which is one, when the next `open` has to be told of it by `failed_sync`.
        """
        disk = disk or Disk()
        journal = cls(path, disk, stamp, _lock_for(path) if own_lock else None)
        try:
            journal._go_on(earlier, failed_sync or noted_failed_sync(path, disk))
        except FileNotFoundError as fault:
            journal.close()
            raise FileFault(f"{path}: there is no such file. Look for it in a backup.") from fault
        except OSError as fault:
            raise journal._die("open", fault) from fault
        except BaseException:
            journal.close()
            raise
        return journal

    @property
    def lines(self) -> tuple[Line, ...]:
        """Every line on disk, the records' own included."""
        return tuple(self._lines)

    @property
    def next_number(self) -> int:
        """The number that the next line must have."""
        return len(self._lines)

    @property
    def size(self) -> int:
        """Bytes on disk."""
        return self._facts.size

    @property
    def facts(self) -> FileFacts:
        """The file as this writer left it."""
        return self._facts

    @property
    def digest(self) -> str:
        """SHA-256 of every byte on disk, in hexadecimal."""
        return self._running.hexdigest()

    @property
    def sealed(self) -> bool:
        """Whether nothing may be appended any more."""
        return bool(self._lines) and is_seal(self._lines[-1])

    @property
    def writing(self) -> bool:
        """False once closed or stopped by a failure."""
        return self._handle is not None

    def as_read(self) -> JournalFile:
        """What `read_journal` would find now, without reading."""
        return JournalFile(
            self.lines, tuple(self._ends), self.size, self._running.copy(), State.WHOLE, "", None, line_feed_due=False
        )

    def append(self, lines: Sequence[Line]) -> None:
        """Return when the lines are on disk; each `number` must be the next one.

        A crash may leave the first few of several lines; it never leaves a later one without those before it.

        Raises BenchFailed when the disk refuses or the file was changed meanwhile: the writer has stopped then, and
        what was not acknowledged has to be looked at after the next `open`. Raises FileFault for a line that is too
        long, or a sealed file; the writer goes on then.
        """
        if self._handle is None:
            raise BenchFailed(f"{self.path.name} is not open for writing: open the job again.")
        if self.sealed:
            raise FileFault(
                f"{self.path.name} is sealed; nothing is added to it. Further work on the unit is a new job."
            )
        try:
            changed = self._changed(self._handle)
            if changed:
                raise self._stop(changed)
            self._put(lines)
        except OSError as fault:
            raise self._die("write", fault) from fault

    def unchanged(self) -> bool:
        """Whether the file is, by size, time and identity, the one that this writer left."""
        try:
            return self._handle is not None and self._disk.facts_of(self.path) == self._facts
        except OSError:
            return False

    def close(self) -> None:
        """Let another writer in."""
        handle, self._handle = self._handle, None
        if handle is not None:
            with suppress(OSError):
                self._disk.close(handle)
        if self._lock is not None:
            self._lock.release()
            self._lock = None

    def _go_on(self, earlier: JournalFile | None, failed_sync: str | None) -> None:
        found = self._disk.facts_of(self.path)
        data = self._disk.read_all(self.path)
        file = examine(data, earlier)
        if file.state is State.ALTERED:
            raise FileFault(
                f"{self.path}, {file.fault}. The file was altered outside passcheck, so nothing is added to it. "
                "Keep it as it is, and look for an unaltered copy in a backup."
            )
        self._lines, self._ends, self._running = list(file.lines), list(file.ends), file.running
        if failed_sync is not None:
            self._copy_forward(data, file, failed_sync)
            return
        self._handle = self._disk.open(self.path)
        self._facts = self._disk.facts(self._handle)
        if self._facts.size != len(data) or found is None or found.identity != self._facts.identity:
            raise self._stop("was changed by another program while it was opened")
        # The last writer may have been killed before its syncs, of the bytes or of the name: what was read becomes
        # certain before it is used.
        self._sync(self._handle)
        self._disk.fsync_dir(self.path.parent)
        self._mend(file, data)

    def _mend(self, file: JournalFile, data: bytes) -> None:
        if file.line_feed_due:
            self._write(b"\n")
            if file.torn_from is None:
                self._ends[-1] += 1
        if file.torn_from is not None:
            torn = data[file.torn_from :] + (b"\n" if file.line_feed_due else b"")
            self._put([self._own(MENDED, torn_facts(torn, file.torn_from))])

    def _copy_forward(self, data: bytes, file: JournalFile, error: str) -> None:
        old_digest = file.digest
        draft = self.path.with_name(self.path.name + ".new")
        self._handle = self._disk.create(draft)
        self._running = new_digest()
        self._write(data)
        self._mend(file, data)
        kept = self._suspect_name()
        facts = {"bytes": len(data), "digest": old_digest, "kept_as": kept.name, "why": error}
        if not self.sealed:
            self._put([self._own(MOVED, facts)])
        self._disk.keep(self.path, kept)
        self._take_name(draft)
        forget_failed_sync(self.path, self._disk)

    def _suspect_name(self) -> Path:
        taken = self._disk.names(self.path.parent)
        name, count = f"{self.path.name}.suspect", 1
        while name in taken:
            count += 1
            name = f"{self.path.name}.suspect-{count}"
        return self.path.with_name(name)

    def _take_name(self, draft: Path) -> None:
        """Put the finished draft in the file's place; closed meanwhile, because Windows doesn't rename an open file."""
        if self._handle is not None:
            self._disk.close(self._handle)
            self._handle = None
        self._disk.replace(draft, self.path)
        self._disk.fsync_dir(self.path.parent)
        self._handle = self._disk.open(self.path)
        self._facts = self._disk.facts(self._handle)

    def _own(self, event: str, data: dict[str, object]) -> Line:
        stamp = self._stamp()
        return Line(self.next_number, stamp.at, RECORDS, stamp.clock, event, data)

    def _put(self, lines: Sequence[Line]) -> None:
        for line, encoded in self._encoded(lines):
            self._write(encoded)
            self._lines.append(line)
            self._ends.append(self._facts.size)

    def _encoded(self, lines: Sequence[Line]) -> list[tuple[Line, bytes]]:
        """All lines as bytes before the first is written, so that a line that can't be one costs nothing."""
        running = self._running.copy()
        encoded = []
        for number, line in enumerate(lines, self.next_number):
            if line.number != number:
                raise OurBug(f"Line {line.number} was to be written where {number} belongs. Nothing was stored.")
            encoded.append((line, encode_line(line, running)))
            running.update(encoded[-1][1])
        return encoded

    def _write(self, data: bytes) -> None:
        handle = self._handle
        if handle is None:
            raise OurBug(f"{self.path.name} was written without being open.")
        rest = memoryview(data)
        while rest:
            taken = self._disk.write(handle, bytes(rest))
            if taken <= 0:
                raise OSError(errno.EIO, "the disk took nothing")
            rest = rest[taken:]
        self._sync(handle)
        self._running.update(data)
        self._facts = self._disk.facts(handle)

    def _sync(self, handle: int) -> None:
        try:
            self._disk.fsync(handle)
        except OSError as fault:
            self.failed_sync = errno.errorcode.get(fault.errno or 0, "unknown")
            raise

    def _changed(self, handle: int) -> str | None:
        """What happened to the file since the last append; None when nothing did."""
        named = self._disk.facts_of(self.path)
        if named == self._facts:
            return None  # by identity too, and while it is open here no other file can have that
        now = self._disk.facts(handle)
        if now.links == 0 or named is None:
            return "was deleted or replaced by another program"
        if named.identity != now.identity:
            return "was replaced by another program"
        if now.size != self._facts.size:
            return f"has {now.size} bytes where passcheck had written {self._facts.size}"
        if now.mtime_ns != self._facts.mtime_ns:
            # A backup may touch the time; only the bytes say whether the file is the same.
            digest = new_digest()
            digest.update(self._disk.read_all(self.path))
            if digest.hexdigest() != self.digest:
                return "was altered by another program"
            self._facts = now
        return None

    def _stop(self, what: str) -> BenchFailed:
        self.close()
        return BenchFailed(
            f"{self.path} {what} while passcheck was writing it, so nothing was stored. "
            "Close the other program, keep both files, and open the job again."
        )

    def _die(self, act: str, fault: OSError) -> BenchFailed:
        stored = len(self._lines)
        sentence = (
            f"{self.path}: the disk refused to {act} ({fault.strerror or fault}). "
            f"{stored} events are on disk; what came after them is not. {remedy(fault, self.path.parent)}"
        )
        if self.failed_sync is None:
            self.close()
            return BenchFailed(sentence)
        note_failed_sync(self.path, self.failed_sync, self._disk)
        self.close()
        return SyncRefused(sentence, self.failed_sync)


def _lock_for(path: Path) -> FileLock:
    return take_lock(
        path.with_name(path.name + ".lock"),
        f"{path.stem} is open for writing in another passcheck; finish or close it there, then open it here.",
    )
