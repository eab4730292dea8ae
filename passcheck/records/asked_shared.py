"""What do the sealed jobs of all benches answer together?

The same questions as to a bench's own archive, put to the shared one; open jobs are at their own bench only. Words are
looked for in what was written beside each text when it was published, so that they mean the same here.
"""

from collections.abc import Mapping
from datetime import date

from passcheck.job.archive_rows import SaidRow
from passcheck.job.counts import Counts
from passcheck.job.visits import Visit
from passcheck.records.archive_counts import counts
from passcheck.records.archive_tables import column_types
from passcheck.records.archive_visits import MOST_FOUND, tokens_of, visits
from passcheck.records.ask_sql import ask_postgres
from passcheck.records.shared_archive import SharedArchive


class AskedShared:
    """The shared archive, as whoever asks it sees it; each question raises BenchFailed while it is away."""

    def __init__(self, shared: SharedArchive) -> None:
        """Nothing is asked yet."""
        self._shared = shared

    def visits(self, serial: str) -> tuple[Visit, ...]:
        """All visits of a unit at any bench, the oldest first."""
        with self._shared.asking() as server:
            return visits(ask_postgres(server), serial)

    def search(self, words: str) -> tuple[SaidRow, ...]:
        """What people wrote that holds all of these words, the latest first."""
        wanted = [tokens for word in words.split() if (tokens := tokens_of(word))]
        if not wanted:
            return ()
        # Each word stands between blanks there; the last one may go on.
        held = {f"word_{'x' * at}": f"% {' '.join(tokens)} %" for at, tokens in enumerate(wanted[:-1])}
        held["begun"] = f"% {' '.join(wanted[-1])}%"
        with self._shared.asking() as server:
            found = ask_postgres(server)(_matching(held), {**held, "most": MOST_FOUND})
        return tuple(SaidRow(*row) for row in found)

    def counts(self, board: str | None, doubtful: Mapping[str, date]) -> Counts:
        """What the figures need, of one board or of all."""
        with self._shared.asking() as server:
            return counts(ask_postgres(server), board, doubtful)

    def unread(self) -> tuple[str, ...]:
        """None: what can't be read is never published."""
        return ()


def _matching(held: Mapping[str, str]) -> str:
    names = ", ".join(f'said."{name}"' for name, _type in column_types("said"))
    every = " AND ".join(f"said_bare.bare LIKE :{name}" for name in held)
    return (
        f"SELECT {names} FROM said_bare JOIN said ON said.job = said_bare.job AND said.place = said_bare.place "
        f'WHERE {every} ORDER BY said."at" DESC, said.job DESC, said.place DESC LIMIT :most'
    )
