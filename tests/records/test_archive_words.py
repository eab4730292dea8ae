"""Does the index of words find what people wrote, and follow when rows are replaced?"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing

import pytest

from passcheck.job.archive_rows import JobRow, JobRows, SaidRow
from passcheck.records.archive_tables import make_tables, put_rows
from passcheck.records.archive_words import can_index_words, has_words, make_words, words_agree

with closing(sqlite3.connect(":memory:")) as _looked_at:
    pytestmark = pytest.mark.skipif(not can_index_words(_looked_at), reason="this machine's SQLite lacks FTS5")


@pytest.fixture
def archive() -> Iterator[sqlite3.Connection]:
    connection = sqlite3.connect(":memory:")
    make_tables(connection)
    put_rows(connection, written("A31-0001", "Zeiger läuft rückwärts", "C7 leaks"))
    make_words(connection)
    yield connection
    connection.close()


def written(job: str, *texts: str) -> JobRows:
    row = JobRow(
        job, "A", "7Q22051", "LB-1", 1, "", "", "", "", "", "t1", "", "", "", "", "", None, "", 0, ""
    )  # fmt: skip
    said = tuple(SaidRow(job, place, "note", "", "t1", "", text, "7Q22051") for place, text in enumerate(texts))
    return JobRows(row, said=said)


def found(connection: sqlite3.Connection, words: str) -> list[tuple[str, str]]:
    asked = "SELECT said.job, said.text FROM said_words JOIN said ON said.rowid = said_words.rowid"
    return connection.execute(f"{asked} WHERE said_words MATCH ? ORDER BY said.job, said.place", (words,)).fetchall()


def test_a_word_is_found_whatever_its_case_and_accents(archive: sqlite3.Connection) -> None:
    assert has_words(archive)
    assert found(archive, '"lauft"') == [("A31-0001", "Zeiger läuft rückwärts")]
    assert found(archive, '"LEAKS" "c7"') == [("A31-0001", "C7 leaks")]
    assert words_agree(archive)


def test_rows_that_are_replaced_take_their_words_with_them(archive: sqlite3.Connection) -> None:
    put_rows(archive, written("A31-0001", "C7 replaced"))
    put_rows(archive, written("A31-0002", "C7 leaks here too"))
    assert found(archive, '"leaks"') == [("A31-0002", "C7 leaks here too")]
    assert found(archive, '"lauft"') == []
    assert words_agree(archive)


def test_words_that_no_longer_follow_from_the_texts_are_noticed(archive: sqlite3.Connection) -> None:
    archive.execute("DROP TRIGGER said_in")
    put_rows(archive, written("A31-0002", "behind the index's back"))
    assert not words_agree(archive)


def test_an_archive_without_the_index_says_so() -> None:
    bare = sqlite3.connect(":memory:")
    make_tables(bare)
    assert not has_words(bare)
    assert words_agree(bare)
    bare.close()
