"""How is a small file written so that a crash leaves the old one or the new one, never half of either?"""

import os
from contextlib import suppress
from pathlib import Path

from passcheck.records.disk import Disk
from passcheck.records.remedy import ask_disk


def write_whole(path: Path, data: bytes, disk: Disk) -> None:
    """Return once the bytes stand under that name and are on the medium.

    Raises:
        BenchFailed: the disk refuses; what stood there before still does.
    """
    draft = path.with_name(f"{path.name}.{os.getpid()}.new")
    ask_disk(lambda: disk.make_folder(path.parent), path.parent)
    try:
        ask_disk(lambda: _write(draft, data, disk), path)
        ask_disk(lambda: disk.replace(draft, path), path)
    except BaseException:
        with suppress(OSError):
            disk.remove(draft)
        raise
    ask_disk(lambda: disk.fsync_dir(path.parent), path)


def _write(path: Path, data: bytes, disk: Disk) -> None:
    handle = disk.create(path)
    try:
        rest = data
        while rest:
            rest = rest[disk.write(handle, rest) :]
        disk.fsync(handle)
    finally:
        disk.close(handle)
