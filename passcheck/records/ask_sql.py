"""How is a statement with values named `:name` put to each of the databases that an archive may lie in?

A statement asks and changes nothing. Each adapter gives a function of the statement and its values, which are bound by
the database and never become part of the text. Whoever needs several answers of one moment begins a transaction first.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, Final, TypeAlias

if TYPE_CHECKING:
    import sqlite3

    from duckdb import DuckDBPyConnection
    from psycopg import Connection

Rows: TypeAlias = list[tuple[Any, ...]]
AskSql: TypeAlias = Callable[[str, Mapping[str, object]], Rows]

_NAMED: Final = re.compile(r":([a-z_]+)\b")
"""No statement of ours has a colon anywhere else."""


def ask_sqlite(connection: sqlite3.Connection) -> AskSql:
    """SQLite reads `:name` itself."""

    def ask(sql: str, values: Mapping[str, object]) -> Rows:
        return connection.execute(sql, dict(values)).fetchall()

    return ask


def ask_duckdb(connection: DuckDBPyConnection) -> AskSql:
    """DuckDB reads `$name`, and refuses values that the statement doesn't name."""

    def ask(sql: str, values: Mapping[str, object]) -> Rows:
        named = {name: values[name] for name in _NAMED.findall(sql)}
        return connection.execute(_NAMED.sub(r"$\1", sql), named).fetchall()

    return ask


def ask_postgres(connection: Connection[tuple[Any, ...]]) -> AskSql:
    """The client of PostgreSQL reads `%(name)s`, and a percent sign of the statement's own doubled."""

    def ask(sql: str, values: Mapping[str, object]) -> Rows:
        words = _NAMED.sub(r"%(\1)s", sql.replace("%", "%%"))
        return connection.execute(words.encode(), dict(values)).fetchall()

    return ask
