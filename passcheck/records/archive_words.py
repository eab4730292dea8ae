"""How are the words of what people wrote found without reading all of it?

An index of words over `said.text`, where this machine's SQLite has FTS5; where it hasn't, every text is looked through.
The index holds no text of its own: a row of it is the row of `said` with the same rowid, and triggers keep the two in
step within one transaction. Case and accents don't count, `lauft` finds `läuft`.
"""

import sqlite3
from typing import Final

WORDS: Final = "said_words"
_CREATE: Final = (
    f"CREATE VIRTUAL TABLE {WORDS} USING fts5(text, content='said', tokenize='unicode61 remove_diacritics 2')"
)
_FILL: Final = f"INSERT INTO {WORDS} ({WORDS}) VALUES ('rebuild')"
_ON_INSERT: Final = f"""
CREATE TRIGGER said_in AFTER INSERT ON said BEGIN
  INSERT INTO {WORDS} (rowid, text) VALUES (new.rowid, new.text);
END"""
_ON_DELETE: Final = f"""
CREATE TRIGGER said_out AFTER DELETE ON said BEGIN
  INSERT INTO {WORDS} ({WORDS}, rowid, text) VALUES ('delete', old.rowid, old.text);
END"""
_AGREES: Final = f"INSERT INTO {WORDS} ({WORDS}, rank) VALUES ('integrity-check', 1)"


def can_index_words(connection: sqlite3.Connection) -> bool:
    """Whether this machine's SQLite can keep the index."""
    return bool(connection.execute("SELECT sqlite_compileoption_used('ENABLE_FTS5')").fetchone()[0])


def has_words(connection: sqlite3.Connection) -> bool:
    """Whether this archive has the index: ask it, else look through `said.text`."""
    found = connection.execute("SELECT 1 FROM sqlite_master WHERE name = ?", (WORDS,)).fetchone()
    return found is not None


def make_words(connection: sqlite3.Connection) -> None:
    """Make the index of all that is in `said`, once the rows are in; nothing where SQLite can't."""
    if not can_index_words(connection):
        return
    for statement in (_CREATE, _FILL, _ON_INSERT, _ON_DELETE):
        connection.execute(statement)


def words_agree(connection: sqlite3.Connection) -> bool:
    """Whether the index holds just the words of `said`; True where there is none."""
    if not has_words(connection):
        return True
    try:
        connection.execute(_AGREES)
    except sqlite3.DatabaseError:
        return False
    return True
