"""What the archive says of a unit's earlier visits, and where people wrote certain words."""

import sqlite3

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from story import Story
from unit_visits import RAIL, attempt_row, filled, found, job_row, left, said, touch

from passcheck.job.archive_rows import JobRows, SaidRow
from passcheck.job.archived import archived
from passcheck.job.commands import Propose
from passcheck.records.archive_visits import MOST_FOUND, search, visits
from passcheck.records.ask_sql import ask_sqlite

OLD = job_row("A31-0001", opened_at="2031-01-05T08:00:00Z", ended="signed off", ended_at="2031-01-20T15:00:00Z")
NEW = job_row("A31-0042", opened_at="2031-03-02T08:00:00Z")
OTHER = job_row("A31-0003", serial="7Q22052")
LETTERS = st.sampled_from("aAbBéÉöß5 -.\"'*():^%_\\")


def written(*texts: str, words: bool = True) -> sqlite3.Connection:
    """An archive with a job for every text, the last one the latest."""
    jobs = [job_row(f"A31-{n:04d}", opened_at=f"2031-01-01T00:{n // 60:02d}:{n % 60:02d}Z") for n in range(len(texts))]
    return filled(*(JobRows(job, said=(said(job, text),)) for job, text in zip(jobs, texts, strict=True)), words=words)


def texts_of(rows: tuple[SaidRow, ...]) -> list[str]:
    return [row.text for row in rows]


def test_all_visits_of_a_unit_come_with_what_belongs_to_each_the_oldest_first() -> None:
    rows = (
        JobRows(NEW, (found(NEW, number=3),), (touch(NEW, "GAUGE"),), (), (said(NEW, "warm only"),)),
        JobRows(OTHER, (found(OTHER),), (touch(OTHER, "PWR"),), (), (said(OTHER, "another unit"),)),
        JobRows(OLD, (found(OLD), left(OLD)), (touch(OLD, "PWR"),), (), (said(OLD, "b", 1), said(OLD, "a", 0))),
    )
    first, second = visits(ask_sqlite(filled(*rows)), "7Q22051")
    assert (first.job, second.job) == (OLD, NEW)
    assert first.attempts == (found(OLD), left(OLD))
    assert [row.block for row in second.touched] == ["GAUGE"]
    assert [row.text for row in first.said] == ["a", "b"]


def test_attempts_that_neither_stand_as_found_nor_count_as_left_stay_out() -> None:
    struck = attempt_row(OLD, RAIL, 4.6, number=7, struck_by="rework 1")
    (visit,) = visits(ask_sqlite(filled(JobRows(OLD, (found(OLD), struck)))), "7Q22051")
    assert visit.attempts == (found(OLD),)


def test_a_serial_is_read_as_a_scanner_or_a_hand_writes_it() -> None:
    archive = filled(JobRows(OLD))
    assert [visit.job.job for visit in visits(ask_sqlite(archive), " *7q22051*\r\n")] == ["A31-0001"]
    assert visits(ask_sqlite(archive), "7Q2205") == ()


def test_jobs_are_reached_by_the_index_of_serials_and_attempts_by_their_job() -> None:
    archive = filled(JobRows(OLD))
    asked: list[str] = []
    archive.set_trace_callback(asked.append)
    visits(ask_sqlite(archive), "7Q22051")
    archive.set_trace_callback(None)
    plans = [row[3] for query in asked for row in archive.execute(f"EXPLAIN QUERY PLAN {query}")]
    assert not [step for step in plans if step.startswith("SCAN")], plans


@pytest.mark.parametrize("words", [True, False], ids=["with the index", "without it"])
def test_what_was_proposed_to_an_owner_is_found_by_the_line(words: bool) -> None:
    story = Story()
    story.do(Propose("t1", ("renew C1 and C2", "polish the lens")))
    archive = filled(archived(story.job, story.history, "5f3a9c01" * 8), words=words)
    assert [(row.kind, row.text) for row in search(archive, "lens pol")] == [("proposed", "polish the lens")]
    assert search(archive, "renew lens") == ()


@pytest.mark.parametrize("words", [True, False], ids=["with the index", "without it"])
@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ("fuel", ["Fuel drops, 5V-rail warm", "the FUEL gauge"]),
        ("gauge fuel", ["the FUEL gauge"]),
        ("gau", ["the FUEL gauge"]),
        ("ga fuel", []),
        ("5v-ra", ["Fuel drops, 5V-rail warm"]),
        ("rail-5v", []),
        ("kalte", ["Kälte: nichts"]),
        ("KÄLTE nich", ["Kälte: nichts"]),
        ('"fuel"', ["Fuel drops, 5V-rail warm", "the FUEL gauge"]),
        ("fuel OR", []),
        ("NOT fuel", []),
        ("fuel* ) ' ; --", ["Fuel drops, 5V-rail warm", "the FUEL gauge"]),
        ("text:fuel", []),
        ("%", []),
        ("", []),
        ("fuel \udcff", ["Fuel drops, 5V-rail warm", "the FUEL gauge"]),
        ("fuel \0", ["Fuel drops, 5V-rail warm", "the FUEL gauge"]),
    ],
)
def test_all_words_must_occur_and_none_of_them_is_a_command(asked: str, expected: list[str], words: bool) -> None:
    archive = written("the FUEL gauge", "Fuel drops, 5V-rail warm", "Kälte: nichts", words=words)
    assert texts_of(search(archive, asked)) == expected


@pytest.mark.parametrize("words", [True, False])
def test_the_latest_two_hundred_are_given(words: bool) -> None:
    archive = written(*(f"note {number}" for number in range(MOST_FOUND + 5)), words=words)
    texts = texts_of(search(archive, "note"))
    assert len(texts) == MOST_FOUND
    assert texts[0] == f"note {MOST_FOUND + 4}"


@given(st.lists(st.text(LETTERS, max_size=12), max_size=4), st.text(LETTERS, min_size=1, max_size=8))
@example(["ab-é"], "B-e")
def test_words_mean_the_same_with_the_index_as_without_it(texts: list[str], asked: str) -> None:
    assert texts_of(search(written(*texts), asked)) == texts_of(search(written(*texts, words=False), asked))


@given(st.text(max_size=30))
def test_no_words_whatever_upset_the_search(asked: str) -> None:
    search(written("Fuel drops"), asked)
