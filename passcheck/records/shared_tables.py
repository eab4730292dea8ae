"""In which tables does a shared archive keep journals and rows, and are they in the form that this program makes?

The rows are those of `archive_tables.py`, with two tables beside them: what was published, and the words of each text
as they are looked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

from passcheck.errors import FileFault
from passcheck.job.archive_rows import TABLES
from passcheck.records.archive_intake import Rows
from passcheck.records.archive_marks import ARCHIVE_FORMAT, tables_digest
from passcheck.records.archive_tables import INDEXES, column_types, create
from passcheck.records.archive_visits import tokens_of

if TYPE_CHECKING:
    from psycopg import Connection

    Server = Connection[tuple[Any, ...]]

BARE: Final = "said_bare"
_OWN_TABLES: Final = (
    "CREATE TABLE IF NOT EXISTS archive_format (format BIGINT NOT NULL, tables TEXT NOT NULL)",
    "CREATE TABLE IF NOT EXISTS published "
    "(job TEXT PRIMARY KEY, bench TEXT NOT NULL, digest TEXT NOT NULL, journal BYTEA NOT NULL)",
    f"CREATE TABLE IF NOT EXISTS {BARE} "
    "(job TEXT NOT NULL, place BIGINT NOT NULL, bare TEXT NOT NULL, PRIMARY KEY (job, place))",
)
_LOCK: Final = 7_270_417
"""Of whoever makes the tables; any number would do that no other program takes on this database."""


def make_tables(server: Server) -> None:
    """Every table that is missing; another bench that does the same is waited for."""
    server.execute("SELECT pg_advisory_xact_lock(%s)", (_LOCK,))
    server.execute("CREATE SCHEMA IF NOT EXISTS passcheck")
    for statement in (*map(create, TABLES), *INDEXES, *_OWN_TABLES):
        server.execute(sql(statement))
    put = "INSERT INTO archive_format SELECT %s, %s WHERE NOT EXISTS (SELECT 1 FROM archive_format)"
    server.execute(put, (ARCHIVE_FORMAT, tables_digest()))


def same_format(server: Server) -> None:
    """Raise FileFault where the rows are of another form than this program makes."""
    found = server.execute("SELECT format, tables FROM archive_format").fetchall()
    if found != [(ARCHIVE_FORMAT, tables_digest())]:
        raise FileFault(
            "The shared archive has rows of another form than this version of passcheck makes. Nothing was changed: "
            "use the same version at all benches, then 'passcheck archive rebuild --shared'."
        )


def put_rows(server: Server, jobs: Sequence[Rows]) -> None:
    """COPY takes a tenth of the time of single rows."""
    values: dict[str, list[tuple[Any, ...]]] = {table: [] for table in TABLES}
    for rows in jobs:
        for table, found in rows:
            values[table] += found
    text = [name for name, _type in column_types("said")].index("text")
    bare = [(row[0], row[1], _bare(row[text])) for row in values["said"]]
    for table, names, found in (
        *((table, [name for name, _type in column_types(table)], found) for table, found in values.items()),
        (BARE, ["job", "place", "bare"], bare),
    ):
        with server.cursor().copy(sql(f"COPY {table} ({', '.join(names)}) FROM STDIN")) as copy:
            for row in found:
                copy.write_row(tuple(map(storable, row)))


def storable(value: Any) -> Any:
    """PostgreSQL's texts hold any character but this one; the journal that lies there has it still."""
    return value.replace("\x00", "\N{SYMBOL FOR NULL}") if isinstance(value, str) else value


def _bare(text: str) -> str:
    """The words of a text as they are looked for, each between blanks."""
    return f" {' '.join(tokens_of(text))} "


def sql(statement: str) -> Any:
    """Names of tables and columns come from our own classes; values are always bound."""
    return statement.encode()
