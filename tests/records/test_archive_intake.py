"""Is a sealed journal that is hashed once taken in as one whose lines are walked, and what makes no job left out?"""

from dataclasses import replace
from pathlib import Path

import pytest
from archive_shop import STAMP, ArchiveShop
from journal_lines import a_line
from sample_set import logs_of, sample_set, sets

from passcheck.job.journal_line import Line
from passcheck.records.archive_intake import UNREAD, TakenIn, ToRead, read
from passcheck.records.archive_journals import journals
from passcheck.records.archive_ledger import LedgerAsked
from passcheck.records.board_folder import BoardFolder
from passcheck.records.disk import Disk
from passcheck.records.shop import LogFolder

SAMPLES = [(name, job) for name in sets() for job in sample_set(name).about]


def to_read(logs: LogFolder, job: str) -> ToRead:
    return LedgerAsked(logs).to_read(job, journals(logs.root)[job])


def taken(journal: ToRead) -> TakenIn:
    return read(journal, BoardFolder.read, Disk())


@pytest.mark.parametrize(("name", "job"), SAMPLES, ids=[f"{name}-{job}" for name, job in SAMPLES])
def test_what_the_ledger_vouches_for_gives_the_rows_that_a_walk_gives(name: str, job: str) -> None:
    journal = to_read(logs_of(sample_set(name).folder, job), job)
    quick = taken(journal)
    sealing = [entry for entry in journal.said if entry.event == "sealed"]
    walked = taken(replace(journal, said=tuple(entry for entry in journal.said if entry.event != "sealed")))
    assert quick.rows == walked.rows != ()
    assert (quick.digest, quick.stands_on) == (walked.digest, walked.stands_on)
    assert (quick.standing == "sealed") == bool(sealing)


def appended(shop: ArchiveShop, job: str, *lines: Line) -> TakenIn:
    writer, held = shop.logs().open_job(job)
    writer.append([replace(one, number=len(held) + place) for place, one in enumerate(lines)])
    writer.close()
    return taken(to_read(shop.logs(), job))


def test_an_attempt_whose_number_was_given_before_makes_no_job(tmp_path: Path) -> None:
    """Hashes and ledger are right: another program wrote it so. It must not take the archive from all other jobs."""
    shop = ArchiveShop(tmp_path / "logs")
    job = shop.begins()
    shop.goes_on(job, 6)
    _writer, held = shop.logs().open_job(job)
    _writer.close()
    (tried, *_) = [line for line in held if line.event == "attempt judged"]
    found = appended(shop, job, replace(tried, at=STAMP.at))
    assert (found.standing, found.rows) == (UNREAD, ())
    assert "two rows of 'attempt' have one number" in found.fault
    shop.whole_job()
    assert list(shop.archive().catch_up().unread) == [job]


@pytest.mark.parametrize(
    ("event", "facts"),
    [("attempt judged", {"attempt": 1}), ("job opened", {"job": "A31-0001"}), ("run closed", {"run": "one"})],
)
def test_events_that_make_no_job_are_told_and_hide_no_other(
    tmp_path: Path, event: str, facts: dict[str, object]
) -> None:
    shop = ArchiveShop(tmp_path / "logs")
    found = appended(shop, shop.begins(), a_line(1, event, **facts))
    assert (found.standing, found.rows) == (UNREAD, ())
    assert found.fault.startswith("A31-0001.jsonl: ")
