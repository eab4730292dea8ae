"""A disk in memory, for tests that write a file a hundred thousand times; nothing fails on it, nothing outlives it."""

from pathlib import Path

from passcheck.records.disk import Disk, FileFacts


class BytesDisk(Disk):
    """Files by name; the handle of an open file stands for its name."""

    def __init__(self) -> None:
        self.files: dict[Path, bytearray] = {}
        self._open: list[Path] = []
        self._changes = 0

    def put(self, path: Path, data: bytes) -> None:
        """Let a file hold these bytes."""
        self.files[path] = bytearray(data)
        self._changes += 1

    def make_folder(self, folder: Path) -> None:
        """There are no folders."""

    def names(self, folder: Path) -> tuple[str, ...]:
        return tuple(sorted(path.name for path in self.files if path.parent == folder))

    def create(self, path: Path) -> int:
        self.put(path, b"")
        return self.open(path)

    def open(self, path: Path) -> int:
        self._open.append(path)
        return len(self._open) - 1

    def write(self, handle: int, data: bytes) -> int:
        self.files[self._open[handle]] += data
        self._changes += 1
        return len(data)

    def fsync(self, handle: int) -> None:
        """Memory is as certain as this gets."""

    def fsync_dir(self, folder: Path) -> None:
        """As above."""

    def facts(self, handle: int) -> FileFacts:
        return FileFacts(len(self.files[self._open[handle]]), 1, self._changes, (0, 1))

    def facts_of(self, path: Path) -> FileFacts | None:
        return FileFacts(len(self.files[path]), 1, self._changes, (0, 1)) if path in self.files else None

    def close(self, handle: int) -> None:
        """Nothing is held."""

    def read_all(self, path: Path) -> bytes:
        return bytes(self.files[path])

    def replace(self, source: Path, target: Path) -> None:
        self.files[target] = self.files.pop(source)

    def keep(self, path: Path, under: Path) -> None:
        self.files[under] = bytearray(self.files[path])

    def remove(self, path: Path) -> None:
        self.files.pop(path, None)
