"""Does the archive hold what the journals hold, whatever happens to them and to it?"""

import shutil
from pathlib import Path

import pytest
from archive_shop import SET, STORIES, ArchiveShop, contents, same_as_made_anew, serials, two_jobs
from sample_set import JOURNALS, logs_of, sample_set

from passcheck.bench.ports import Archive
from passcheck.records.archive import SqliteArchive
from passcheck.records.asked_archive import AskedArchive
from passcheck.records.board_folder import BoardFolder

ROOT = Path(__file__).parents[2]


@pytest.fixture
def shop(tmp_path: Path) -> ArchiveShop:
    """Two jobs, one of them sealed."""
    return two_jobs(tmp_path / "logs")


def test_every_old_sample_is_taken_in(tmp_path: Path) -> None:
    copied = Path(shutil.copytree(JOURNALS / SET, tmp_path / "logs"))
    for practice in (False, True):
        jobs = [job for job in sample_set(SET).about if job.startswith("P") == practice]
        archive = SqliteArchive(logs_of(copied, jobs[0]), BoardFolder.read)
        done = archive.catch_up()
        assert (done.taken, dict(done.unread)) == (len(jobs), {})
        assert [row[0] for row in contents(archive.path)["job"]] == sorted(jobs)
        assert archive.check().differences == ()


def test_a_journal_that_grew_replaces_its_rows_and_no_other_is_read(shop: ArchiveShop) -> None:
    assert shop.archive().catch_up().taken == 2
    assert shop.archive().catch_up().taken == 0
    shop.goes_on("A31-0002", 3)
    assert shop.archive().catch_up().taken == 1
    same_as_made_anew(shop)


def test_a_bench_without_jobs_has_an_answer_and_no_file(tmp_path: Path) -> None:
    archive = ArchiveShop(tmp_path / "logs").archive()
    assert archive.ask(lambda connection: connection.execute("SELECT COUNT(*) FROM job").fetchone()) == (0,)
    assert not archive.path.exists()
    assert archive.unread() == ()


def test_an_altered_journal_gives_no_rows_and_says_why_until_it_is_whole_again(shop: ArchiveShop) -> None:
    shop.archive().catch_up()
    shop.alter("A31-0001")
    done = shop.archive().catch_up()
    assert list(done.unread) == ["A31-0001"]
    assert "altered outside passcheck" in done.unread["A31-0001"]
    assert serials(shop) == ["A31-0002"]
    assert shop.archive().unread() == ("A31-0001",)
    same_as_made_anew(shop)
    shop.put_back("A31-0001")
    assert dict(shop.archive().catch_up().unread) == {}
    assert serials(shop) == ["A31-0001", "A31-0002"]


def test_two_journals_that_were_swapped_are_each_another_s(shop: ArchiveShop) -> None:
    shop.archive().catch_up()
    one, other = (shop.path(job) for job in ("A31-0001", "A31-0002"))
    first, second = one.read_bytes(), other.read_bytes()
    one.write_bytes(second)
    other.write_bytes(first)
    assert list(shop.archive().catch_up().unread) == ["A31-0001", "A31-0002"]
    assert serials(shop) == []


def test_a_job_that_was_walked_again_under_its_number_is_refused_by_the_ledger(
    shop: ArchiveShop, tmp_path: Path
) -> None:
    """Its own hashes are right; only the ledger knows of the one that was sealed."""
    shop.archive().catch_up()
    another = ArchiveShop(tmp_path / "elsewhere")
    another.whole_job(STORIES[2])
    shutil.copy(another.path("A31-0001"), shop.path("A31-0001"))
    assert list(shop.archive().catch_up().unread) == ["A31-0001"]


def test_what_the_ledger_says_later_counts_although_the_journal_looks_as_it_did(shop: ArchiveShop) -> None:
    shop.archive().catch_up()
    ledger = shop.root / "ledger.jsonl"
    lines = ledger.read_bytes().splitlines(keepends=True)
    ledger.write_bytes(b"".join(lines[:-1]))  # the last of them told of the second job
    assert shop.archive().catch_up().taken == 2
    same_as_made_anew(shop)


def test_a_journal_that_is_gone_takes_its_rows_with_it_and_is_told(shop: ArchiveShop) -> None:
    shop.archive().catch_up()
    shop.take_away("A31-0001")
    assert shop.archive().catch_up().gone == ("A31-0001",)
    assert serials(shop) == ["A31-0002"]
    same_as_made_anew(shop)


def test_a_folder_in_a_journal_s_place_is_tried_at_every_turn_and_hides_no_other(shop: ArchiveShop) -> None:
    shop.take_away("A31-0001")
    shop.path("A31-0001").mkdir()
    for _ in range(2):
        done = shop.archive().catch_up()
        assert list(done.unread) == ["A31-0001"]
    assert serials(shop) == ["A31-0002"]


def test_practice_is_kept_apart(shop: ArchiveShop) -> None:
    practice = ArchiveShop(shop.root, practice=True)
    job = practice.begins()
    assert (job, practice.archive().catch_up().taken) == ("P31-0001", 1)
    assert practice.archive().path == shop.root / "practice" / "archive.sqlite"
    shop.archive().catch_up()
    assert serials(shop) == ["A31-0001", "A31-0002"]
    copied = shop.path("A31-0001").with_name("P31-0001.jsonl")
    shutil.copy(practice.path(job), copied)
    assert list(shop.archive().catch_up().unread) == ["P31-0001"]


def test_every_question_of_the_port_is_answered_once_it_has_caught_up(shop: ArchiveShop) -> None:
    archive: Archive = AskedArchive(shop.archive())
    assert len(archive.visits("7Q22051")) == 2
    shop.whole_job()
    assert {visit.job.job for visit in archive.visits("7q22051")} == {"A31-0001", "A31-0002", "A31-0003"}
    assert {found.job for found in archive.search("restarts engine")} == {"A31-0001", "A31-0003"}
    assert archive.counts(None, {}).jobs == 3
    practice = ArchiveShop(shop.root, practice=True)
    practice.begins()
    practised = AskedArchive(practice.archive(), practice=True)
    assert (practised.counts(None, {}).jobs, archive.counts(None, {}).jobs) == (1, 3)
