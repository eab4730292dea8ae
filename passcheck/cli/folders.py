"""Where do the records lie, and where do the boards' sequences come from?"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

import passcheck

LOGS = "PASSCHECK_LOGS"
SEQUENCES = "PASSCHECK_SEQUENCES"
PRACTICE_LETTER = "P"
"""Job numbers of practice begin with it, so that none is that of a job of bench A."""


@dataclass(frozen=True, slots=True)
class Folders:
    """The folder of the records and the folder of the sequences."""

    logs: Path
    sequences: Path


def find_folders(logs: str | None, sequences: str | None, environment: Mapping[str, str], here: Path) -> Folders:
    """What was asked for, else what the environment names, else the folders of that name here.

    Where there is no `sequences` folder here, the demo boards that came with passcheck stand in.

    Args:
        logs: the option `--logs`, or None.
        sequences: the option `--sequences`, or None.
        environment: the environment's variables; an empty one counts as absent.
        here: the folder in which the command was given.
    """
    named = sequences or environment.get(SEQUENCES)
    local = here / "sequences"
    return Folders(
        logs=Path(logs or environment.get(LOGS) or here / "logs"),
        sequences=Path(named) if named else local if local.is_dir() else demo_boards(),
    )


def practice_folders(folders: Folders) -> Folders:
    """The same bench's folder for practice: its jobs lie apart from the real ones, as `LogFolder` has it."""
    return replace(folders, logs=folders.logs / "practice")


def demo_boards() -> Path:
    """The sequences that come with passcheck: in a wheel beside the code, in a checkout beside the package."""
    package = Path(passcheck.__file__).parent
    packed = package / "demo"
    return packed if packed.is_dir() else package.parent / "sequences"
