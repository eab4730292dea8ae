"""Do SQLite, DuckDB and PostgreSQL count the same, whatever the rows are?"""

import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

import duckdb
import psycopg
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from postgres_server import PostgresServer
from random_rows import some_rows

from passcheck.job.archive_rows import TABLES, JobRows
from passcheck.job.counts import Counts
from passcheck.records.archive_counts import counts
from passcheck.records.archive_tables import INDEXES, column_types, create, make_tables, put_rows, rows_of
from passcheck.records.ask_sql import ask_duckdb, ask_postgres, ask_sqlite

DOUBTFUL = {"M1": date(2031, 2, 2), "m1": date(2031, 1, 1), "M-1": date(2031, 3, 3)}
BOARDS = st.sampled_from([None, None, "OV-24P", "Ä-9", "%s :board $board"])
KINDS = st.sampled_from([0, 0, 1])
Database = psycopg.Connection[tuple[Any, ...]]


def into(table: str, place: str) -> str:
    """What puts a row in by place; databases mark a place differently."""
    return f"INSERT INTO {table} VALUES ({', '.join(place for _ in column_types(table))})"


def in_sqlite(rows: Sequence[JobRows], board: str | None, practice: int) -> Counts:
    archive = sqlite3.connect(":memory:")
    make_tables(archive)
    for one in rows:
        put_rows(archive, one)
    found = counts(ask_sqlite(archive), board, DOUBTFUL, practice)
    archive.close()
    return found


def in_duckdb(database: duckdb.DuckDBPyConnection, rows: Sequence[JobRows], board: str | None, practice: int) -> Counts:
    database.begin()
    try:
        for one in rows:
            for table, values in rows_of(one):
                for value in values:
                    database.execute(into(table, "?"), list(value))
        return counts(ask_duckdb(database), board, DOUBTFUL, practice)
    finally:
        database.rollback()


def in_postgres(database: Database, rows: Sequence[JobRows], board: str | None, practice: int) -> Counts:
    with database.transaction(force_rollback=True):
        for one in rows:
            for table, values in rows_of(one):
                for value in values:
                    database.execute(into(table, "%s").encode(), value)
        return counts(ask_postgres(database), board, DOUBTFUL, practice)


def alike(one: Counts, other: Counts) -> bool:
    """Equal, and means to nine digits."""
    means = [
        [number for margin in found.margins for number in (margin.mean, margin.square_mean)] for found in (one, other)
    ]
    bare = [
        replace(found, margins=tuple(replace(margin, mean=0, square_mean=0) for margin in found.margins))
        for found in (one, other)
    ]
    return means[0] == pytest.approx(means[1], rel=1e-9, abs=1e-9) and bare[0] == bare[1]


@pytest.fixture(scope="module")
def in_memory() -> Iterator[duckdb.DuckDBPyConnection]:
    with duckdb.connect() as connection:
        for table in TABLES:
            connection.execute(create(table))
        yield connection


@pytest.fixture(scope="module")
def database(postgres_server: PostgresServer) -> Iterator[Database]:
    """A database that orders texts as people do, which neither of the others does."""
    with psycopg.connect(postgres_server.where, autocommit=True) as any_database:
        like_people = "LOCALE_PROVIDER icu ICU_LOCALE 'en' TEMPLATE template0"
        words = like_people if any_database.info.server_version >= 150000 else ""
        any_database.execute(f"CREATE DATABASE counting {words}".encode())
    with psycopg.connect(postgres_server.database("counting"), autocommit=True) as connection:
        for words in (*map(create, TABLES), *INDEXES):
            connection.execute(words.encode())
        yield connection
    with psycopg.connect(postgres_server.where, autocommit=True) as any_database:
        any_database.execute("DROP DATABASE counting")


@settings(max_examples=60, deadline=None)
@given(rows=some_rows(), board=BOARDS, practice=KINDS)
def test_duckdb_counts_what_sqlite_counts(
    in_memory: duckdb.DuckDBPyConnection, rows: tuple[JobRows, ...], board: str | None, practice: int
) -> None:
    assert alike(in_duckdb(in_memory, rows, board, practice), in_sqlite(rows, board, practice))


@settings(max_examples=60, deadline=None)
@given(rows=some_rows(), board=BOARDS, practice=KINDS)
def test_postgres_counts_what_sqlite_counts(
    database: Database, rows: tuple[JobRows, ...], board: str | None, practice: int
) -> None:
    assert alike(in_postgres(database, rows, board, practice), in_sqlite(rows, board, practice))


@settings(max_examples=30, deadline=None)
@given(rows=some_rows())
def test_rows_come_back_in_whichever_order_they_went_in(rows: tuple[JobRows, ...]) -> None:
    assert alike(in_sqlite(rows, None, 0), in_sqlite(tuple(reversed(rows)), None, 0))


def test_a_percent_sign_of_a_statement_is_no_place_for_a_value(
    in_memory: duckdb.DuckDBPyConnection, database: Database
) -> None:
    sql, values = "SELECT 7 % 4, 'a' WHERE :wanted = 1", {"wanted": 1, "unasked": "x"}
    archive = sqlite3.connect(":memory:")
    asked = ask_sqlite(archive), ask_duckdb(in_memory), ask_postgres(database)
    assert [ask(sql, values) for ask in asked] == [[(3, "a")]] * 3
    archive.close()
