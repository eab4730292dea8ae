"""How is a small file written so that a crash leaves the old one or the new one, never half of either?"""

import os
from contextlib import suppress
from pathlib import Path

from passcheck.errors import BenchFailed
from passcheck.records.disk import Disk
from passcheck.records.remedy import ask_disk


def write_whole(path: Path, data: bytes, disk: Disk) -> None:
    """Return once the bytes stand under that name and are on the medium.

    Raises:
        BenchFailed: the disk refuses; what stood there before still does.
    """
    draft = path.with_name(f"{path.name}.{os.getpid()}.new")
    make_room(path.parent, disk)
    try:
        ask_disk(lambda: put(draft, data, disk), path)
        ask_disk(lambda: disk.replace(draft, path), path)
    except BaseException:
        with suppress(OSError):
            disk.remove(draft)
        raise
    ask_disk(lambda: disk.fsync_dir(path.parent), path)


def make_room(folder: Path, disk: Disk) -> None:
    """Make a folder where there is none.

    Raises:
        BenchFailed: none can be made there.
    """
    try:
        ask_disk(lambda: disk.make_folder(folder), folder)
    except FileNotFoundError as fault:
        raise BenchFailed(f"{folder}: no folder can be made there. Name another with --logs.") from fault


def put(path: Path, data: bytes, disk: Disk) -> None:
    """Return once a new file's bytes are on the medium; its name may not be yet. Raises OSError."""
    handle = disk.create(path)
    try:
        rest = data
        while rest:
            rest = rest[disk.write(handle, rest) :]
        disk.fsync(handle)
    finally:
        disk.close(handle)
