"""Which rows of the archive are counted together?

One board or all of them, and never practice with real jobs. An archive holds one kind of job, because practice has a
folder of its own; where one holds both none the less, the other kind is left out of every question.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, Protocol

from passcheck.job.archive_rows import TABLES

_OTHERS: Final = "SELECT COUNT(*) FROM job WHERE practice <> :practice"
_OF_BOARD: Final = "board = :board"
_OF_KIND: Final = "job NOT IN (SELECT job FROM job WHERE practice <> :practice)"
_ALL: Final = "1 = 1"
COUNTED: Final = tuple(table for table in TABLES if table != "said")
"""The tables that are counted over: each has `board` and `job`."""


class Ask(Protocol):
    """Puts a statement to a database; values are named `:name` in it, and bound."""

    def __call__(self, sql: str, values: Mapping[str, object], /) -> list[tuple[Any, ...]]:
        """Every row of the answer."""
        ...


@dataclass(frozen=True, slots=True)
class Scope:
    """What every question of one count has in common; `mixed` says that the archive holds the other kind too."""

    ask: Ask
    board: str | None
    practice: int
    mixed: bool

    def rows(self, sql: str, **values: object) -> list[tuple[Any, ...]]:
        """The answer to a statement, in which `{here}` stands for "this row is counted"."""
        conditions = [_OF_BOARD] * (self.board is not None) + [_OF_KIND] * self.mixed
        words = sql.replace("{here}", " AND ".join(conditions) or _ALL)
        return self.ask(words, {"board": self.board, "practice": self.practice, **values})


def scope_of(ask: Ask, board: str | None, practice: int) -> Scope:
    """Look once whether the other kind has to be left out: naming it in every question is slow, and rarely needed."""
    others = ask(_OTHERS, {"practice": practice})[0][0]
    return Scope(ask, board, practice, others > 0)
