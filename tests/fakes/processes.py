"""Which processes read a terminal for a program, and is one of them gone?"""

import os
import time
from pathlib import Path

from terminal import PATIENCE_S

from passcheck.app import tap_reader


def readers_of(program: int) -> list[int]:
    """The processes that read a terminal for this program."""
    found = []
    for entry in Path("/proc").iterdir():
        if entry.name.isdecimal() and tap_reader.__file__ in _command(entry) and _parent(entry) == program:
            found.append(int(entry.name))
    return found


def _command(entry: Path) -> str:
    try:
        return (entry / "cmdline").read_bytes().replace(b"\0", b" ").decode(errors="replace")
    except OSError:
        return ""


def _parent(entry: Path) -> int:
    try:
        return int((entry / "stat").read_text(errors="replace").rpartition(")")[2].split()[1])
    except (OSError, IndexError):
        return 0


def is_gone(process: int) -> bool:
    """Wait for a process to end, whoever its parent is by now."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        try:
            state = Path(f"/proc/{process}/stat").read_text(errors="replace").rpartition(")")[2].split()[0]
        except OSError:
            return True
        if state == "Z":
            return True
        os.sched_yield()
    return False
