"""What was done to an archive, and how does it stand?"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path


@dataclass(frozen=True, slots=True)
class CaughtUp:
    """What was done to an archive.

    Attributes:
        taken: how many journals were read.
        gone: jobs whose journals aren't there any more; their rows aren't either.
        unread: by job, why its journal gave no rows, whether it was read now or earlier.
        rebuilt: why all of it was made anew, or "".
        aside: what was set aside for it, as a sentence, or "".
    """

    taken: int = 0
    gone: tuple[str, ...] = ()
    unread: Mapping[str, str] = field(default_factory=dict)
    rebuilt: str = ""
    aside: str = ""


@dataclass(frozen=True, slots=True)
class Stands:
    """How an archive stands, looked at without writing: `behind` counts journals that it would have to read or drop."""

    path: Path
    size: int
    jobs: int
    attempts: int
    behind: int
    unread: Mapping[str, str]
    unusable: str
    """Why there is none that can be used, or ""."""
