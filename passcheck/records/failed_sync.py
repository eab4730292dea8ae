"""How does the next process learn that a sync of this file failed?

The system reports a failed sync once and then calls the pages clean; the file looks whole until the power goes. So the
dying writer leaves a note beside the file. On a dying disk the note may be lost, too: a living process hands the error
on itself.
"""

import json
from contextlib import suppress
from pathlib import Path

from passcheck.errors import BenchFailed
from passcheck.records.disk import Disk

UNKNOWN = "unknown"


class SyncRefused(BenchFailed):
    """A writer ended at a failed sync; whoever lives on hands `error` to the next one, note or no note."""

    def __init__(self, sentence: str, error: str) -> None:
        """The sentence for the person, and the name of the error, `EIO`."""
        super().__init__(sentence)
        self.error = error


def note_failed_sync(path: Path, error: str, disk: Disk) -> None:
    """Leave word that the file must not be written again; `error` is the name of the error, `EIO`."""
    with suppress(OSError):
        note = disk.create(_note(path))
        try:
            disk.write(note, json.dumps({"failed_sync": error}).encode() + b"\n")
        finally:
            disk.close(note)


def noted_failed_sync(path: Path, disk: Disk) -> str | None:
    """The error that an earlier writer left word of; None when there is no word."""
    if disk.facts_of(_note(path)) is None:
        return None
    try:
        error = json.loads(disk.read_all(_note(path)))["failed_sync"]
    except (ValueError, KeyError, TypeError):
        return UNKNOWN  # the note was cut short; that it is there says enough
    return error if isinstance(error, str) else UNKNOWN


def forget_failed_sync(path: Path, disk: Disk) -> None:
    """The file under this name is a fresh copy now."""
    disk.remove(_note(path))


def _note(path: Path) -> Path:
    return path.with_name(path.name + ".unsynced")
