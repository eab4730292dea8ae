"""How does what this bench sealed get to the other benches, and what is said of it?"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from passcheck.errors import FileFault, PasscheckError

if TYPE_CHECKING:  # a bench that shares nothing loads nothing of it
    from passcheck.records.shared_archive import Published, Sealed, SharedArchive

NO_SHARED = (
    "No shared archive is named. Write 'shared_archive:' with a PostgreSQL address into bench.yaml, or set "
    "PASSCHECK_SHARED_ARCHIVE."
)


class Publisher:
    """Publishes the sealed jobs of one bench."""

    def __init__(self, shared: Callable[[], SharedArchive | None], sealed: Callable[[], tuple[Sealed, ...]]) -> None:
        """Nothing is asked yet.

        Args:
            shared: the archive that is shared, None where this bench shares nothing.
            sealed: every sealed job of this bench.
        """
        self._shared = shared
        self._sealed = sealed

    def publish(self) -> str:
        """Give what isn't there yet; a sentence for whoever is at the bench where something is wrong, else ""."""
        try:
            shared = self._shared()
            return "" if shared is None else " ".join(shared.publish(self._sealed()).refused)
        except PasscheckError as fault:
            return str(fault)

    def give(self) -> Published:
        """The same with all that came of it. Raises FileFault where nothing is shared, BenchFailed while it is away."""
        shared = self._shared()
        if shared is None:
            raise FileFault(NO_SHARED)
        return shared.publish(self._sealed())
