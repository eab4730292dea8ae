"""What does the archive hold of one unit's visits, and where did people write certain words?

Words mean the same with SQLite's index of words as without it: letters in any case, accents left out, all of them, the
last one perhaps only begun. LIKE can leave out no accents, so without the index every text is read through.
Faults of the database come as sqlite3.Error; whoever opened its file says where and what to do.
"""

import sqlite3
import unicodedata
from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import Any, Final, TypeVar

from passcheck.job.archive_rows import TABLES, AttemptRow, JobRow, SaidRow, TouchRow
from passcheck.job.serial import read_serial
from passcheck.job.visits import Visit
from passcheck.records.archive_scope import Ask
from passcheck.records.archive_tables import column_types

MOST_FOUND: Final = 200
WORD_INDEX: Final = "said_words"
"""An FTS5 table over `said.text`, tokenised by `unicode61 remove_diacritics 2`; missing where FTS5 is."""
_LATEST_FIRST: Final = "ORDER BY said.at DESC, said.job DESC, said.place DESC"

Row = TypeVar("Row", JobRow, AttemptRow, TouchRow, SaidRow)
Tokens = tuple[str, ...]
"""A word as it is looked for: most are one run of letters and figures, `5V-rail` is two that follow each other."""


def visits(ask: Ask, serial: str) -> tuple[Visit, ...]:
    """All visits of a unit, the oldest first, with the attempts that stand as found or count as left."""
    wanted = read_serial(serial)
    jobs = [JobRow(*row) for row in ask(_jobs(), {"serial": wanted})]
    attempts = _by_job(ask, AttemptRow, "(of_job.as_found = 1 OR of_job.as_left = 1)", "number", wanted)
    touched = _by_job(ask, TouchRow, "1 = 1", "line", wanted)
    said = _by_job(ask, SaidRow, "1 = 1", "place", wanted)
    return tuple(Visit(job, tuple(attempts[job.job]), tuple(touched[job.job]), tuple(said[job.job])) for job in jobs)


def search(connection: sqlite3.Connection, words: str) -> tuple[SaidRow, ...]:
    """What people wrote that holds all of these words, the latest first; nothing for no word."""
    wanted = [tokens for word in words.split() if (tokens := tokens_of(word))]
    if not wanted:
        return ()
    if _has_index(connection):
        found = connection.execute(_matching(), (match_text(wanted), MOST_FOUND))
        return tuple(SaidRow(*row) for row in found)
    return tuple(_read_through(connection, wanted))


def tokens_of(text: str) -> Tokens:
    """Runs of letters and figures, in small letters and without accents, as the index of words keeps them."""
    bare = (one for one in unicodedata.normalize("NFD", text) if unicodedata.category(one) != "Mn")
    return tuple("".join(_small(one) if _is_of_a_word(one) else " " for one in bare).split())


def match_text(wanted: Sequence[Tokens]) -> str:
    """The words in FTS5's own writing: each is in quotes, so none of them is an operator; the last may go on."""
    return " ".join(f'"{" ".join(tokens)}"' for tokens in wanted) + " *"


def _jobs() -> str:
    return f"SELECT {_columns(JobRow, 'job')} FROM job WHERE serial = :serial ORDER BY opened_at, job"


def _matching() -> str:
    return (
        f"SELECT {_columns(SaidRow, 'said')} FROM {WORD_INDEX} JOIN said ON said.rowid = {WORD_INDEX}.rowid "
        f"WHERE {WORD_INDEX} MATCH ? {_LATEST_FIRST} LIMIT ?"
    )


def _by_job(ask: Ask, kind: type[Row], only: str, by: str, serial: str) -> defaultdict[str, list[Row]]:
    """The rows of all jobs of a unit, by job; the jobs come first, by the index of serials."""
    query = (
        f"SELECT {_columns(kind, 'of_job')} FROM {_table(kind)} AS of_job "
        f"WHERE of_job.job IN (SELECT job FROM job WHERE serial = :serial) AND {only} ORDER BY of_job.job, of_job.{by}"
    )
    rows: defaultdict[str, list[Row]] = defaultdict(list)
    for values in ask(query, {"serial": serial}):
        row = kind(*values)
        rows[row.job].append(row)
    return rows


def _table(kind: type[Any]) -> str:
    return next(name for name, one in TABLES.items() if one is kind)


def _columns(kind: type[Any], of: str) -> str:
    return ", ".join(f'{of}."{name}"' for name, _words in column_types(_table(kind)))


def _has_index(connection: sqlite3.Connection) -> bool:
    """Is there an index of words, and can this SQLite read it? The archive may have come from another machine."""
    made = "SELECT 1 FROM sqlite_master WHERE name = ?"
    readable = "SELECT 1 FROM pragma_module_list WHERE name = 'fts5'"
    return all(connection.execute(*one).fetchone() for one in ((made, (WORD_INDEX,)), (readable, ())))


def _read_through(connection: sqlite3.Connection, wanted: Sequence[Tokens]) -> Iterator[SaidRow]:
    left = MOST_FOUND
    for values in connection.execute(f"SELECT {_columns(SaidRow, 'said')} FROM said {_LATEST_FIRST}"):
        row = SaidRow(*values)
        if holds(tokens_of(row.text), wanted):
            yield row
            left -= 1
        if not left:
            return


def holds(text: Tokens, wanted: Sequence[Tokens]) -> bool:
    """Does the text hold all of these words, the last of them perhaps only begun?"""
    *whole, begun = wanted
    return all(_follows(text, tokens, begun=False) for tokens in whole) and _follows(text, begun, begun=True)


def _follows(text: Tokens, tokens: Tokens, *, begun: bool) -> bool:
    *before, last = tokens
    for at in range(len(text) - len(tokens) + 1):
        *there, end = text[at : at + len(tokens)]
        if there == before and (end.startswith(last) if begun else end == last):
            return True
    return False


def _is_of_a_word(character: str) -> bool:
    category = unicodedata.category(character)
    return category[0] in "LN" or category == "Co"


def _small(character: str) -> str:
    folded = character.casefold()
    return folded if len(folded) == 1 else character.lower()[:1]  # ß stays ß, as in the index
