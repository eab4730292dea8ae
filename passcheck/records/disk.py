"""What do the records ask of a disk?

Every byte that the journal, the ledger and the shelf read or write passes through these few calls, so that a test can
stand a failing disk in their place. Each call raises OSError when the disk refuses.

Evidence is read from a file that lies under its own name. Whatever else is put there is refused: a link leads to bytes
that somebody keeps elsewhere, a pipe would be waited for without end. Folders on the way there may be links.
"""

import errno
import os
import stat
import sys
from contextlib import suppress
from dataclasses import dataclass
from io import BufferedReader
from pathlib import Path

if sys.platform == "darwin":
    import fcntl

_BINARY = getattr(os, "O_BINARY", 0)
_NO_LINK = getattr(os, "O_NOFOLLOW", 0)
"""Windows has neither this nor the next; there the look before the opening has to do."""
_NO_WAIT = getattr(os, "O_NONBLOCK", 0)


class NotAFileError(OSError):
    """Under a file's name lies something else; the text says what."""


@dataclass(frozen=True, slots=True)
class FileFacts:
    """What tells one state of one file from another without reading it."""

    size: int
    links: int
    """Names that the file still has; 0 when it was deleted or replaced while open."""
    mtime_ns: int
    identity: tuple[int, int]
    """Device and inode; equal for two names of the same file."""


def _facts(stat: os.stat_result) -> FileFacts:
    return FileFacts(stat.st_size, stat.st_nlink, stat.st_mtime_ns, (stat.st_dev, stat.st_ino))


def opened_to_read(path: Path, *, links: bool = False) -> BufferedReader:
    """A file to read from, never anything else; a link to one only where `links` says so.

    Raises OSError; NotAFileError for a link, a folder, a pipe or a device, of which none is opened.
    """
    # Looked at first, because a device may act on being opened; and again, because it may have been swapped since.
    _demand_file((os.stat if links else os.lstat)(path), path)
    handle = os.open(path, os.O_RDONLY | _BINARY | _NO_WAIT | (0 if links else _NO_LINK))
    try:
        _demand_file(os.fstat(handle), path)
        return os.fdopen(handle, "rb")
    except BaseException:
        os.close(handle)
        raise


def _demand_file(found: os.stat_result, path: Path) -> None:
    if stat.S_ISREG(found.st_mode):
        return
    kinds = ((stat.S_ISLNK, "it is a link"), (stat.S_ISDIR, "it is a folder"))
    what = next((words for is_one, words in kinds if is_one(found.st_mode)), "it is a pipe or a device")
    raise NotAFileError(errno.EINVAL, f"{what} and not a file", str(path))


class Disk:
    """The machine's own disk."""

    def make_folder(self, folder: Path) -> None:
        """Make a folder with its parents, and put their names on disk."""
        missing = []
        while not self.is_folder(folder):
            missing.append(folder)
            folder = folder.parent
        # Whoever made the last one that is there may have been killed before its name was on disk.
        with suppress(PermissionError):  # in a parent that can't be read it was somebody else who made it
            self.fsync_dir(folder.parent)
        for name in reversed(missing):
            self.make_one_folder(name)
            self.fsync_dir(name.parent)

    def is_folder(self, path: Path) -> bool:
        """Whether a folder has that name."""
        return path.is_dir()

    def make_one_folder(self, folder: Path) -> None:
        """Make a folder in one that is there; its name is on the medium after `fsync_dir`."""
        folder.mkdir(exist_ok=True)

    def names(self, folder: Path) -> tuple[str, ...]:
        """The names in a folder, sorted; none when it doesn't exist."""
        try:
            return tuple(sorted(os.listdir(folder)))
        except (FileNotFoundError, NotADirectoryError):
            return ()

    def create(self, path: Path) -> int:
        """Open an empty file for appending, throwing away what stood under that name."""
        return os.open(path, os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND | _BINARY | _NO_LINK, 0o666)

    def open(self, path: Path) -> int:
        """Open an existing file for appending; a symbolic link is refused."""
        return os.open(path, os.O_RDWR | os.O_APPEND | _BINARY | _NO_LINK)

    def write(self, handle: int, data: bytes) -> int:
        """Append, and say how many bytes were taken; fewer than given when the disk fills up."""
        return os.write(handle, data)

    def fsync(self, handle: int) -> None:
        """Return once the file's bytes are on the medium."""
        if sys.platform == "darwin":
            # There, fsync stops at the drive's own cache.
            fcntl.fcntl(handle, fcntl.F_FULLFSYNC)
        else:
            os.fsync(handle)

    def fsync_dir(self, folder: Path) -> None:
        """Return once the folder's names are on the medium; Windows has no such call and does it by itself."""
        if sys.platform == "win32":
            return
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)

    def facts(self, handle: int) -> FileFacts:
        """The facts of an open file."""
        return _facts(os.fstat(handle))

    def facts_of(self, path: Path) -> FileFacts | None:
        """The facts of what lies under a name, of a link its own; None when nothing does."""
        try:
            return _facts(path.lstat())
        except (FileNotFoundError, NotADirectoryError):
            return None

    def facts_behind(self, path: Path) -> FileFacts | None:
        """The same for what people keep: of a link, the facts of what it leads to; None when that is nothing."""
        try:
            return _facts(path.stat())
        except (FileNotFoundError, NotADirectoryError):
            return None

    def close(self, handle: int) -> None:
        """Give the handle back."""
        os.close(handle)

    def read_all(self, path: Path) -> bytes:
        """Every byte of a file; NotAFileError for anything else under that name, a link too."""
        with opened_to_read(path) as file:
            return file.read()

    def read_behind(self, path: Path) -> bytes:
        """The same for what people keep (settings, lists of keys), which may be a link to where they keep it."""
        with opened_to_read(path, links=True) as file:
            return file.read()

    def replace(self, source: Path, target: Path) -> None:
        """Put a finished file under a name in one step."""
        os.replace(source, target)

    def keep(self, path: Path, under: Path) -> None:
        """Give a file a second name that stays when the first one moves on."""
        try:
            os.link(path, under)
        except OSError:
            # A file system without hard links (FAT, some shares): keep the bytes instead of the file.
            under.write_bytes(path.read_bytes())

    def remove(self, path: Path) -> None:
        """Take a name away, if it is there."""
        path.unlink(missing_ok=True)
