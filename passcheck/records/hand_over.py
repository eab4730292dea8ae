"""How is a job's record handed to an outsider as one folder that stock tools can check?

The folder gets its name when every file in it is on disk and was read back equal; before that it is a draft. The
records are only read: a folder below them is refused.
"""

import os
from collections.abc import Mapping
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

from passcheck.errors import BenchFailed, FileFault
from passcheck.records.check_note import Handed, check_note
from passcheck.records.disk import Disk
from passcheck.records.evidence import SIGNATURE, Evidence
from passcheck.records.job_number import job_number
from passcheck.records.signers import ALLOWED
from passcheck.records.whole_file import put

NOTE = "HOW-TO-CHECK.txt"


def files_of(evidence: Evidence, papers: Mapping[str, bytes]) -> Mapping[str, bytes]:
    """Every file of the folder but the note, by name: the records byte for byte, then what was made of them."""
    files = {evidence.name: evidence.journal}
    if evidence.signature is not None:
        files[evidence.name + SIGNATURE] = evidence.signature
    if evidence.signers is not None:
        files[ALLOWED] = evidence.signers
    files |= {ledger.name: ledger.data for ledger in evidence.ledgers}
    return {**files, **papers}


def hand_over(handed: Handed, to: Path, logs: Path, disk: Disk | None = None) -> Path:
    """Write the folder of a job below `to`, and give its path once all of it is on disk and read back.

    Args:
        handed: what is handed over.
        to: where the folder is made; it is made itself where it is missing.
        logs: the folder of the records, in which nothing is written.
        disk: where `to` lies.

    Raises FileFault when the folder is there already or would lie among the records; BenchFailed when the disk refuses
    or gives other bytes back than it was given. Nothing stands under the folder's name then, unless the sentence says
    otherwise.
    """
    disk = disk or Disk()
    folder = to / str(job_number(handed.evidence.job))
    draft = to / f"{folder.name}.{os.getpid()}.new"
    _refuse_among_records(folder, logs)
    for name in (folder, draft):
        # Not `facts_of`, which follows links: a link that leads nowhere is something that stands there too.
        if os.path.lexists(name):
            raise FileFault(f"{name} is there already. Nothing was written: move it away, or name another folder.")
    files = {**handed.files, NOTE: check_note(handed).encode("ascii")}
    try:
        _write(draft, files, disk)
        disk.replace(draft, folder)
    except OSError as fault:
        raise BenchFailed(
            f"{folder}: it can't be written ({fault.strerror or fault}). Nothing was handed over: name another folder "
            "with --to, or look after the disk that holds this one."
        ) from fault
    finally:
        _clear(draft, files, disk)
    try:
        disk.fsync_dir(to)
    except OSError as fault:
        raise BenchFailed(
            f"{folder}: it is whole, but the disk didn't say that it keeps the name ({fault.strerror or fault}). Look "
            "after that disk; take the folder away and hand over again."
        ) from fault
    return folder


def _refuse_among_records(folder: Path, logs: Path) -> None:
    """Links are followed on both sides: what counts is where the bytes would lie."""
    if folder.resolve().is_relative_to(logs.resolve()):
        raise FileFault(f"{folder} lies among the records. Nothing was written: name a folder outside {logs}.")


def _write(draft: Path, files: Mapping[str, bytes], disk: Disk) -> None:
    disk.make_folder(draft)
    for name, data in files.items():
        put(draft / name, data, disk)
    disk.fsync_dir(draft)
    for name, data in files.items():
        if sha256(disk.read_all(draft / name)).digest() != sha256(data).digest():
            raise BenchFailed(f"{draft / name}: the disk gives back other bytes than it was given. Use another disk.")


def _clear(draft: Path, files: Mapping[str, bytes], disk: Disk) -> None:
    """Take a draft away that didn't become the folder."""
    if draft.is_dir():
        for name in files:
            with suppress(OSError):
                disk.remove(draft / name)
        with suppress(OSError):
            draft.rmdir()
