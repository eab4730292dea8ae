"""The commands that a HOW-TO-CHECK.txt tells an outsider to type, and what a plain shell makes of them."""

import os
import subprocess
from dataclasses import dataclass
from pathlib import Path

from passcheck.records.note_text import MUST_BEGIN, MUST_PRINT, PRINTS

QUOTED = "    "


@dataclass(frozen=True)
class Told:
    """One command; `how` and `printed` are empty where the note doesn't say what comes of it."""

    command: str
    how: str = ""
    printed: str = ""


def commands(note: str) -> tuple[Told, ...]:
    """Read the note as its own words say it is read."""
    paragraphs = note.split("\n\n")
    found, at = [], 0
    while at < len(paragraphs):
        if not paragraphs[at].startswith(QUOTED):
            at += 1
        elif at + 2 < len(paragraphs) and paragraphs[at + 1] in (MUST_PRINT, MUST_BEGIN, PRINTS):
            found.append(Told(_unquoted(paragraphs[at]), paragraphs[at + 1], _unquoted(paragraphs[at + 2])))
            at += 3
        else:
            found.append(Told(_unquoted(paragraphs[at])))
            at += 1
    return tuple(found)


def typed(command: str, folder: Path) -> str:
    """What the shell prints, complaints too, without the last line feed."""
    done = subprocess.run(
        ["/bin/sh", "-c", command],
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        check=False,
        env={"PATH": os.environ["PATH"], "LC_ALL": "C"},
    )
    return done.stdout.decode("utf-8", "replace").removesuffix("\n")


def differing(note: str, folder: Path) -> tuple[str, ...]:
    """The commands that print something else than the note says."""
    return tuple(told.command for told in commands(note) if not _holds(told, folder))


def _holds(told: Told, folder: Path) -> bool:
    if not told.how:
        return True
    printed = typed(told.command, folder)
    return printed.startswith(told.printed) if told.how == MUST_BEGIN else printed == told.printed


def _unquoted(paragraph: str) -> str:
    lines = paragraph.split("\n")
    assert all(line.startswith(QUOTED) for line in lines), paragraph
    return "\n".join(line.removeprefix(QUOTED) for line in lines)
