"""A disk that refuses: at the n-th call, of one kind or any, once or from then on, or in the middle of a write."""

import errno
from pathlib import Path

from passcheck.records.disk import Disk, FileFacts


class FailingDisk(Disk):
    """The real disk until the call that the test has chosen."""

    def __init__(self) -> None:
        self.calls: list[str] = []
        """Every call that could have failed, in order."""
        self._fail_at: int | None = None
        self._error = errno.EIO
        self._for_ever = False
        self._only = ""
        self._bytes_taken = 0

    def fail_at(
        self, nth: int, *, error: int = errno.EIO, only: str = "", for_ever: bool = False, bytes_taken: int = 0
    ) -> None:
        """Refuse the n-th call from now (from 0), counting calls named `only` if given; a write may take some bytes."""
        self.calls.clear()
        self._fail_at, self._error, self._only = nth, error, only
        self._for_ever, self._bytes_taken = for_ever, bytes_taken

    def heal(self) -> None:
        """Refuse no more."""
        self._fail_at = None

    def _call(self, name: str) -> None:
        if self._only and name != self._only:
            return
        self.calls.append(name)
        if self._fail_at is None:
            return
        count = len(self.calls) - 1
        if count == self._fail_at or (self._for_ever and count > self._fail_at):
            raise OSError(self._error, errno.errorcode[self._error])

    def create(self, path: Path) -> int:
        self._call("create")
        return super().create(path)

    def open(self, path: Path) -> int:
        self._call("open")
        return super().open(path)

    def write(self, handle: int, data: bytes) -> int:
        try:
            self._call("write")
        except OSError:
            if self._bytes_taken:
                super().write(handle, data[: self._bytes_taken])
            raise
        return super().write(handle, data)

    def fsync(self, handle: int) -> None:
        self._call("fsync")
        super().fsync(handle)

    def fsync_dir(self, folder: Path) -> None:
        self._call("fsync_dir")
        super().fsync_dir(folder)

    def facts(self, handle: int) -> FileFacts:
        self._call("facts")
        return super().facts(handle)

    def facts_of(self, path: Path) -> FileFacts | None:
        self._call("facts_of")
        return super().facts_of(path)

    def facts_behind(self, path: Path) -> FileFacts | None:
        self._call("facts_of")
        return super().facts_behind(path)

    def read_all(self, path: Path) -> bytes:
        self._call("read_all")
        return super().read_all(path)

    def read_behind(self, path: Path) -> bytes:
        self._call("read_all")
        return super().read_behind(path)

    def replace(self, source: Path, target: Path) -> None:
        self._call("replace")
        super().replace(source, target)

    def keep(self, path: Path, under: Path) -> None:
        self._call("keep")
        super().keep(path, under)
